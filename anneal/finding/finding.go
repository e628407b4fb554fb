// Package finding is what the rooms of package anneal have to say about a
// program, as values: a kind, a place, and typed quantities.
//
// It holds no English beyond names of kinds, no units and no line widths: those
// belong to whoever shows a finding. A finding is comparable, so equal ones are
// equal with ==. Text that a person gave (the name of a glass, a rule, a piece)
// stands in it as it was typed and is never read back.
package finding

import (
	"slices"
	"time"

	"lehr/glass/unit"
)

// None is the Piece, Other or Segment of a finding that is about none.
const None = -1

// Finding is one thing to say. Which fields a kind uses is said beside the
// kind; the others are zero, Piece, Other and Segment are None.
type Finding struct {
	Kind    Kind
	Piece   int // index into the load
	Other   int // a second piece
	Segment int // index into the program

	Name         string // of a glass, a rule, a property or a purpose
	Like         string // the family a glass is taken for, or where else two names are needed
	Rule         string // the rule that says so, "" for none
	Temp, Limit  unit.Temp
	Delta        unit.Delta
	Rate         unit.Rate
	Time, Bears  time.Duration
	Stress, Most unit.Stress
	Own, OwnMost unit.Stress // a second stress and its limit
	Number, To   float64     // a number, or from one to another
	Lengths      [4]unit.Length
	Yes          bool
}

// Of returns a finding about nothing in particular.
func Of(k Kind) Finding { return Finding{Kind: k, Piece: None, Other: None, Segment: None} }

// OfPiece returns a finding about a piece.
func OfPiece(k Kind, piece int) Finding {
	f := Of(k)
	f.Piece = piece
	return f
}

// OfSegment returns a finding about a segment.
func OfSegment(k Kind, segment int) Finding {
	f := Of(k)
	f.Segment = segment
	return f
}

// OfGlass returns a finding about a glass, a rule or what else has a name.
func OfGlass(k Kind, name string) Finding {
	f := Of(k)
	f.Name = name
	return f
}

// List is a list of findings in the order in which they are said.
type List []Finding

// Add appends a finding that is not there yet.
func (l *List) Add(f Finding) {
	if !slices.Contains(*l, f) {
		*l = append(*l, f)
	}
}

// First puts a finding before the others.
func (l *List) First(f Finding) { *l = slices.Insert(*l, 0, f) }

// Has reports whether a kind is in the list.
func (l List) Has(k Kind) bool { _, ok := l.Find(k); return ok }

// Find returns the first finding of a kind.
func (l List) Find(k Kind) (Finding, bool) {
	for _, f := range l {
		if f.Kind == k {
			return f, true
		}
	}
	return Finding{}, false
}

// Source is where a number comes from and how well that was read.
type Source struct {
	Cite, Status string
	Limit        bool // a text that a limit rests on
}

// Sources are sources, each once.
type Sources []Source

// Add appends a source unless it is there already, or names nothing.
func (l *Sources) Add(s Source) {
	if s.Cite != "" && !slices.Contains(*l, s) {
		*l = append(*l, s)
	}
}

// The following return the finding with more of its fields filled in, for the
// place where it is made.

// Named adds a name.
func (f Finding) Named(name string) Finding { f.Name = name; return f }

// At adds a temperature.
func (f Finding) At(t unit.Temp) Finding { f.Temp = t; return f }

// Against adds the temperature that a temperature is held against.
func (f Finding) Against(t unit.Temp) Finding { f.Limit = t; return f }

// Apart adds a difference of temperature.
func (f Finding) Apart(d unit.Delta) Finding { f.Delta = d; return f }

// Falling adds a rate.
func (f Finding) Falling(r unit.Rate) Finding { f.Rate = r; return f }

// Lasting adds a time, and the time it is held against.
func (f Finding) Lasting(t, bears time.Duration) Finding { f.Time, f.Bears = t, bears; return f }

// Pulled adds a stress, and its limit.
func (f Finding) Pulled(s, most unit.Stress) Finding { f.Stress, f.Most = s, most; return f }

// Counting adds a number.
func (f Finding) Counting(x float64) Finding { f.Number = x; return f }

// In adds a piece.
func (f Finding) In(piece int) Finding { f.Piece = piece; return f }

// Which answers yes or no.
func (f Finding) Which(yes bool) Finding { f.Yes = yes; return f }

// Family adds the family that a glass is taken for.
func (f Finding) Family(name string) Finding { f.Like = name; return f }

// Also adds a second stress, and its limit.
func (f Finding) Also(s, most unit.Stress) Finding { f.Own, f.OwnMost = s, most; return f }

// Sized adds lengths.
func (f Finding) Sized(l ...unit.Length) Finding { copy(f.Lengths[:], l); return f }

// Among returns a finding about some pieces of a load as one about the load:
// which holds their indexes.
func (f Finding) Among(which []int) Finding {
	for _, i := range []*int{&f.Piece, &f.Other} {
		if *i >= 0 {
			*i = which[*i]
		}
	}
	return f
}
