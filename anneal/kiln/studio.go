package kiln

import (
	"fmt"

	"lehr/glass/unit"
)

// Limits are what a program is judged by.
type Limits struct {
	// Tension in a piece while it cools or heats, and Residual, the tension left:
	// what average glass may carry by default. One that a person gave is a limit
	// of the worst case instead, and the only one.
	Tension, Residual           unit.Stress
	TensionGiven, ResidualGiven bool
	Margin                      float64    // share of each tension that a planner leaves unused, 0 for none
	MarginGiven                 bool       // a person gave it
	Relaxed                     float64    // least share of a stress at the start that the soak relaxes
	Even                        unit.Delta // greatest difference between core and surface at its end

	aimed bool // the tensions are less the margin
}

// LargestMargin is the greatest share of a limit that can be left unused.
const LargestMargin = 0.5

// Aimed returns the limits that a planner plans for: the tensions less the margin.
// Those are returned as they are.
func (l Limits) Aimed() Limits {
	if l.aimed || l.Margin == 0 {
		return l
	}
	l.Tension, l.Residual, l.aimed = l.Tension*unit.Stress(1-l.Margin), l.Residual*unit.Stress(1-l.Margin), true
	return l
}

// Share is the share of the published limits that counts: 1, or what [Limits.Aimed]
// leaves.
func (l Limits) Share() float64 {
	if l.aimed {
		return 1 - l.Margin
	}
	return 1
}

// DefaultLimits returns the limits used when none are given: of the tensions
// those of average glass in a piece of ordinary wear, which closed forms design
// for. What a piece is judged by, with its worst case, size and wear, is in
// package spread.
//
// The margin is for what no range of the worst case counts: a rate keyed in a
// degree beside the one printed, and the spread of our own numbers against other
// codes, which lehr validate prints. A program takes 1 to 2 % longer for it.
//
// Source: the limits of package spread [derived]; 99 % relaxed, 2.5 K even and the
// margin: common practice.
func DefaultLimits() Limits {
	return Limits{Tension: 3.5 * unit.Megapascal, Residual: 1.0 * unit.Megapascal, Margin: 0.03, Relaxed: 0.99, Even: 2.5}
}

// LargestLimit is the greatest limit that can be asked for: no glass bears more.
const LargestLimit = 100 * unit.Megapascal

// Or returns the limits that a person gave, and those of another where none was
// given.
func (l Limits) Or(other Limits) Limits {
	if l.Tension > 0 {
		other.Tension, other.TensionGiven = l.Tension, true
	}
	if l.Residual > 0 {
		other.Residual, other.ResidualGiven = l.Residual, true
	}
	if l.MarginGiven {
		other.Margin, other.MarginGiven = l.Margin, true
	}
	return other
}

func (l Limits) Check() error {
	switch {
	case !(l.Tension > 0) || l.Tension > LargestLimit:
		return fmt.Errorf("tension limit %s: must be above 0 and at most %s", l.Tension, LargestLimit)
	case !(l.Residual > 0) || l.Residual > LargestLimit:
		return fmt.Errorf("limit of tension left %s: must be above 0 and at most %s", l.Residual, LargestLimit)
	case !(l.Margin >= 0 && l.Margin <= LargestMargin):
		return fmt.Errorf("margin %.4g %%: must be from 0 %% to %g %%", l.Margin*100, LargestMargin*100)
	}
	return nil
}

// Studio is what stays the same from night to night.
type Studio struct {
	Units      unit.System
	Glass      string // default glass, "" if none
	Kiln       Kiln
	Controller Controller
	Limits     Limits
	Opening    unit.Temp // the kiln may be opened at this reading
	Door       Door      // what opening the kiln hot for a moment does
	Session    map[string]any
	File       string // where it was read, "" for the defaults
}

// HighestSet returns the highest temperature that can be set: the kiln's, rounded
// down to what the controller takes; zero if it is not known.
func (s Studio) HighestSet() unit.Temp {
	if s.Kiln.Highest.IsZero() {
		return s.Kiln.Highest
	}
	return s.Controller.Below(s.Kiln.Highest)
}

// In returns the studio shown in a system of units. A controller keeps the
// units that its owner gave it.
func (s Studio) In(sys unit.System) Studio {
	s.Units = sys
	if s.Opening == openAt(unit.Metric) || s.Opening == openAt(unit.US) {
		s.Opening = openAt(sys)
	}
	c := &s.Controller
	if c.UnitsGiven || c.Units == sys {
		return s
	}
	wasSlowest, wasFastest := usualRates(c.Units)
	slowest, fastest := usualRates(sys)
	if c.Slowest == wasSlowest {
		c.Slowest = slowest
	}
	if c.Fastest == wasFastest {
		c.Fastest = fastest
	}
	c.Units = sys
	return s
}

// usualRates are the smallest and greatest rate of a controller of which only
// the unit is known.
func usualRates(sys unit.System) (slowest, fastest unit.Rate) {
	if sys == unit.US {
		return unit.FahrenheitPerHour(1), unit.FahrenheitPerHour(1799)
	}
	c := DefaultController()
	return c.Slowest, c.Fastest
}

// DefaultStudio is used when there is no studio file.
func DefaultStudio() Studio {
	return Studio{Kiln: Default(), Controller: DefaultController(), Limits: DefaultLimits(), Opening: OpenAt}
}

// OpenAt is where every cycle of the closed forms ends: cool enough to touch.
var OpenAt = unit.Celsius(43)

// openAt is OpenAt as people say it in a system of units: 43 °C, or 110 °F, which
// is a third of a degree more and no 109.
func openAt(sys unit.System) unit.Temp {
	if sys == unit.US {
		return unit.Fahrenheit(110)
	}
	return OpenAt
}
