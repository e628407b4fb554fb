package sim

import (
	"math"
	"strconv"
	"strings"

	"lehr/glass"
	"lehr/glass/cases"
)

// clearGlass is the borosilicate of the radiation study: one Maxwell term on
// the strain-anneal-soften curve, no structural relaxation.
func clearGlass(t cases.T) (*glass.Glass, Material, []Variant) {
	g, err := glass.Find("borosilicate-33")
	if err != nil {
		t.Fatal(err)
	}
	m, v := boro()
	m.Shear = nil
	v = v[:1]
	v[0].ExpansionLiquid = 0
	return g, m, v
}

// optics is what a glass of the table does to its own heat.
func optics(g *glass.Glass) Optics {
	o := Optics{Index: g.InfraredIndex.Number}
	for _, b := range g.Absorption {
		o.Bands = append(o.Bands, Band{b.To, b.Number})
	}
	return o
}

// lit makes p a piece of a kind of the study: effective (the conductivity that
// contains radiation), opaque, clear, a number for a glass that absorbs at least
// that much, or a clear one with a mirror or a black layer.
func lit(t cases.T, p Problem, kind string, cells int) Problem {
	t.Helper()
	if kind == "effective" {
		return p
	}
	g, err := glass.Find("borosilicate-33")
	if err != nil {
		t.Fatal(err)
	}
	p.Material.Conductivity = g.ConductivityPhonon.At
	if kind == "opaque" {
		return p
	}
	o, in := optics(g), Layer{}
	word, depth, layered := strings.Cut(kind, " ")
	if layered {
		if in.Rho, err = strconv.ParseFloat(depth, 64); err != nil {
			t.Fatal(err)
		}
		in.Black = word == "black"
	} else if least, err := strconv.ParseFloat(kind, 64); err == nil {
		o = o.least(least)
	} else if kind != "clear" {
		t.Fatalf("kind %q", kind)
	}
	if p.Light, err = NewLight(p.Body, o, in, cells); err != nil {
		t.Fatal(err)
	}
	return p
}

// raysCase is a sphere of 40 cells with a parabola of emission.
func raysCase(t cases.T, in cases.Values) cases.Values {
	R := in.Float("radius_m")
	l := rayed(t, Body{Form: Sphere, Outer: R}, in.Float("index"), in.Float("absorption"), Layer{}, 40)
	e := make([]float64, 41)
	for i, r := range l.r {
		e[i] = 1 + 0.1*(1-(r/R)*(r/R))
	}
	q := outward(l, e, 1)
	half := 0.0 // between the two faces around R/2
	for f := 2; f <= 40; f++ {
		a, b := 0.5*(l.r[f-2]+l.r[f-1]), 0.5*(l.r[f-1]+l.r[f])
		if a <= R/2 && R/2 < b {
			half = q[f-1]/(a*a) + (q[f]/(b*b)-q[f-1]/(a*a))*(R/2-a)/(b-a)
		}
	}
	for i := range e {
		e[i] = 1
	}
	return cases.Values{"flux_half": half, "flux_surface": q[41] / (R * R), "emission_even": outward(l, e, 0)[41] / (R * R)}
}

// coolingCase cools from 560 °C to 450 °C at the rate, then to 40 °C.
func coolingCase(t cases.T, in cases.Values) cases.Values {
	_, m, v := clearGlass(t)
	form := map[string]Form{"sphere": Sphere, "cylinder": Cylinder, "slab": Slab}[in.Text("form")]
	p := Problem{Body: Body{Form: form, Outer: in.Float("size_mm") / 2000}, Material: m, Variants: v, Surface: air, Start: uniform(560), Room: 298.15}
	slow := 1 + 110/in.Float("rate")
	fast := slow + 410/in.Float("then")
	p.Kiln = program([2]float64{0, 560}, [2]float64{1, 560}, [2]float64{slow, 450}, [2]float64{fast, 40}, [2]float64{fast + 5, 40})
	p = lit(t, p, in.Text("glass"), 0)
	o := must(t, p, Settings{}).Outcomes[0]

	p.Kiln.Kinks = []float64{3600, 3600 * (1 + 60/in.Float("rate"))} // the kiln at 500 °C
	r := runTo(t, p, Settings{})
	n := r.heat.n
	return cases.Values{"tension_MPa": o.Peak / 1e6, "left_MPa": o.Residual.Plane[0] / 1e6,
		"difference_K": r.heat.temp[0] - r.heat.temp[n], "lag_K": r.heat.average() - 773.15}
}

