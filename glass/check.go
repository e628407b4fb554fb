package glass

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lehr/glass/strict"
	"lehr/glass/unit"
)

// pins reads what fixes the model: relaxation, viscosity, surface.
func (l *loader) pins(g *Glass, f *form) error {
	switch g.Relaxation {
	case "":
		g.Relaxation = "six-term"
	case "maxwell", "six-term":
	default:
		return l.fail(l.path("relaxation"), "", `relaxation %s: must be "maxwell" or "six-term"`, g.Relaxation)
	}
	switch f.Surface {
	case "":
	case "follows kiln":
		g.SurfaceFollows = true
	default:
		return l.fail(l.path("surface"), "leave it out for heat transfer by air and radiation", `surface %s: can only be "follows kiln"`, f.Surface)
	}
	switch p := f.Viscosity; {
	case p == nil:
	case p.name == strainAnnealSoften || p.name == annealSoftenWork:
		g.Viscosity = p.name
	case p.name != "":
		return l.fail(l.path("viscosity"), "", `viscosity %s: must be %q, %q or { A = , B = , T0 = }`, p.name, strainAnnealSoften, annealSoftenWork)
	default:
		return l.given(g, p)
	}
	return nil
}

// stiffest is log10 of the viscosity [Pa·s] at which a given curve without a
// stated range begins.
const stiffest = 60

// given reads a curve by its coefficients.
func (l *loader) given(g *Glass, p *pin) error {
	path := l.path("viscosity")
	if p.A == nil || p.B == nil {
		return l.fail(path, `write { A = -3.02, B = 6987, T0 = "94.9 °C" }`, "viscosity: must have A, B and T0")
	}
	c := Curve{Name: givenCurve, A: *p.A, B: *p.B, Low: unit.Kelvin(1), High: unit.Kelvin(3000)}
	if c.B < 0 || c.B > 1e6 || c.A < -60 || c.A > 40 {
		return l.fail(path, "", "viscosity: must have A from -60 to 40 and B from 0 to 1e6 K")
	}
	if c.B > 0 {
		number, unitText := string(p.T0), ""
		for _, u := range []string{"°C", "K", "°F"} {
			if s, ok := strings.CutSuffix(number, u); ok {
				number, unitText = strings.TrimSpace(plain.Replace(s)), u
			}
		}
		x, err := strconv.ParseFloat(number, 64)
		if err != nil || x < -1e5 || x > 1e4 || unitText == "" {
			return l.fail(append(path, "T0"), `write T0 = "94.9 °C"`, "viscosity: T0 %s: must be a temperature with its unit", p.T0)
		}
		switch unitText {
		case "K":
			c.T0 = x
		case "°C":
			c.T0 = unit.Celsius(x).Kelvin()
		default:
			c.T0 = unit.Fahrenheit(x).Kelvin()
		}
		c = c.from(unit.Kelvin(c.T0 + c.B/(stiffest-c.A)))
		if !c.Low.Less(c.High) {
			return l.fail(path, "", "viscosity: T0 %s: is too hot for a glass", p.T0)
		}
	}
	if p.Over != "" {
		low, high, err := parseRange(p.Over)
		if err != nil {
			return l.fail(append(path, "over"), "", "viscosity: over %w", err)
		}
		if low.Less(c.Low) {
			return l.fail(append(path, "over"), "", "viscosity: over %s: must begin above %s", p.Over, c.Low)
		}
		c.Low, c.High = low, high
	}
	g.Viscosity, g.Pin = givenCurve, &c
	// The fixed points of a given curve follow from it, unless they are stated.
	for _, point := range []struct {
		value *Value
		log10 float64
	}{{&g.Strain, LogStrain}, {&g.Anneal, LogAnneal}, {&g.Soften, logSoften}, {&g.Work, logWork}} {
		if t, err := c.At(point.log10); err == nil && !point.value.Known() {
			*point.value = Value{Number: t.Kelvin(), Text: t.Text(unit.Metric), Status: Derived, Note: "from the given viscosity"}
		}
	}
	return nil
}

// like fills what a glass does not say from the built-in one it is like.
func (l *loader) like(g *Glass) error {
	if g.Like == "" {
		return nil
	}
	other := lookup(l.taken, g.Like)
	if other == nil {
		var names []string
		for _, t := range l.taken {
			names = append(names, t.Name)
		}
		hint := "known are: " + strings.Join(names, ", ")
		if near := strict.Nearest(fold(g.Like), names); near != "" {
			hint = "did you mean " + near + "?"
		}
		return l.fail(l.path("like"), hint, "like %s: no built-in glass has this name", g.Like)
	}
	g.Like = other.Name
	if g.Family == "" {
		g.Family = other.Family
	}
	note := "taken from " + other.Name
	moved, with, err := l.moved(g, other)
	if err != nil {
		return err
	}
	for _, key := range keys() {
		mine, theirs := g.value(key), *other.value(key)
		fixed := quantities[key] == fixedPoint
		if mine.Text != "" || theirs.Text == "" || g.Pin != nil && (fixed || key == "viscosity_limit") {
			continue
		}
		theirs.Note = note
		switch {
		case fixed && moved != 0:
			t := theirs.Temp().Add(moved)
			theirs.Number, theirs.Text, theirs.Status, theirs.Source = t.Kelvin(), t.Text(unit.Metric), Derived, ""
			theirs.Note = note + ", moved with the " + with
		case key == "garage" && (moved != 0 || g.Pin != nil):
			continue
		case key == "viscosity_limit" && g.Work.Known():
			continue
		}
		// A source of the built-in list is not in this file's list.
		if s, ok := l.cites[theirs.Source]; ok {
			theirs.Note += " (" + s.Cite + ")"
			theirs.Source = ""
		}
		switch key {
		case "conductivity":
			g.Conductivity = other.Conductivity
			g.Conductivity.Value = theirs
		case "conductivity_phonon":
			g.ConductivityPhonon = other.ConductivityPhonon
			g.ConductivityPhonon.Value = theirs
		case "specific_heat":
			g.SpecificHeat = other.SpecificHeat
			g.SpecificHeat.Value = theirs
		case "garage":
			g.Garage = Holding{other.Garage.Low, other.Garage.High, theirs}
		default:
			*mine = theirs
		}
	}
	if g.Absorption == nil {
		for _, b := range other.Absorption {
			b.Note = note
			if s, ok := l.cites[b.Source]; ok {
				b.Note += " (" + s.Cite + ")"
				b.Source = ""
			}
			g.Absorption = append(g.Absorption, b)
		}
	}
	return nil
}

