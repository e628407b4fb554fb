package verify

import (
	"lehr/anneal/finding"
	"lehr/anneal/kiln"
)

// Energy estimates the electricity of the program as the kiln follows it; what
// the kiln takes before it begins is not in it. ok is false when the studio
// file does not say enough: see kiln.Capacity.
func (rep *Report) Energy() (e kiln.Energy, ok bool) {
	path := make([]kiln.Moment, len(rep.Actual.Points))
	for i, p := range rep.Actual.Points {
		path[i] = kiln.Moment{Seconds: p.Time, Kelvin: p.Temp}
	}
	return rep.Studio.Kiln.Energy(path)
}

// explainEnergy says whether there is an estimate, and where it falls short.
func (rep *Report) explainEnergy() {
	if rep.Studio.Kiln.Power <= 0 {
		return
	}
	e, ok := rep.Energy()
	if !ok {
		rep.Assumptions.Add(finding.Of(finding.ElectricityUnknown))
		return
	}
	rep.Assumptions.Add(finding.Of(finding.ElectricityEstimated))
	if e.Short {
		rep.Notes.Add(finding.Of(finding.PowerShort))
	}
}
