package glass

import (
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"lehr/glass/strict"
	"lehr/glass/unit"
)

// loader turns one file into glasses.
type loader struct {
	file    *strict.File
	name    string            // of the file
	taken   []*Glass          // the built-in glasses: their names may not be used, and like may name them
	cites   map[string]Source // of the built-in glasses
	form    file
	used    map[string]bool // sources
	partial bool            // the text has no source list
	at      int             // index of the glass being read
}

func (l *loader) load(r io.Reader) (*Table, error) {
	l.used = map[string]bool{}
	var err error
	if l.file, err = strict.Decode(r, l.name, &l.form); err != nil {
		return nil, err
	}
	if len(l.form.Glass) == 0 {
		return nil, l.file.At(nil, "has no [[glass]]", "begin with [[glass]] and name = ...", nil)
	}
	t := &Table{Sources: l.form.Source}
	for i := range l.form.Glass {
		l.at = i
		g, err := l.glass(&l.form.Glass[i], t.Glasses)
		if err != nil {
			return nil, err
		}
		t.Glasses = append(t.Glasses, g)
	}
	if l.partial {
		return t, nil
	}
	return t, l.checkSources()
}

// path returns the path of a key of the glass being read.
func (l *loader) path(key ...string) []string {
	return append([]string{"glass", strconv.Itoa(l.at)}, key...)
}

// fail reports a fault of the glass being read at the place of a path.
func (l *loader) fail(path []string, hint, format string, args ...any) error {
	err := fmt.Errorf(format, args...)
	message := err.Error()
	if len(l.form.Glass) > 1 {
		message = l.numbered(message)
	}
	return l.file.At(path, message, hint, errors.Unwrap(err))
}

// numbered says which glass of the file a fault is of.
func (l *loader) numbered(message string) string { return fmt.Sprintf("glass %d: %s", l.at+1, message) }

var namePattern = regexp.MustCompile(`^[a-z0-9][a-z0-9.-]{0,39}$`)

func (l *loader) glass(f *form, before []*Glass) (*Glass, error) {
	g := &Glass{Name: f.Name, Title: f.Title, Words: f.Words, Note: f.Note, Relaxation: f.Relaxation, Like: f.Like, Family: f.Family,
		Alternatives: map[string][]Value{}}
	if err := l.names(g, before); err != nil {
		return nil, err
	}
	for _, row := range f.values() {
		if err := l.property(g, row.key, row.entries); err != nil {
			return nil, err
		}
	}
	if err := l.absorption(g, f.Absorption); err != nil {
		return nil, err
	}
	if err := l.pins(g, f); err != nil {
		return nil, err
	}
	if err := l.like(g); err != nil {
		return nil, err
	}
	if err := l.spectra(g, f); err != nil {
		return nil, err
	}
	return g, l.check(g)
}

// names checks the names of a glass against those in use.
func (l *loader) names(g *Glass, before []*Glass) error {
	switch {
	case g.Name == "":
		return l.file.At(l.path("name"), l.numbered("has no name"), `write name = "my-clear"`, nil) // also where it is the only one
	case !namePattern.MatchString(g.Name):
		return l.fail(l.path("name"), `write it like "my-clear-104"`, "name %s: must be of small letters, digits, hyphens and points, at most 40", g.Name)
	}
	if g.Title == "" {
		g.Title = g.Name
	}
	for _, word := range append([]string{g.Name}, g.Words...) {
		key := "words"
		if word == g.Name {
			key = "name"
		}
		if strings.TrimSpace(word) == "" {
			return l.fail(l.path(key), "", "words: has an empty word")
		}
		if other := lookup(l.taken, word); other != nil {
			return l.fail(l.path(key), "choose another name", "%s %s: is what lehr calls %s", key, word, other.Name)
		}
		if other := lookup(before, word); other != nil {
			return l.fail(l.path(key), "choose another name", "%s %s: is already a name of glass %s", key, word, other.Name)
		}
	}
	return nil
}

