package piece

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"lehr/anneal/evening"
	"lehr/anneal/seal"
	"lehr/anneal/spread"
	"lehr/glass"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// Into says what the kiln is when the program begins, and what it is for.
type Into string

// The three ways into a kiln.
const (
	HotKiln  Into = "hot kiln"  // finished work waits hot, then is annealed
	ColdKiln Into = "cold kiln" // finished work is reheated and annealed
	WarmOnly Into = "warm only" // bring inclusions and tube up and hold
)

// IntoError is a way into a kiln that there is not.
type IntoError struct{ Text string }

func (e *IntoError) Error() string {
	return fmt.Sprintf("%q: is none of the three ways into a kiln", shorten(e.Text))
}

// Hint names the three.
func (e *IntoError) Hint() string { return `write "hot kiln", "cold kiln" or "warm only"` }

// ParseInto reads one of the three. Errors: *IntoError.
func ParseInto(s string) (Into, error) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case string(HotKiln), "hot":
		return HotKiln, nil
	case string(ColdKiln), "cold":
		return ColdKiln, nil
	case string(WarmOnly), "warm":
		return WarmOnly, nil
	}
	return "", &IntoError{s}
}

// Load is everything that goes into one firing.
type Load struct {
	Name   string
	Into   Into
	Start  *unit.Clock // nil if not given
	Pieces []Piece
	// Door says when and how the hot kiln is opened before the program.
	Door Door
	// Session holds the facts for the safety review as the file gives them.
	Session map[string]any
}

// Count returns the number of single pieces.
func (l Load) Count() int {
	n := 0
	for _, p := range l.Pieces {
		n += p.Count
	}
	return n
}

type pieceText struct {
	What        string         `toml:"what"`
	Count       *int           `toml:"count"`
	Glass       string         `toml:"glass"`
	Resting     string         `toml:"resting"`
	LongestSoak *unit.Duration `toml:"longest_soak"`
	HottestSoak *unit.Temp     `toml:"hottest_soak"`
	Core        string         `toml:"core"`
	In          string         `toml:"in"`
	Light       string         `toml:"light"`
	Wear        string         `toml:"wear"`
	Textbook    bool           `toml:"textbook"`
	Note        string         `toml:"note"`

	Inside seal.Texts `toml:"inside"`
	Layers []string   `toml:"layers"`
	Skin   string     `toml:"skin"`
	Stripe seal.Texts `toml:"stripe"`

	Shape     string       `toml:"shape"`
	Diameter  *unit.Length `toml:"diameter"`
	Thickness *unit.Length `toml:"thickness"`
	Height    *unit.Length `toml:"height"`
	Width     *unit.Length `toml:"width"`
	Length    *unit.Length `toml:"length"`
	Wall      *unit.Length `toml:"wall"`
	Open      bool         `toml:"open"`
	Profile   []string     `toml:"profile"`
}

type loadText struct {
	Name    string         `toml:"name"`
	Glass   string         `toml:"glass"`
	Start   *unit.Clock    `toml:"start"`
	Into    string         `toml:"into"`
	Door    *doorText      `toml:"door"`
	Piece   []pieceText    `toml:"piece"`
	Session map[string]any `toml:"session"`
}

// Finder resolves the name of a glass.
type Finder func(name string) (*glass.Glass, error)

// ReadLoad reads a load file. fallback names the glass of pieces that name
// none when the file names none either ("" if there is no such default).
// Errors carry file and line.
func ReadLoad(r io.Reader, name, fallback string, find Finder) (*Load, error) {
	var t loadText
	f, err := strict.Decode(r, name, &t)
	if err != nil {
		return nil, err
	}
	l := &Load{Name: t.Name, Into: HotKiln, Start: t.Start, Session: t.Session}
	if t.Into != "" {
		if l.Into, err = ParseInto(t.Into); err != nil {
			return nil, f.Errorf([]string{"into"}, "%w", err)
		}
	}
	if len(t.Piece) == 0 {
		return nil, f.HintErrorf(nil, "add a table [[piece]] with what = \"sphere 2.5in\"", "the load has no pieces")
	}
	if t.Glass == "" {
		t.Glass = fallback
	}
	total := 0
	for i, pt := range t.Piece {
		p, err := pt.piece(f, i, t.Glass, find)
		if err != nil {
			return nil, err
		}
		if total += p.Count; total > MostPieces {
			return nil, f.Errorf([]string{"piece", fmt.Sprint(i)}, "more than %d pieces", MostPieces)
		}
		l.Pieces = append(l.Pieces, p)
	}
	if t.Door != nil {
		if l.Door, err = t.Door.read(f); err != nil {
			return nil, err
		}
	}
	if err := l.settle(true); err != nil {
		var at *inError
		if errors.As(err, &at) {
			return nil, f.Errorf(at.keys(), "%w", at.error)
		}
		return nil, err
	}
	return l, nil
}

