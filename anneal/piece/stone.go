package piece

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"lehr/anneal/seal/contents"
	"lehr/glass"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// stoneHint shows how a stone is written that is warmed by itself.
const stoneHint = `write "3 x stone 10mm of opal, dry" or "cabochon 10mm x 4mm of opal, edge 1mm"`

var stonePart = regexp.MustCompile(`(?i)^\s*(?:(-?\d{1,9})\s*(?:x|×|\*)\s+)?(stone|cabochon|cab)s?\s+(.*?)\s+of\s+(.*)$`)

// StoneError is a stone in a load that is not warmed only.
type StoneError struct{ What string }

func (e *StoneError) Error() string {
	return fmt.Sprintf("%s: a stone by itself is warmed only, not annealed", shorten(e.What))
}

// Hint says where a stone may stand.
func (e *StoneError) Hint() string { return e.Advice().String() }

// Advice is the hint as data.
func (e *StoneError) Advice() strict.Advice {
	return `{write into=` + strict.Advice(WarmOnly) + `}, or name it in its piece: "sphere 2in; inside opal 10mm"`
}

// parseStone reads a stone that lies in the kiln by itself, to be warmed. ok is
// false for a text that is no stone. What it is of is read by [Piece.Fill].
//
//	3 x stone 10mm of opal, dry    cabochon 10mm x 4mm of opal, edge 1mm
func parseStone(text string) (p Piece, ok bool, err error) {
	m := stonePart.FindStringSubmatch(text)
	if m == nil {
		return p, false, nil
	}
	fail := func(format string, args ...any) (Piece, bool, error) {
		return Piece{}, true, &Error{Text: shorten(text), Reason: fmt.Sprintf(format, args...), hint: stoneHint}
	}
	p = Piece{Count: 1, Resting: OnShelf, Shape: SphereShape}
	if m[1] != "" {
		if p.Count, _ = strconv.Atoi(m[1]); p.Count < 1 || p.Count > MostPieces {
			return fail("count %s: must be from 1 to %d", m[1], MostPieces)
		}
	}
	sizes := timesPart.Split(strings.TrimSpace(m[3]), -1)
	flat := !strings.EqualFold(m[2], "stone")
	if want := map[bool]int{false: 1, true: 2}[flat]; len(sizes) != want {
		return fail("%d sizes given, a %s takes %d", len(sizes), strings.ToLower(m[2]), want)
	}
	var l []unit.Length
	for _, s := range sizes {
		x, err := unit.ParseLength(s)
		if err != nil {
			return Piece{}, true, fmt.Errorf("piece %q: size %w", shorten(text), err)
		}
		l = append(l, x)
	}
	p.Size = l[0]
	if flat {
		p.Shape, p.Across, p.Size = DiscShape, l[0], l[1]
	}
	if err := p.check(); err != nil {
		return fail("%s", err)
	}
	word := "sphere"
	if flat {
		word = "cabochon"
	}
	p.stone = strings.Join(strings.Fields(word+" "+m[3]+" of "+m[4]), " ")
	p.What = strings.Join(strings.Fields(strings.ToLower(m[2])+" "+m[3]+" of "+m[4]), " ")
	return p, true, nil
}

// IsStone reports whether the piece is a stone that is warmed by itself.
func (p Piece) IsStone() bool { return p.stone != "" }

// fillStone reads what a stone is of, and poses it as a glass that conducts and
// expands as the stone does, at the stiff and expanding ends of what is known.
// What it holds of the clear glass it will go into is where that is held hot.
func (p *Piece) fillStone(g *glass.Glass, find Finder) error {
	in, err := (contents.Finder{Clear: g, Look: find}).ParseInside(p.stone)
	if err != nil {
		return err
	}
	m := in.Material
	if m.Kind == contents.Metal {
		return &Error{Text: p.What, Reason: "a metal needs no warming", hint: "leave it out"}
	}
	p.Stone = in
	as := *g
	as.Name, as.Title, as.Words, as.Note = m.Name, m.Title, nil, ""
	value := func(v contents.Value, number float64) glass.Value {
		return glass.Value{Number: number, Text: v.Text, Source: v.Source, Status: v.Status, Note: v.Note}
	}
	as.Expansion, as.Young, as.Poisson = value(m.Expansion, m.Expansion.High), value(m.Young, m.Young.High), value(m.Poisson, m.Poisson.Number)
	as.ExpansionLiquid, as.StressOptic, as.Absorption, as.ConductivityPhonon = glass.Value{}, glass.Value{}, nil, glass.Property{}
	if m.Diffusivity > 0 {
		as.Density = value(m.Density, m.Density.Number)
		as.Conductivity, as.SpecificHeat = steady(value(m.Conductivity, m.Conductivity.Number)), steady(value(m.Heat, m.Heat.Number))
	}
	p.Glass = &as
	return nil
}

// steady is a property that does not change with temperature.
func steady(v glass.Value) glass.Property {
	return glass.Property{At: func(float64) float64 { return v.Number }, Value: v}
}

// Stones returns an error for a stone that lies in a kiln that does more than
// warm. Errors: *[StoneError].
func (l *Load) Stones() error {
	for _, p := range l.Pieces {
		if p.IsStone() && l.Into != WarmOnly {
			return &StoneError{p.What}
		}
	}
	return nil
}
