package shortest

import (
	"math"
	"time"

	"lehr/anneal/program"
	"lehr/glass/unit"
)

// By how much a variation changes the soak and what leads to it. A soak elsewhere is
// as long as the ladder says, or a little longer, which the coarse simulation cannot
// tell; a longer one leaves glass that is nearer to what it is when cold, or pays for
// quicker heating, on whose way glass relaxes, too. Of two ramps that heat, one goes
// faster and farther.
var (
	soakBy     = []float64{-25, -15, -8, -4, 4, 8, 15, 25} // [K]
	soakLonger = []float64{1, 1.05, 1.1}
	holdBy     = []float64{1.15, 1.4, 2}
	heatFaster = []float64{1.02, 1.05, 1.1}
	heatBy     = []float64{0.96, 1.02, 1.04, 1.08}
	heatSteps  = []float64{-6, -3, 3, 6, 10} // [degrees of the controller]
)

// heating varies what comes before the cooling.
func (v *varier) heating(soak int) {
	c := v.sv.st.Controller
	for i := range soak {
		seg := v.s.Segments[i]
		for _, by := range heatBy {
			r, err := c.Rate(seg.Rate * unit.Rate(by))
			if err != nil {
				continue
			}
			for _, step := range heatSteps {
				v.try(3<<(2*i), func(segs []program.Segment) {
					segs[i].Rate, segs[i].To = r, seg.To.Add(unit.Delta(step)*c.SetStep())
				})
			}
		}
	}
	if soak < 0 {
		return
	}
	was := v.s.Segments[soak]
	for _, by := range holdBy {
		hold := c.Hold(time.Duration(by * float64(was.Hold)))
		v.try(1<<(2*soak), func(segs []program.Segment) { segs[soak].Hold = hold })
	}
	for _, by := range heatFaster {
		r, err := c.Rate(was.Rate * unit.Rate(by))
		if err != nil || was.Rate == 0 {
			break
		}
		for _, more := range soakLonger[1:] {
			hold := c.Hold(time.Duration(more * float64(was.Hold)))
			v.try(3<<(2*soak), func(segs []program.Segment) { segs[soak].Rate, segs[soak].Hold = r, hold })
		}
	}
	v.soaks(soak)
}

// soaks tries other soaks, heated to as the ladder says.
func (v *varier) soaks(soak int) {
	c, was := v.sv.st.Controller, v.s.Segments[soak]
	for _, by := range soakBy {
		to, longer, faster, ok := v.sv.soakElsewhere(v.s, soak, unit.Delta(by))
		if !ok {
			continue
		}
		for _, more := range soakLonger {
			hold := max(time.Minute, c.Hold(time.Duration(longer*more*float64(was.Hold))))
			v.try(3<<(2*soak), func(segs []program.Segment) { segs[soak].To, segs[soak].Hold = to, hold })
			if r, err := c.Rate(was.Rate * unit.Rate(faster)); err == nil && soak == 0 {
				v.try(3<<(2*soak), func(segs []program.Segment) { segs[soak].To, segs[soak].Hold, segs[soak].Rate = to, hold, r })
			}
		}
	}
}

// soakElsewhere is a soak hotter than that of a program: where it is, and by which factors
// it is longer and heated to faster, as the ladder says. It is none where the program begins
// with its soak or holds it in several segments, nor where pieces do not bear it.
func (sv *solver) soakElsewhere(s program.Schedule, soak int, by unit.Delta) (to unit.Temp, longer, faster float64, ok bool) {
	was := s.Segments[soak]
	if was.To == s.From || soak > 0 && s.Segments[soak-1].To == was.To {
		return was.To, 1, 1, false
	}
	to = sv.st.Controller.Temp(was.To.Add(by))
	wasHold, wasRate := sv.soaks.soakAt(was.To.Kelvin())
	hold, rate := sv.soaks.soakAt(to.Kelvin())
	longer, faster = hold/wasHold, rate/wasRate
	borne := !to.Less(sv.frame.Coolest) && !sv.frame.Hottest.Less(to)
	return to, longer, faster, borne && (soak == 0 || s.Segments[soak-1].To.Less(to)) && !math.IsInf(longer, 0) && !math.IsNaN(longer)
}

// soakAt is how long a soak must be [s], and how fast it may be heated to at first
// [K/s], between the nodes of the ladder; not a number beyond them.
func (g grid) soakAt(kelvin float64) (hold, rate float64) {
	for a := range g.soaks - 1 {
		if kelvin > g.node[a] || kelvin < g.node[a+1] || len(g.heats[a]) == 0 || len(g.heats[a+1]) == 0 {
			continue
		}
		x := (g.node[a] - kelvin) / g.width(a)
		hold = math.Exp((1-x)*math.Log(g.hold[a]) + x*math.Log(g.hold[a+1]))
		return hold, (1-x)*g.heats[a][0].rate + x*g.heats[a+1][0].rate
	}
	return math.NaN(), math.NaN()
}
