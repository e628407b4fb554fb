package sim

import (
	"lehr/glass/cases"
)

// stepped runs the step: the body starts at 900 K, its surface at 800 K.
func stepped(t cases.T, form Form, fo float64) (center, mean float64) {
	m, v := plain()
	const size, kappa = 0.02, 4.6e-7
	r := runTo(t, Problem{Body: Body{Form: form, Outer: size}, Material: m, Variants: v, Surface: Surface{Follows: true},
		Kiln:  Kiln{At: constant(800), Kinks: []float64{fo * size * size / kappa}},
		Start: constant(900)}, Settings{Cells: 96, Tolerance: 0.002, MaxChange: 100})
	return (r.heat.temp[0] - 800) / 100, (r.heat.average() - 800) / 100
}

const rampRate = 0.05 // K/s, cooling

// ramped cools a body whose surface falls evenly from 900 K for the Fourier
// number fo.
func ramped(t cases.T, b Body, fo float64, s Settings) *run {
	m, v := plain()
	end := fo * (b.Outer - b.Inner) * (b.Outer - b.Inner) / 4.6e-7
	return runTo(t, Problem{Body: b, Material: m, Variants: v, Surface: Surface{Follows: true},
		Kiln:  Kiln{At: func(s float64) float64 { return 900 - rampRate*s }, Kinks: []float64{end}},
		Start: constant(900)}, s)
}

func steadyLag(form Form, size float64) float64 {
	return rampRate * size * size / (4.6e-7 * float64(2+2*form))
}

func startUp(t cases.T, form Form, fo float64) float64 {
	const size = 0.02
	r := ramped(t, Body{Form: form, Outer: size}, fo, Settings{Cells: 96, Tolerance: 1e-4, MaxChange: 100})
	return (r.heat.temp[0] - r.heat.temp[r.heat.n]) / steadyLag(form, size)
}

// Steps answers the closed forms of a step and of a ramp, which are cases of
// the formulas, by simulation.
func Steps() map[string]cases.Compute {
	out := map[string]cases.Compute{}
	for form, name := range map[Form]string{Slab: "SlabStep", Cylinder: "CylinderStep", Sphere: "SphereStep"} {
		out[name] = func(t cases.T, in cases.Values) cases.Values {
			center, mean := stepped(t, form, in.Float("Fo"))
			return cases.Values{"center_theta": center, "mean_theta": mean}
		}
	}
	out["SphereStartUp"] = func(t cases.T, in cases.Values) cases.Values {
		return cases.Values{"sphere_fraction": startUp(t, Sphere, in.Float("Fo")), "slab_fraction": startUp(t, Slab, in.Float("Fo"))}
	}
	return out
}