// property reads the honest values of one key and puts the one in use in
// place.
func (l *loader) property(g *Glass, key string, list entries) error {
	if len(list) == 0 {
		if list != nil {
			return l.fail(l.path(key), "leave the key out if the value is not known", "%s: has no value", key)
		}
		return nil
	}
	use := 0
	for i := range list {
		if list[i].Use || len(list) == 1 {
			use++
		}
	}
	if use != 1 {
		return l.fail(l.path(key), "add use = true to the one that counts", "%s: has %d values, and %d of them have use = true", key, len(list), use)
	}
	for i := range list {
		e := &list[i]
		p, err := l.value(spot{key, i}, e)
		if err != nil {
			return err
		}
		switch {
		case !e.Use && len(list) > 1:
			g.Alternatives[key] = append(g.Alternatives[key], p.Value)
		case key == "conductivity":
			g.Conductivity = p
		case key == "conductivity_phonon":
			g.ConductivityPhonon = p
		case key == "specific_heat":
			g.SpecificHeat = p
		case key == "garage":
			g.Garage = Holding{p.Low, p.High, p.Value}
		default:
			*g.value(key) = p.Value
		}
	}
	return nil
}

// spot is one entry of a key: where it stands is worked out only for messages.
type spot struct {
	key string
	i   int
}

// in returns the path of an entry, or of a key inside it.
func (l *loader) in(s spot, inside ...string) []string {
	path := l.path(s.key)
	if p := l.path(s.key, strconv.Itoa(s.i)); l.file.Has(p...) {
		path = p
	}
	if p := append(slices.Clone(path), inside...); l.file.Has(p...) {
		path = p
	}
	return path
}

// value reads one entry.
func (l *loader) value(at spot, e *entry) (Property, error) {
	key := at.key
	v := Value{Text: strings.TrimSpace(string(e.Value)), Over: e.Over, Source: e.Source, Status: e.Status, Note: e.Note}
	if e.bare {
		v.Status = Given
	} else if err := l.provenance(at, e.Source, e.Status); err != nil {
		return Property{}, err
	}
	p := Property{Value: v, name: strings.ReplaceAll(key, "_", " ")}
	var err error
	temperatureDependent := quantities[key] == conductivity || key == "specific_heat"
	if e.Over != "" && temperatureDependent {
		if p.Low, p.High, err = parseRange(e.Over); err != nil {
			return p, l.fail(l.in(at, "over"), "", "%s: over %w", key, err)
		}
	}
	if n := e.formulas(); n > 1 || n == 1 && (e.Value != "" || !temperatureDependent) {
		return p, l.fail(l.in(at), "", "%s: may have one value or, for conductivity and specific_heat, one formula", key)
	} else if n == 1 {
		return l.formula(at, e, p)
	}
	switch {
	case key == "garage":
		if p.Low, p.High, err = parseRange(v.Text); err == nil {
			p.Number = p.Low.Kelvin()
		}
	case v.Text == "":
		return p, l.fail(l.in(at), "leave the key out if the value is not known", "%s: has no value", key)
	default:
		p.Number, p.Spread, err = quantities[key].parse(v.Text)
	}
	if err != nil {
		return p, l.fail(l.in(at, "value"), "", "%s %w", key, err)
	}
	if p.Number == 0 && key != "poisson" && key != "viscosity_limit" {
		return p, l.fail(l.in(at, "value"), "leave the key out if the value is not known", "%s %s: must not be zero", key, v.Text)
	}
	if temperatureDependent {
		return constant(p), nil
	}
	return p, nil
}

// statuses are those that a table of a file may have.
var statuses = []string{string(Verified), string(Corroborated), string(Quoted), string(Memory), string(Derived), string(CommonPractice)}

// provenance checks status and source of an entry.
func (l *loader) provenance(at spot, source string, status Status) error {
	key := at.key
	switch {
	case status == "":
		return l.fail(l.in(at), "add status = ... with one of: "+strings.Join(statuses, ", "), "%s: has no status", key)
	case !slices.Contains(statuses, string(status)):
		return l.fail(l.in(at, "status"), "must be one of: "+strings.Join(statuses, ", "), "%s: status %s: is unknown", key, status)
	case source == "" && (status == Verified || status == Corroborated || status == Quoted):
		return l.fail(l.in(at), "add source = ... and a [source.KEY] table", "%s: is %s, and has no source", key, status)
	case source != "" && status == CommonPractice:
		return l.fail(l.in(at, "source"), `with a source the status is "verified"`, "%s: is common practice, and has a source", key)
	case source == "" || l.partial:
		return nil
	}
	if _, ok := l.form.Source[source]; !ok {
		hint := fmt.Sprintf("add [source.%s] with cite and read", source)
		var known []string
		for k := range l.form.Source {
			known = append(known, k)
		}
		slices.Sort(known)
		if near := strict.Nearest(source, known); near != "" {
			hint = "did you mean " + near + "?"
		}
		return l.fail(l.in(at, "source"), hint, "%s: source %s: is not in the file", key, source)
	}
	l.used[source] = true
	return nil
}

