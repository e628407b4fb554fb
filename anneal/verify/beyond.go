package verify

import (
	"lehr/anneal/finding"
	"lehr/glass"
	"lehr/glass/unit"
)

// unsaidBelow is how far below the range of a property a program may go without a
// word: most ranges begin at 20 °C, a program may end in a colder studio, and down
// there a piece has long set and cools slowly.
const unsaidBelow unit.Delta = 30

// beyond lists the properties of the glass that the program takes beyond the
// range they are known for; there they keep the value of the end.
func (f firing) beyond(g *glass.Glass) (out finding.List) {
	low, high := f.schedule.From, f.schedule.From
	for _, s := range f.schedule.Segments {
		if s.To.Less(low) {
			low = s.To
		}
		if high.Less(s.To) {
			high = s.To
		}
	}
	for _, p := range []struct {
		name string
		glass.Property
	}{{"conductivity", g.Conductivity}, {"specific heat", g.SpecificHeat}} {
		if p.Check(low) != nil && p.Low.Sub(low) > unsaidBelow || p.Check(high) != nil {
			out.Add(finding.OfGlass(finding.BeyondRange, g.Name).Family(p.name).At(p.Low).Against(p.High))
		}
	}
	return out
}
