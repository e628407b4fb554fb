package seal

import (
	"errors"
	"math"
	"time"

	"lehr/anneal/seal/contents"
	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/unit"
)

// Cold is something that must be warm before it meets the flame: a stone, a
// cabochon, a tube.
type Cold struct {
	Name string
	Form sim.Form
	// Size is the diameter of a sphere or rod, the whole thickness of a flat one,
	// the wall of a tube.
	Size     unit.Length
	OneFace  bool // heated from one face only, as a tube with closed ends
	Hydrated bool // holds water
	Dry      bool // was dried before
	Elastic
	Diffusivity float64 // [m²/s]
}

// ColdOf makes it of a stone as [contents.Finder.ParseInside] reads it. ok is false for
// a metal, which needs no warming.
func ColdOf(in contents.Inside) (c Cold, ok bool) {
	m := in.Material
	c = Cold{Name: m.Name, Form: sim.Sphere, Size: in.Size, Hydrated: m.Hydrated, Dry: in.Dry, Diffusivity: m.Diffusivity,
		Elastic: Elastic{unit.Stress(m.Young.High), m.Poisson.Number, m.Expansion.High}}
	if in.Shape == contents.Flat {
		c.Form, c.Size = sim.Slab, in.Thick
	}
	if m.Glass != nil {
		c.Diffusivity = m.Glass.Diffusivity(unit.Celsius(100))
	}
	return c, m.Kind != contents.Metal && in.Shape != contents.Foil
}

// ColdGlass makes it of a piece of glass.
func ColdGlass(g *glass.Glass, form sim.Form, size unit.Length, oneFace bool) Cold {
	return Cold{Name: g.Name, Form: form, Size: size, OneFace: oneFace,
		Elastic:     Elastic{unit.Stress(g.Young.Number), g.Poisson.Number, g.Expansion.Number},
		Diffusivity: g.Diffusivity(unit.Celsius(100))}
}

// Why is the reason for a stage.
type Why int

// The reasons.
const (
	FreeWater     Why = iota + 1 // water between the grains leaves: 100 to 120 °C
	ShrinkCracks                 // stones kept in water crack from shrinking: up to 150 °C
	PoreWater                    // water in open pores leaves: 200 °C
	ClosedPores                  // superheated water in closed pores bursts a stone: 300 °C
	LastWater                    // the last water leaves: by 422 °C, held at 450 °C
	KeepHot                      // from here to the flame without cooling: at the end
	DryingRate                   // drying sets the rate: judged
	ThermalRate                  // the thickest sets the rate by its thermal tension: computed
	OrdinaryRate                 // everything here would bear more
	SizeSetsHolds                // the largest stone sets the holds
)

// Stage is one part of a warm-up: a ramp to a temperature and a hold there.
type Stage struct {
	Rate    unit.Rate
	To      unit.Temp
	Hold    time.Duration // 0 at the end: until it goes into the flame
	Reasons []Why
	Sources []string // keys of [contents.Sources]
}

// WarmUp is the program that brings what is cold to the flame.
type WarmUp struct {
	Stages []Stage
	Total  time.Duration // from the room until it is ready
	Slow   string        // what sets the rate
	Rate   unit.Rate     // the greatest that the slowest of them bears, by thermal tension alone
}

// What the warm-up keeps to. The facts behind the temperatures are in abstracts
// (chauvire2023, buerger1972, thomas2007) [verified]; rate and lengths of holds
// are judged from them, for a stone of 10 mm, and grow with the square of its
// size, as drying does [judgment].
const (
	dryingRate    = 50.0 / 3600 // [K/s]
	ordinaryRate  = 300.0 / 3600
	warmTension   = 3.5 * unit.Megapascal
	judgedSize    = 10 * unit.Millimeter
	dryingHold    = 4 * time.Hour
	warmHold      = time.Hour
	longestDrying = 24 * time.Hour
)

// lastWater is where the last water is gone, with its margin.
var lastWater = unit.Celsius(450)

// DryAt returns the temperature at which the last water has left a stone.
func DryAt() unit.Temp { return lastWater }

