package seal

import (
	"math"

	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// Instant is what the program alone does to a piece at one moment: the tension
// in its surface and in its middle.
type Instant struct {
	Seconds         float64
	Surface, Middle unit.Stress
}

// Instants takes them from what the simulation of a piece recorded.
func Instants(samples []sim.Sample) []Instant {
	out := make([]Instant, len(samples))
	for i, s := range samples {
		out[i] = Instant{s.Time, unit.Stress(s.SurfaceStress), unit.Stress(s.CenterStress)}
	}
	return out
}

// Combined is the tension of program and misfit together, at the same place and
// the same moment.
type Combined struct {
	SurfacePeak, MiddlePeak unit.Stress // greatest while the program runs
	SurfaceAt, MiddleAt     float64     // when [s]
	SurfaceLeft, MiddleLeft unit.Stress // what stays
}

// Combine adds the misfit of a piece to what the program does to it.
//
// To call it: simulate the piece with [sim.Settings].Record set, take the
// history at the seal with [HistoryAt] (depth 1 for a skin, 0 for a stone in the
// middle, 1 − depth/radius for one between), give it to [Judge] as the History
// of the problem, and hand the [Instants] of the same samples to Combine. left
// is the program's own stress at the room, its surface and middle as the
// simulation leaves them (factors for how the piece rests applied, as to the
// samples). Misfit grows with the fall of [Setting.At] at the time of the
// sample, so that the two meet in the same moment; both clocks begin with the
// program. The upper end of the misfit's range is what is added.
//
// The surface takes the greatest misfit of any place at the surface, the middle
// that of the core or of the glass at the stone.
func (r Report) Combine(during []Instant, left Instant) Combined {
	surface, middle := unit.Stress(math.Inf(-1)), unit.Stress(math.Inf(-1))
	for _, p := range r.Places {
		switch {
		case p.Kind.AtSurface():
			surface = max(surface, p.Hoop.High)
		case p.Kind == AtStone || p.Kind == InCore:
			middle = max(middle, p.Hoop.High)
		}
	}
	none := func(s unit.Stress) unit.Stress {
		if math.IsInf(float64(s), 0) {
			return 0
		}
		return s
	}
	surface, middle = none(surface), none(middle)
	out := Combined{SurfacePeak: surface + left.Surface, MiddlePeak: middle + left.Middle, SurfaceAt: left.Seconds, MiddleAt: left.Seconds,
		SurfaceLeft: surface + left.Surface, MiddleLeft: middle + left.Middle}
	for _, d := range during {
		share := unit.Stress(r.Falls.At(d.Seconds) / r.Falls.Fall)
		if s := d.Surface + surface*share; s > out.SurfacePeak {
			out.SurfacePeak, out.SurfaceAt = s, d.Seconds
		}
		if s := d.Middle + middle*share; s > out.MiddlePeak {
			out.MiddlePeak, out.MiddleAt = s, d.Seconds
		}
	}
	return out
}