// moved returns how far the fixed points of a glass lie from those of the one
// it is like, and the point that says so: the annealing point, or the only one
// given. Several without the annealing point must agree to a kelvin.
func (l *loader) moved(g, other *Glass) (by unit.Delta, with string, err error) {
	if g.Anneal.Known() || g.Pin != nil {
		if g.Anneal.Known() && other.Anneal.Known() {
			by = g.Anneal.Temp().Sub(other.Anneal.Temp())
		}
		return by, "annealing point", nil
	}
	for _, key := range []string{"strain_point", "softening_point", "working_point"} {
		mine, theirs := g.value(key), other.value(key)
		if !mine.Known() || !theirs.Known() {
			continue
		}
		d := mine.Temp().Sub(theirs.Temp())
		switch words := strings.ReplaceAll(key, "_", " "); {
		case with == "":
			by, with = d, words
		case d-by > 1 || by-d > 1:
			return 0, "", l.fail(l.place(key), "give annealing_point too: the other points then move with it",
				"%s %s: lies %s from that of %s, the %s %s", key, mine.Text, away(d), other.Name, with, away(by))
		}
	}
	return by, with, nil
}

// away writes a distance with its direction.
func away(d unit.Delta) string {
	if d < 0 {
		return (-d).Text(unit.Metric) + " down"
	}
	return d.Text(unit.Metric) + " up"
}

// check looks at a glass as a whole.
func (l *loader) check(g *Glass) error {
	points := []string{"strain_point", "annealing_point", "softening_point", "working_point"}
	last := ""
	for _, key := range points {
		v := g.value(key)
		if !v.Known() {
			continue
		}
		if last != "" && g.value(last).Number >= v.Number {
			return l.fail(l.place(last), "", "%s %s: must be below %s %s", last, g.value(last).Text, key, v.Text)
		}
		last = key
	}
	needed := []string{"expansion", "density", "young_modulus", "poisson", "conductivity", "specific_heat"}
	switch g.Viscosity {
	case givenCurve:
	case annealSoftenWork:
		if needed = append(needed, "annealing_point", "softening_point"); !g.ViscosityLimit.Known() {
			needed = append(needed, "working_point")
		}
	default:
		needed = append(needed, points[:3]...)
	}
	if !g.SurfaceFollows {
		needed = append(needed, "emissivity")
	}
	if err := g.Need(needed...); err != nil {
		missing := err.(*MissingError)
		missing.File = l.name
		return l.file.At(l.path(), missing.Error(), missing.Hint()+likeHint(g, l.taken), missing)
	}
	if _, err := g.Curves(); err != nil {
		return l.fail(l.place("annealing_point"), "check the fixed points against the maker's sheet", "%w", err)
	}
	for _, key := range points {
		// What is taken from a built-in glass moves with the annealing point.
		if v := g.value(key); l.taken != nil && v.Spread > 0 && l.file.Has(l.path(key)...) {
			if err := l.pointRange(g, key, v); err != nil {
				return err
			}
		}
	}
	return nil
}

// pointRange takes a person's range of a fixed point, and refuses one that changes
// no curve, or at whose ends there is none.
func (l *loader) pointRange(g *Glass, key string, v *Value) error {
	reason, hint := "viscosity gives the curve itself, and has no range", "leave ± out"
	switch {
	case g.Pin != nil:
	case key == "annealing_point":
		return nil // all points move with it
	case g.moves(key, v.Spread):
		g.Alone = append(g.Alone, key)
		return nil
	default:
		most := math.Floor(v.Spread)
		for most > 0 && !g.moves(key, most) {
			most--
		}
		reason = "no falling viscosity curve in use passes through the fixed points at both ends of its range"
		if most > 0 {
			hint = fmt.Sprintf("the widest range that counts is ± %g K", most)
		}
	}
	return l.fail(l.place(key), hint, "%s %s: %s", key, v.Text, reason)
}

// likeHint offers to take missing values from a built-in glass.
func likeHint(g *Glass, taken []*Glass) string {
	if g.Like != "" || len(taken) == 0 {
		return ""
	}
	// The glass that expands most nearly alike is the likeliest relative.
	best := slices.MinFunc(taken, func(a, b *Glass) int {
		x, y := a.Expansion.Number-g.Expansion.Number, b.Expansion.Number-g.Expansion.Number
		switch {
		case x*x < y*y:
			return -1
		case x*x > y*y:
			return 1
		}
		return 0
	})
	if !g.Expansion.Known() {
		return `, or like = "NAME" to take what is missing from a built-in glass`
	}
	return `, or like = "` + best.Name + `" to take what is missing from there`
}

// place returns the path of the value of a key that is a single entry.
func (l *loader) place(key string) []string {
	if p := l.path(key, "value"); l.file.Has(p...) {
		return p
	}
	return l.path(key)
}
