package words

import (
	"fmt"

	"lehr/anneal/finding"
	"lehr/anneal/spread"
)

// over says what a program exceeds in a piece, or what of it was not judged.
func (w Words) over(f finding.Finding) string {
	switch f.Kind {
	case finding.OverTension:
		return "tension"
	case finding.OverResidual:
		return "tension left"
	case finding.OverRelaxed:
		return "soak too short to relax"
	case finding.OverEven:
		return "soak too short to even out"
	case finding.OverOpening:
		return "tension when the kiln is opened"
	case finding.OverDoor:
		return fmt.Sprintf("tension when the hot kiln was opened before the program, %s (limit %s)", w.stress(f.Stress), w.stress(f.Most))
	case finding.OverHottest:
		return fmt.Sprintf("as hot as %s, bears %s", w.temp(f.Temp), w.temp(f.Limit))
	case finding.OverHeld:
		return fmt.Sprintf("above its strain point for %s, bears %s", duration(f.Time), duration(f.Bears))
	case finding.OverWaits:
		if f.Name == "" {
			return fmt.Sprintf("waits at %s before the program begins, bears %s", w.temp(f.Temp), w.temp(f.Limit))
		}
		return fmt.Sprintf("waits at %s before the program begins; above %s %s marks and sags in hours (10^%.1f Pa·s)", w.temp(f.Temp), w.temp(f.Limit), f.Name, f.Number)
	case finding.OverSag:
		return fmt.Sprintf("softer than 10^%.0f Pa·s for %s, so that it sags", f.Number, duration(f.Time))
	case finding.EndsHot:
		return "not judged beyond the end of the program at " + w.temp(f.Temp)
	case finding.UnprovenTension:
		return "tension: average glass keeps its limit; not proven for yours, of which " + Part(spread.Unknown(f.Name), f.Like) + " counts most"
	case finding.UnprovenResidual:
		return "tension left: average glass keeps its limit; not proven for yours, of which " + Part(spread.Unknown(f.Name), f.Like) + " counts most"
	case finding.RimNotComputed:
		return "its rim, which cools ahead of its middle and may be pulled several times harder, was not computed: give its width"
	}
	return ""
}