// outageCase follows the program until the power fails; the kiln then falls to
// 25 °C by itself.
func outageCase(t cases.T, in cases.Values) cases.Values {
	_, m, v := clearGlass(t)
	fails := in.Float("fails_C")
	at, tau := 3600*(1+math.Max(0, 560-fails)/60), 3600*in.Float("time_constant_h")
	if fails < 450 {
		at = 3600 * (1 + 110.0/60 + (450-fails)/200)
	}
	before := program([2]float64{0, 560}, [2]float64{1, 560}, [2]float64{1 + 110.0/60, 450}, [2]float64{1 + 110.0/60 + 410.0/200, 40})
	p := Problem{Body: Body{Form: Sphere, Outer: in.Float("size_mm") / 2000}, Material: m, Variants: v, Surface: air, Start: uniform(560), Room: 298.15}
	p.Kiln.At = func(s float64) float64 {
		if s <= at {
			return before.At(s)
		}
		return 298.15 + (fails-25)*math.Exp(-(s-at)/tau)
	}
	for _, k := range append(before.Kinks, at) {
		if k <= at && (len(p.Kiln.Kinks) == 0 || k > p.Kiln.Kinks[len(p.Kiln.Kinks)-1]) {
			p.Kiln.Kinks = append(p.Kiln.Kinks, k)
		}
	}
	p.Kiln.Kinks = append(p.Kiln.Kinks, at+6*tau)
	skin := 0.0 // the study gives the tension of the surface
	o := must(t, p, Settings{Record: func(s Sample) { skin = max(skin, s.SurfaceStress) }}).Outcomes[0]
	return cases.Values{"tension_MPa": skin / 1e6, "left_MPa": o.Residual.Plane[0] / 1e6}
}

// doorCase opens a kiln at rest for a while: its air falls within five seconds
// and recovers in five minutes.
func doorCase(t cases.T, in cases.Values) cases.Values {
	_, m, v := clearGlass(t)
	at, dip, stays := in.Float("at_C"), in.Float("dip_K"), in.Float("stays_s")
	h := func(s float64) float64 { return s / 3600 }
	p := Problem{Body: Body{Form: Sphere, Outer: in.Float("size_mm") / 2000}, Material: m, Variants: v, Surface: air, Start: uniform(at), Room: 298.15,
		Kiln: program([2]float64{0, at}, [2]float64{h(600), at}, [2]float64{h(605), at - dip}, [2]float64{h(605 + stays), at - dip}, [2]float64{h(905 + stays), at}, [2]float64{h(4505 + stays), at})}
	return cases.Values{"tension_MPa": must(t, p, Settings{}).Outcomes[0].Peak / 1e6}
}

func rayed(t cases.T, b Body, index, absorption float64, in Layer, cells int) *Light {
	t.Helper()
	l, err := NewLight(b, Optics{Index: index, Bands: []Band{{5e-6, absorption}}}, in, cells)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// outward returns the heat outward through each face, times its area.
func outward(l *Light, e []float64, kiln float64) []float64 {
	n := len(l.r) - 1
	sum := make([]float64, n+2)
	for i := range n + 1 {
		gain := l.gain[0][i][n+1] * kiln
		for j, x := range e {
			gain += l.gain[0][i][j] * x
		}
		sum[i+1] = sum[i] - gain
	}
	return sum
}
