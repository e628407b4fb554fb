package piece

import (
	"fmt"
	"strings"
	"time"

	"lehr/anneal/evening"
	"lehr/anneal/seal/contents"
	"lehr/anneal/spread"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

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

	Inside contents.Texts `toml:"inside"`
	Layers []string       `toml:"layers"`
	Skin   string         `toml:"skin"`
	Stripe contents.Texts `toml:"stripe"`

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

// pieceTable is the table of a piece in a load file, where its faults are told.
type pieceTable struct {
	pieceText
	file  *strict.File
	index int
}

func (t pieceTable) key(name string) []string { return []string{"piece", fmt.Sprint(t.index), name} }

// fault is a fault at a key of the table.
func (t pieceTable) fault(key, format string, args ...any) error {
	return t.file.Errorf(t.key(key), format, args...)
}

// hint is a fault with one thing to do.
func (t pieceTable) hint(key string, a strict.Advice, format string, args ...any) error {
	return t.file.AdviseErrorf(t.key(key), a, format, args...)
}

// read reads the table; fallback names the glass of a piece that names none.
func (t pieceTable) read(fallback string, find Finder) (Piece, error) {
	if name, err := t.named(); err != nil {
		return Piece{}, err
	} else if name != "" {
		t.What, t.Glass = strings.TrimSpace(withoutGlass(t.What)), name
	}
	p, err := t.body()
	if err != nil {
		return p, err
	}
	for _, read := range []func(*Piece) error{
		t.count,
		t.rest,
		func(p *Piece) error { return t.glass(p, fallback, find) },
		t.bears,
		t.entry,
		t.use,
	} {
		if err := read(&p); err != nil {
			return p, err
		}
	}
	p.Note = t.Note
	return p, t.fill(&p, find)
}

// named is the glass that what names, "6 x sphere 2in of soda-104", "" if it names
// none.
func (t pieceTable) named() (string, error) {
	if t.Profile != nil { // what is its name
		return "", nil
	}
	_, name, err := ParseOf(t.What)
	if err == nil && name != "" && t.Glass != "" {
		return "", t.hint("glass", "leave one of them out", "%s: what names a glass already, %s", t.Glass, name)
	}
	if err != nil {
		return "", nil // what is wrong with it is for body to say
	}
	return name, nil
}

// body reads the shape and its sizes: in words, by keys, or as a profile.
func (t pieceTable) body() (Piece, error) {
	switch {
	case t.Profile != nil:
		return t.turned()
	case t.What != "" && t.Shape != "":
		return Piece{}, t.fault("shape", "both what and shape are given; one is enough")
	case t.What != "" && t.sized():
		return Piece{}, t.fault("what", "the size stands in what; diameter, thickness, height, width, length, wall and open go with shape")
	case t.What != "":
		p, err := Parse(t.What)
		if err != nil {
			return p, t.fault("what", "%w", err)
		}
		return p, nil
	case t.Shape != "":
		text, err := t.text()
		if err != nil {
			return Piece{}, t.fault("shape", "%w", err)
		}
		p, err := Parse(text)
		if err != nil {
			return p, t.fault("shape", "%w", err)
		}
		return p, nil
	}
	return Piece{}, t.hint("what", `write what = "sphere 2.5in"`, "the piece does not say what it is")
}

// sized reports whether a key gives a size.
func (pt pieceText) sized() bool {
	return pt.Diameter != nil || pt.Thickness != nil || pt.Height != nil || pt.Width != nil || pt.Length != nil || pt.Wall != nil || pt.Open
}

// count reads how many there are.
func (t pieceTable) count(p *Piece) error {
	switch n := t.Count; {
	case n == nil:
		return nil
	case p.Count != 1:
		return t.fault("count", "%d: what already begins with the count %d", *n, p.Count)
	case *n < 1 || *n > MostPieces:
		return t.fault("count", "%d: must be from 1 to %d", *n, MostPieces)
	}
	p.Count = *t.Count
	return nil
}

// rest reads how the piece rests.
func (t pieceTable) rest(p *Piece) error {
	if t.Resting == "" {
		return nil
	}
	said := p.Resting
	p.Resting = Resting(t.Resting)
	if _, ok := restingFactors[p.Resting]; !ok {
		return t.hint("resting", `{write piece.resting=shelf}, "raised" or "bedded"`, "%q: is no way to rest a piece", t.Resting)
	}
	if head := p.Head(); p.Resting != OnShelf && p.Resting != said && !p.IsStone() {
		p.What = head + " " + t.Resting + p.What[len(head):] // so that the report tells two of one size apart
	}
	return nil
}

// glass finds the glass of the piece.
func (t pieceTable) glass(p *Piece, fallback string, find Finder) (err error) {
	name, at := t.Glass, t.key("glass")
	if name == "" {
		name, at = fallback, []string{"glass"}
	}
	if name == "" {
		return t.hint("what", `write glass = "borosilicate-33" at the top; list them with: lehr glass`, "no glass is named")
	}
	if p.Glass, err = find(name); err != nil {
		return t.file.Errorf(at, "%w", err)
	}
	if p.Profile != nil && p.Glass.SurfaceFollows {
		return t.fault("profile", "%s: its surface follows the kiln, by which no body of a profile is computed", p.Glass.Name)
	}
	return nil
}

// bears reads which soak the piece bears.
func (t pieceTable) bears(p *Piece) error {
	if t.LongestSoak != nil {
		if p.LongestSoak = t.LongestSoak.Std(); p.LongestSoak < time.Minute {
			return t.fault("longest_soak", "%s: must be at least 1 min", t.LongestSoak)
		}
	}
	if t.HottestSoak != nil {
		p.HottestSoak = *t.HottestSoak
		if err := p.soakLimit(); err != nil {
			return t.fault("hottest_soak", "%w", err)
		}
	}
	return nil
}

// entry reads how hot the piece goes in, and when.
func (t pieceTable) entry(p *Piece) error {
	p.InText = t.In
	if t.Core == "" {
		return nil
	}
	core, err := evening.ParseCore(t.Core)
	if err != nil {
		return t.fault("core", "%w", err)
	}
	p.Core, p.Even = core.At, core.Even
	return nil
}

// fill reads what is in the piece, by keys or behind what.
func (t pieceTable) fill(p *Piece, find Finder) error {
	w := contents.Words{Inside: t.Inside, Layers: t.Layers, Skin: t.Skin, Stripe: t.Stripe}
	byKey := !empty(w)
	if byKey && !empty(p.Words) {
		return t.fault("what", "what is in it stands behind what and in keys of its own; one is enough")
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
	return t.fault(at, "%w", err)
}

// turned reads a body of revolution given by its profile; what is its name.
func (t pieceTable) turned() (Piece, error) {
	p := Piece{Count: 1, Resting: OnShelf, What: strings.Join(strings.Fields(t.What), " ")}
	if t.Shape != "" || t.sized() {
		return p, t.fault("profile", "the sizes stand in profile; shape and its sizes go without it")
	}
	if t.Textbook {
		return p, t.fault("textbook", "a body given by its profile is none of a textbook")
	}
	if Light(t.Light) == Clear {
		return p, t.hint("light", "leave light out, or say dark or opaque", "clear: light inside a body given by its profile is not computed")
	}
	if err := p.profiled(t.Profile); err != nil {
		return p, t.hint("profile", `write half the outline, radius and height: profile = ["0 0", "25mm 0", "25mm 10mm", "0 10mm"]`, "%w", err)
	}
	if p.What == "" {
		p.What = "profile " + p.Across.String() + " across"
	}
	if len([]rune(p.What)) > 60 {
		return p, t.fault("what", "the name of a profile has 60 characters at most")
	}
	return p, nil
}

// wears are the words for what a piece is asked to bear beside its program.
var wears = map[string]spread.Wear{"": spread.Ordinary, "ordinary": spread.Ordinary, "worked later": spread.Abused, "worked before": spread.Worked, "unknown history": spread.Doubtful}

// use reads how clear a piece is and what it must bear.
func (t pieceTable) use(p *Piece) error {
	switch l := Light(t.Light); l {
	case LightUnknown:
	case Clear, Dark, Opaque:
		if p.Light != LightUnknown && p.Light != l {
			return t.fault("light", "%q: what says %s", t.Light, p.Light)
		}
		p.Light = l
	default:
		return t.hint("light", `{write piece.light=clear}, "dark" or "opaque", or leave it out if you do not know`, "%q: is no word for how clear a piece is", t.Light)
	}
	wear, ok := wears[t.Wear]
	if !ok {
		return t.hint("wear", `{write piece.wear=worked later} for a piece that is sawn, ground or mailed after the kiln, "worked before" for one that goes in scratched, sawn or ground, "unknown history" for one whose stress nobody knows`, "%q: is no wear", t.Wear)
	}
	p.Wear, p.Textbook = wear, p.Textbook || t.Textbook
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
