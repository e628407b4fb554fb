package sim

import (
	"math"

	"lehr/glass/cases"
)

// quenchedCase drops spheres of a glass of the table, hot as they are, into
// water: the greatest compression left at the surface over the first and the
// last of the sizes, and the least.
func quenchedCase(t cases.T, in cases.Values) cases.Values {
	_, m, v := fromTable(t, in.Text("glass"))
	var out []float64
	for _, d := range in.Floats("D_mm") {
		p := Problem{Body: Body{Form: Sphere, Outer: d / 2000}, Material: m, Variants: v[:1], Surface: Surface{HeatTransfer: in.Float("film_W_m2K")},
			Kiln: Kiln{At: constant(in.Float("water_C") + zeroCelsius), Kinks: []float64{2000}}, Start: uniform(in.Float("start_C")), Room: 293.15}
		o := must(t, p, Settings{Cells: 48, Tolerance: 0.02, MaxChange: 2}).Outcomes[0]
		out = append(out, -o.Residual.Plane[len(o.Residual.Plane)-1]/1e6)
	}
	return cases.Values{"surface_compression_MPa": out}
}

// enduranceCase drops cold plates of borosilicate 3.3 into water of 20 °C: the
// greatest tension at the surface.
func enduranceCase(t cases.T, in cases.Values) cases.Values {
	_, m, v := fromTable(t, in.Text("glass"))
	at := func(transfer float64) (out []float64) {
		for i, mm := range in.Floats("thickness_mm") {
			most := 0.0
			p := Problem{Body: Body{Form: Slab, Outer: mm / 2000}, Material: m, Variants: v[:1], Surface: Surface{HeatTransfer: transfer},
				Kiln: Kiln{At: uniform(20), Kinks: []float64{300}}, Start: uniform(20 + in.Floats("drop_into_water_K")[i]), Room: 293.15}
			must(t, p, Settings{Cells: 64, Tolerance: 0.02, MaxChange: 1, Record: func(s Sample) { most = max(most, s.SurfaceStress) }})
			out = append(out, most/1e6)
		}
		return out
	}
	return cases.Values{"surface_tension_film_3000_MPa": at(3000), "surface_tension_film_10000_MPa": at(10000)}
}

// shareCase gives the share of structure in the stress of a plate, for paces of
// structure relative to that of stress.
func shareCase(t cases.T, in cases.Values) cases.Values {
	share := func(p Problem, ratio float64) float64 {
		g := p.Material.Young / 2 / (1 + p.Material.Poisson)
		p.Material.Structural, p.Material.StructuralModulus = meanOne(sodaStructural), g/ratio
		with := residual(t, p)["center_MPa"].(float64)
		p.Variants = []Variant{{A: p.Variants[0].A, B: p.Variants[0].B}}
		return 1 - residual(t, p)["center_MPa"].(float64)/with
	}
	half := in.Float("plate_thickness_mm") / 2000
	var annealed, tempered []float64
	for _, ratio := range in.Floats("lambda_over_tau") {
		annealed = append(annealed, share(constantRate(Slab, half, in.Float("surface_rate_K_per_s"), true), ratio))
		tempered = append(tempered, share(temper(half, 738, 221.5, 55000, 25e-6), ratio))
	}
	return cases.Values{"share_annealing": annealed, "share_tempering_738C_221p5_W_m2K": tempered}
}

// logRateCase gives how far the fictive temperature lies from a straight line
// against the logarithm of the rate, over the whole change.
func logRateCase(t cases.T, in cases.Values) cases.Values {
	var x, y []float64
	for _, rate := range in.Floats("rates_K_per_h") {
		x, y = append(x, math.Log10(rate)), append(y, fictive(t, in.Text("glass"), int(in.Float("curve")), rate))
	}
	n := len(x) - 1
	worst := 0.0
	for i := range x {
		line := y[0] + (y[n]-y[0])*(x[i]-x[0])/(x[n]-x[0])
		worst = max(worst, math.Abs(y[i]-line)/(y[n]-y[0]))
	}
	return cases.Values{"off_the_line_over_the_change": worst}
}

// birefringenceCase gives what is left in a borosilicate crown per square of
// its size and rate: along the axis of a long cylinder at its rim, and in a slab
// seen edge-on.
func birefringenceCase(t cases.T, in cases.Values) cases.Values {
	_, m, v := fromTable(t, in.Text("glass"))
	one := v[:1]
	one[0].ExpansionLiquid = in.Float("alpha_liquid_per_K")
	soak, to, c := in.Float("soak_C"), in.Float("to_C"), in.Float("stress_optic_Brewster")
	var rim, middle, surface []float64
	for _, d := range in.Floats("D_or_thickness_mm") {
		for _, rate := range in.Floats("rates_K_per_h") {
			h := 2 + (soak-to)/rate
			p := Problem{Material: m, Variants: one, Surface: Surface{Follows: true}, Start: uniform(soak), Room: 293.15,
				Kiln: program([2]float64{0, soak}, [2]float64{2, soak}, [2]float64{h, to}, [2]float64{h + (to-20)/(3*rate), 20})}
			per := c * 10 / 1e6 / (d * d * rate) // 1 Brewster × 1 MPa is 10 nm/cm
			p.Body = Body{Form: Cylinder, Outer: d / 2000}
			plane := must(t, p, Settings{}).Outcomes[0].Residual.Plane
			rim = append(rim, math.Abs(plane[len(plane)-1])*per)
			p.Body.Form = Slab
			plane = must(t, p, Settings{}).Outcomes[0].Residual.Plane
			middle, surface = append(middle, math.Abs(plane[0])*per), append(surface, math.Abs(plane[len(plane)-1])*per)
		}
	}
	return cases.Values{"cylinder_rim_nm_per_cm_per_mm2_K_h": rim, "slab_middle_nm_per_cm_per_mm2_K_h": middle, "slab_surface_nm_per_cm_per_mm2_K_h": surface}
}

// temperedCase tempers the two plates of the sets of soda-lime glass.
func temperedCase(t cases.T, _ cases.Values) cases.Values {
	a, b := residual(t, temper(0.00305, 738, 221.5, 55000, 25e-6)), residual(t, temper(0.002, 650, 450, 76200, 32e-6))
	return cases.Values{"surface_compression_MPa": []float64{-a.Float("surface_MPa"), -b.Float("surface_MPa")}}
}

// spectrumCase gives the exponent of the stretched exponential that has the
// first two moments of the set which stands for every glass.
func spectrumCase(t cases.T, _ cases.Values) cases.Values {
	beta := func(set []Term) float64 {
		mean, second := 0.0, 0.0
		for _, s := range set {
			mean, second = mean+s.Weight*s.Time, second+s.Weight*s.Time*s.Time
		}
		want := second / (mean * mean)
		low, high := 0.2, 1.0
		for range 60 {
			mid := (low + high) / 2
			if g := math.Gamma(1 + 1/mid); math.Gamma(2/mid)/mid/(g*g) > want {
				low = mid
			} else {
				high = mid
			}
		}
		return low
	}
	return cases.Values{"beta_stress": beta(sodaTerms), "beta_structure": beta(sodaStructural)}
}
