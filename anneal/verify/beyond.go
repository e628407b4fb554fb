package verify

import (
	"lehr/anneal/finding"
	"lehr/glass"
)

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
		if p.Check(low) != nil && float64(p.Low.Sub(low)) > 30 || p.Check(high) != nil {
			out.Add(finding.OfGlass(finding.BeyondRange, g.Name).Family(p.name).At(p.Low).Against(p.High))
		}
	}
	return out
}