// checkSources checks the source list.
func (l *loader) checkSources() error {
	var keys []string
	for key := range l.form.Source {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	for _, key := range keys {
		s, at := l.form.Source[key], []string{"source", key}
		switch _, err := time.Parse(time.DateOnly, s.Read); {
		case s.Cite == "":
			return l.file.At(at, fmt.Sprintf("source %s: has no cite", key), "name the author or body, year and title", nil)
		case s.Read != "" && err != nil:
			return l.file.At(append(at, "read"), fmt.Sprintf("source %s: read %s: is not a day", key, s.Read), `write it like "2026-11-25"`, nil)
		case !l.used[key]:
			return l.file.At(at, fmt.Sprintf("source %s: is used by no value", key), "remove it, or name it in the value it supports", nil)
		}
	}
	return nil
}

// formulas counts the formulas of an entry.
func (e *entry) formulas() int {
	n := 0
	for _, has := range []bool{e.Polynomial != nil, e.SharpGinther != nil, e.Molar != nil} {
		if has {
			n++
		}
	}
	return n
}

// formula reads the formula of an entry; p has its range and provenance.
func (l *loader) formula(at spot, e *entry, p Property) (Property, error) {
	key := at.key
	q, spread := quantities[key], 0.0
	unitText := q.spellings[0]
	if e.Spread != "" {
		number, ok := strings.CutSuffix(strings.TrimSpace(e.Spread), "%")
		x, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
		if !ok || err != nil || x < 0 || x > 100 {
			return p, l.fail(l.in(at, "spread"), `write it like "5 %"`, "%s: spread %s: must be from 0 %% to 100 %%", key, e.Spread)
		}
		spread = x / 100
	}
	if p.High.IsZero() {
		return p, l.fail(l.in(at), `write over = "20-600 °C"`, "%s: has a formula without the range it holds for", key)
	}
	var f func(float64) float64
	var text string
	switch {
	case e.Polynomial != nil:
		if n := len(e.Polynomial); n == 0 || n > 5 {
			return p, l.fail(l.in(at, "polynomial"), "", "%s: polynomial: must have 1 to 5 coefficients", key)
		}
		f, text = polynomial(e.Polynomial), polynomialText(e.Polynomial)+" "+unitText
		if len(e.Polynomial) > 1 {
			text += ", t in °C"
		}
	case key != "specific_heat":
		return p, l.fail(l.in(at), "", "%s: the formula is one for specific_heat", key)
	case e.SharpGinther != nil:
		m := *e.SharpGinther
		f = sharpGinther(m.A, m.B, m.C)
		text = fmt.Sprintf("(%s%s t%s t²) / (1%s t)² %s, t in °C", figure(m.C), signed(2*m.A), signed(m.A*m.B), signed(m.B), unitText)
	default:
		if len(e.Molar) != 4 || e.MolarMass <= 0 {
			return p, l.fail(l.in(at), "", "%s: molar: must have 4 coefficients, and molar_mass in kg/mol", key)
		}
		f = molarHeat(e.Molar, e.MolarMass)
		text = fmt.Sprintf("(%s%s T%s/T²%s/√T) / %s %s, T in K", figure(e.Molar[0]), signed(e.Molar[1]), signed(e.Molar[2]),
			signed(e.Molar[3]), figure(e.MolarMass), unitText)
	}
	const steps = 64
	for i := range steps + 1 {
		t := p.Low.Add(p.High.Sub(p.Low) * unit.Delta(i) / steps)
		if x := f(t.Kelvin()); !(x >= q.low && x <= q.high) { // also true for NaN
			return p, l.fail(l.in(at), "", "%s: is %.4g %s at %s, and must be from %s", key, x, unitText, t.Text(unit.Metric), q.limits)
		}
	}
	return formula(p, f, text, spread), nil
}