// HeatingLimit returns the steady rate at which the thermal tension in the
// middle of a thing reaches a limit while it is heated.
//
// The coefficient is 15 for a sphere and 8 for a rod by their radius, 6 for a
// flat one by half its thickness, or all of it if one face is heated:
// q = n κ σ (1−ν)/(E α L²) (timoshenko1970).
func (c Cold) HeatingLimit(limit unit.Stress) unit.Rate {
	positive("diffusivity", c.Diffusivity)
	n, l := 15.0, float64(c.Size/2)
	switch {
	case c.Form == sim.Cylinder:
		n = 8
	case c.Form == sim.Slab && c.OneFace:
		n, l = 6, float64(c.Size)
	case c.Form == sim.Slab:
		n = 6
	}
	return unit.Rate(n * c.Diffusivity * float64(limit) * (1 - c.Poisson) / (float64(c.Young) * c.Expansion * l * l))
}

// PlanWarmUp returns how to dry and warm things from the room to a temperature
// at which they may wait for the flame: at least 450 °C where one holds water,
// and top (default 450 °C).
//
// With nothing that holds water it is one ramp, at the rate that the thickest
// bears. Errors: when there is nothing to warm, or top is too low.
func PlanWarmUp(things []Cold, top unit.Temp) (WarmUp, error) {
	if len(things) == 0 {
		return WarmUp{}, errors.New("warm-up: nothing to warm")
	}
	if top.IsZero() {
		top = lastWater
	}
	w := WarmUp{Rate: unit.Rate(math.Inf(1))}
	var wet, undried unit.Length
	for _, c := range things {
		positive("size", float64(c.Size))
		if q := c.HeatingLimit(warmTension); q < w.Rate {
			w.Rate, w.Slow = q, c.Name
		}
		if c.Hydrated {
			wet = max(wet, c.Size)
			if !c.Dry {
				undried = max(undried, c.Size)
			}
		}
	}
	if wet > 0 && top.Less(lastWater) || top.Celsius() < 100 {
		return WarmUp{}, errors.New("warm-up: must end at " + lastWater.Text(unit.Metric) + " or hotter, where the last water has left a stone")
	}
	at := Room()
	put := func(rate unit.Rate, to unit.Temp, hold time.Duration, sources []string, why ...Why) {
		w.Stages = append(w.Stages, Stage{rate, to, hold, why, sources})
		w.Total += unit.Seconds(float64(to.Sub(at))/float64(rate)) + hold
		at = to
	}
	if wet == 0 {
		rate, why := w.Rate, ThermalRate
		if rate > ordinaryRate {
			rate, why = ordinaryRate, OrdinaryRate
		}
		put(rate, top, 0, nil, why, KeepHot)
		return w, nil
	}
	rate, why := w.Rate, ThermalRate
	if rate > dryingRate {
		rate, why = dryingRate, DryingRate
	}
	scaled := func(hold time.Duration, size unit.Length) time.Duration {
		f := math.Max(1, math.Pow(float64(size/judgedSize), 2))
		return min(longestDrying, time.Duration(f*float64(hold)).Round(time.Minute))
	}
	dry := scaled(warmHold, wet)
	if undried > 0 {
		dry = scaled(dryingHold, undried)
	}
	hold := scaled(warmHold, wet)
	opal := []string{"chauvire2023"}
	put(rate, unit.Celsius(110), dry, nil, FreeWater, SizeSetsHolds, why)
	put(rate, unit.Celsius(150), hold, opal, ShrinkCracks)
	put(rate, unit.Celsius(200), hold, []string{"thomas2007"}, PoreWater)
	put(rate, unit.Celsius(300), hold, opal, ClosedPores)
	put(rate, lastWater, hold, []string{"buerger1972"}, LastWater)
	if lastWater.Less(top) {
		put(rate, top, 0, nil, KeepHot)
	} else {
		w.Stages[len(w.Stages)-1].Reasons = append(w.Stages[len(w.Stages)-1].Reasons, KeepHot)
	}
	return w, nil
}

// Beside reports whether the warm-up can run in a kiln that keeps finished
// pieces between two temperatures: every stage must lie between them. If not,
// conflict is the first stage that does not, from 0.
func (w WarmUp) Beside(low, high unit.Temp) (conflict int, fits bool) {
	at := Room()
	for i, s := range w.Stages {
		if at.Less(low) || high.Less(s.To) {
			return i, false
		}
		at = s.To
	}
	return 0, true
}