// piece reads one table of a load, a branch a key, so that a fault names the
// key.
func (pt pieceText) piece(f *strict.File, i int, glassName string, find Finder) (Piece, error) {
	key := func(k string) []string { return []string{"piece", fmt.Sprint(i), k} }
	var p Piece
	var err error
	switch {
	case pt.Profile != nil:
		if p, err = pt.turned(f, key); err != nil {
			return p, err
		}
	case pt.What != "" && pt.Shape != "":
		return p, f.Errorf(key("shape"), "both what and shape are given; one is enough")
	case pt.What != "":
		if pt.Diameter != nil || pt.Thickness != nil || pt.Height != nil || pt.Width != nil || pt.Length != nil || pt.Wall != nil || pt.Open {
			return p, f.Errorf(key("what"), "the size stands in what; diameter, thickness, height, width, length, wall and open go with shape")
		}
		p, err = Parse(pt.What)
		if err != nil {
			return p, f.Errorf(key("what"), "%w", err)
		}
	case pt.Shape != "":
		text, err := pt.text()
		if err != nil {
			return p, f.Errorf(key("shape"), "%w", err)
		}
		if p, err = Parse(text); err != nil {
			return p, f.Errorf(key("shape"), "%w", err)
		}
	default:
		return p, f.HintErrorf(key("what"), `write what = "sphere 2.5in"`, "the piece does not say what it is")
	}
	if pt.Count != nil {
		if p.Count != 1 {
			return p, f.Errorf(key("count"), "%d: what already begins with the count %d", *pt.Count, p.Count)
		}
		if *pt.Count < 1 || *pt.Count > MostPieces {
			return p, f.Errorf(key("count"), "%d: must be from 1 to %d", *pt.Count, MostPieces)
		}
		p.Count = *pt.Count
	}
	if pt.Resting != "" {
		p.Resting = Resting(pt.Resting)
		if _, ok := restingFactors[p.Resting]; !ok {
			return p, f.HintErrorf(key("resting"), `write resting = "shelf", "raised" or "bedded"`, "%q: is no way to rest a piece", pt.Resting)
		}
		if shape, in, _ := strings.Cut(p.What, ";"); p.Resting != OnShelf && !p.IsStone() && !strings.HasSuffix(shape, pt.Resting) {
			p.What = shape + " " + pt.Resting // so that the report tells two of one size apart
			if in != "" {
				p.What += ";" + in
			}
		}
	}
	named := key("glass")
	if pt.Glass == "" {
		pt.Glass, named = glassName, []string{"glass"}
	}
	if pt.Glass == "" {
		return p, f.HintErrorf(key("what"), `write glass = "borosilicate-33" at the top; list them with: lehr glass`, "no glass is named")
	}
	if p.Glass, err = find(pt.Glass); err != nil {
		return p, f.Errorf(named, "%w", err)
	}
	if p.Profile != nil && p.Glass.SurfaceFollows {
		return p, f.Errorf(key("profile"), "%s: its surface follows the kiln, by which no body of a profile is computed", p.Glass.Name)
	}
	if pt.LongestSoak != nil {
		if p.LongestSoak = pt.LongestSoak.Std(); p.LongestSoak < time.Minute {
			return p, f.Errorf(key("longest_soak"), "%s: must be at least 1 min", pt.LongestSoak)
		}
	}
	if pt.HottestSoak != nil {
		p.HottestSoak = *pt.HottestSoak
		if err := p.soakLimit(); err != nil {
			return p, f.Errorf(key("hottest_soak"), "%w", err)
		}
	}
	if pt.Core != "" {
		core, err := evening.ParseCore(pt.Core)
		if err != nil {
			return p, f.Errorf(key("core"), "%w", err)
		}
		p.Core, p.Even = core.At, core.Even
	}
	p.InText = pt.In
	if err := pt.use(f, key, &p); err != nil {
		return p, err
	}
	p.Note = pt.Note
	return p, pt.fill(f, key, &p, find)
}

// fill reads what is in the piece, by keys or behind what.
func (pt pieceText) fill(f *strict.File, key func(string) []string, p *Piece, find Finder) error {
	w := seal.Words{Inside: pt.Inside, Layers: pt.Layers, Skin: pt.Skin, Stripe: pt.Stripe}
	byKey := !empty(w)
	if byKey && !empty(p.Words) {
		return f.Errorf(key("what"), "what is in it stands behind what and in keys of its own; one is enough")
	}
	if byKey {
		p.Words = w
		p.What += contentsText(w) // so that the report tells two of one size apart
	}
	err := p.Fill(p.Glass, find)
	if err == nil {
		return nil
	}
	at := where(err)
	if !byKey {
		at = "what"
	} else if at == "" {
		for _, k := range []struct {
			name string
			said bool
		}{{"stripe", len(w.Stripe) > 0}, {"skin", w.Skin != ""}, {"layers", len(w.Layers) > 0}, {"inside", len(w.Inside) > 0}} {
			if k.said {
				at = k.name
			}
		}
	}
	return f.Errorf(key(at), "%w", err)
}

