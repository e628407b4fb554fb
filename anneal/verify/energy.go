package verify

import (
	"fmt"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
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

// explainEnergy states the model behind the electricity, or what is missing
// when a power was given.
func (rep *Report) explainEnergy() {
	k, sys := rep.Studio.Kiln, rep.Studio.Units
	if k.Power <= 0 {
		return
	}
	e, ok := rep.Energy()
	if !ok {
		rep.Assume("electricity is not estimated: give fastest_heating, or holding and holding_duty, beside power in [kiln] of the studio file")
		return
	}
	how := fmt.Sprintf("full power heating at %s at %s", k.HeatRate(e.At).Text(sys), e.At.Text(sys))
	if e.ByDuty {
		how = fmt.Sprintf("%.3g %% of the power holding %s", k.HoldingDuty*100, e.At.Text(sys))
	}
	capacity, per := e.Capacity/3600, "K"
	if sys == unit.US {
		capacity, per = capacity*float64(unit.FahrenheitDelta(1)), "°F"
	}
	text := fmt.Sprintf("electricity is an estimate: the kiln counts as one lump with a heat capacity of %.2g Wh/%s, so that %s of power fits %s, and loses heat as it falls by itself; a kiln whose walls are not warmed through takes more; heat before the program is not counted",
		capacity, per, k.Power.Text(sys), how)
	if !k.Measured {
		text += "; its fall is common practice, not measured"
	}
	rep.Assume(text)
	if e.Short {
		rep.Notes = append(rep.Notes, "somewhere the program needs more power than the elements have by this estimate; look at fastest_heating and power in the studio file")
	}
}
