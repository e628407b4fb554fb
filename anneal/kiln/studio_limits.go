package kiln

import (
	"math"

	"lehr/glass/strict"
	"lehr/glass/unit"
)

// readSetting reads how finely the set point is keyed in and what becomes of the
// last one.
func (s *Studio) readSetting(f *strict.File, t *studioText) error {
	c := &s.Controller
	if v := t.Controller.Step; v != nil {
		degrees := float64(*v) / c.perDegree()
		if whole := math.Round(degrees); math.Abs(degrees-whole) > 1e-6 || whole < 1 || whole > largestStep {
			return f.HintErrorf([]string{"controller", "step"}, `write step = "5 °C" or step = "5 °F", in the degrees of units in [controller]`,
				"%s: must be whole degrees of the controller, from 1 to %d", unit.AsTyped(*v), largestStep)
		}
		c.Step, c.UnitsGiven = *v, true // a step is one of the controller's own degrees
	}
	switch t.Controller.After {
	case "":
	case "off":
		c.After = AfterOff
	case "hold":
		c.After = AfterHold
	default:
		return f.HintErrorf([]string{"controller", "after"}, `write after = "off" or "hold"`, "%q: is nothing a controller does after the last segment", t.Controller.After)
	}
	return nil
}

func (s *Studio) readLimits(f *strict.File, t *studioText) error {
	l, at := t.Limits, func(k string) []string { return []string{"limits", k} }
	if l.Tension != nil {
		s.Limits.Tension, s.Limits.TensionGiven = *l.Tension, true
	}
	if l.Residual != nil {
		s.Limits.Residual, s.Limits.ResidualGiven = *l.Residual, true
	}
	if l.Margin != nil {
		if s.Limits.Margin, s.Limits.MarginGiven = float64(*l.Margin), true; !(s.Limits.Margin >= 0 && s.Limits.Margin <= LargestMargin) {
			return f.Errorf(at("margin"), "%.6g %%: must be from 0 %% to %g %%", s.Limits.Margin*100, LargestMargin*100)
		}
	}
	if l.Relaxed != nil {
		if s.Limits.Relaxed = float64(*l.Relaxed); !(s.Limits.Relaxed >= 0.5 && s.Limits.Relaxed <= 0.9999) {
			return f.Errorf(at("relaxed"), "%.6g %%: must be from 50 %% to 99.99 %%", s.Limits.Relaxed*100)
		}
	}
	if l.Even != nil {
		if s.Limits.Even = *l.Even; !(s.Limits.Even >= 0.2 && s.Limits.Even <= 20) {
			return f.Errorf(at("even"), "%s: must be %s", unit.AsTyped(s.Limits.Even), unit.RangeFor[unit.Delta](s.Limits.Even, 0.2, 20))
		}
	}
	if err := s.Limits.Check(); err != nil {
		key := "left"
		if !(s.Limits.Tension > 0) || s.Limits.Tension > 100*unit.Megapascal {
			key = "tension"
		}
		return f.Errorf(at(key), "%w", err)
	}
	return nil
}

// ParseShare reads a share in percent, such as "3 %".
func ParseShare(text string) (float64, error) {
	var s shareText
	err := s.UnmarshalText([]byte(text))
	return float64(s), err
}