// turned reads a body of revolution given by its profile; what is its name.
func (pt pieceText) turned(f *strict.File, key func(string) []string) (Piece, error) {
	p := Piece{Count: 1, Resting: OnShelf, What: strings.Join(strings.Fields(pt.What), " ")}
	if pt.Shape != "" || pt.Diameter != nil || pt.Thickness != nil || pt.Height != nil || pt.Width != nil || pt.Length != nil || pt.Wall != nil || pt.Open {
		return p, f.Errorf(key("profile"), "the sizes stand in profile; shape and its sizes go without it")
	}
	if pt.Textbook {
		return p, f.Errorf(key("textbook"), "a body given by its profile is none of a textbook")
	}
	if Light(pt.Light) == Clear {
		return p, f.HintErrorf(key("light"), "leave light out, or say dark or opaque", "clear: light inside a body given by its profile is not computed")
	}
	if err := p.profiled(pt.Profile); err != nil {
		return p, f.HintErrorf(key("profile"), `write half the outline, radius and height: profile = ["0 0", "25mm 0", "25mm 10mm", "0 10mm"]`, "profile: %w", err)
	}
	if p.What == "" {
		p.What = "profile " + p.Across.String() + " across"
	}
	if len([]rune(p.What)) > 60 {
		return p, f.Errorf(key("what"), "the name of a profile has 60 characters at most")
	}
	return p, nil
}

// wears are the words for what a piece is asked to bear beside its program.
var wears = map[string]spread.Wear{"": spread.Ordinary, "ordinary": spread.Ordinary, "worked later": spread.Abused, "worked before": spread.Worked, "unknown history": spread.Doubtful}

// use reads how clear a piece is and what it must bear.
func (pt pieceText) use(f *strict.File, key func(string) []string, p *Piece) error {
	switch l := Light(pt.Light); l {
	case LightUnknown:
	case Clear, Dark, Opaque:
		if p.Light != LightUnknown && p.Light != l {
			return f.Errorf(key("light"), "%q: what says %s", pt.Light, p.Light)
		}
		p.Light = l
	default:
		return f.HintErrorf(key("light"), `write light = "clear", "dark" or "opaque", or leave it out if you do not know`, "%q: is no word for how clear a piece is", pt.Light)
	}
	wear, ok := wears[pt.Wear]
	if !ok {
		return f.HintErrorf(key("wear"), `write wear = "worked later" for a piece that is sawn, ground or mailed after the kiln, "worked before" for one that goes in scratched, sawn or ground, "unknown history" for one whose stress nobody knows`, "%q: is no wear", pt.Wear)
	}
	p.Wear, p.Textbook = wear, p.Textbook || pt.Textbook
	return nil
}

// soakLimit refuses a heat limit below any temperature at which the glass relaxes.
func (p Piece) soakLimit() error {
	low, _, err := SoakRange(p.Glass)
	if err != nil {
		return err
	}
	if p.HottestSoak.Less(low) {
		return fmt.Errorf("%s: below %s, where %s begins to relax within hours, so it could not be annealed", unit.AsTyped(p.HottestSoak), low.Text(unit.TypedIn(p.HottestSoak)), p.Glass.Name)
	}
	return nil
}

// text writes a piece given by tables in the grammar of Parse.
func (pt pieceText) text() (string, error) {
	out := pt.Shape
	first := true
	add := func(l *unit.Length) {
		if l == nil {
			return
		}
		if !first {
			out += " x"
		}
		out += " " + l.String()
		first = false
	}
	add(pt.Diameter)
	if pt.Shape == string(RodShape) || pt.Shape == string(TubeShape) {
		add(pt.Length)
		if pt.Width != nil || pt.Height != nil || pt.Thickness != nil {
			return "", fmt.Errorf("a %s has a diameter and a length", pt.Shape)
		}
	} else {
		add(pt.Length)
		add(pt.Width)
		if pt.Height != nil && pt.Thickness != nil {
			return "", fmt.Errorf("height and thickness are the same; give one")
		}
		add(pt.Height)
		add(pt.Thickness)
	}
	if pt.Wall != nil {
		out += " wall " + pt.Wall.String()
	}
	if pt.Open {
		out += " open"
	}
	return out, nil
}

// Some returns the load with only the pieces named.
func (l *Load) Some(which []int) *Load {
	part := *l
	part.Pieces = nil
	for _, i := range which {
		part.Pieces = append(part.Pieces, l.Pieces[i])
	}
	return &part
}
