package sim

import (
	"math"

	"lehr/glass"
	"lehr/glass/cases"
)

// Cases answers the cases of testdata/cases that name this package.
func Cases() map[string]cases.Compute {
	return map[string]cases.Compute{"Run": runCase, "SodaLime": sodaLimeCase, "Scipy": scipyCase,
		"Rays": raysCase, "Cooling": coolingCase, "Outage": outageCase, "Door": doorCase,
		"FictiveShift": fictiveShiftCase, "Quenched": quenchedCase, "Endurance": enduranceCase,
		"ShareByRatio": shareCase, "LogRate": logRateCase, "Birefringence": birefringenceCase, "Tempered": temperedCase, "Spectrum": spectrumCase}
}

func runCase(t cases.T, in cases.Values) cases.Values {
	share := func(p Problem) (share float64) {
		with := residual(t, p)
		without := p
		without.Variants = []Variant{{A: p.Variants[0].A, B: p.Variants[0].B}}
		return 1 - residual(t, without)["center_MPa"].(float64)/with["center_MPa"].(float64)
	}
	if in.Has("process") {
		switch in.Text("process") {
		case "sheet annealed by linear cooling":
			s := share(constantRate(Slab, 0.00305, 0.05, true))
			return cases.Values{"share_of_residual_from_structural_relaxation": s, "share_thermoelastic": 1 - s}
		case "relaxation of structure and of stress":
			mean := sodaLimeCase(t, cases.Values{})["lambda_over_tau"].(float64)
			return cases.Values{"struct_rate_over_stress_rate": 1 / mean}
		default:
			return cases.Values{"share_of_residual_from_structural_relaxation": share(temper(0.00305, 738, 221.5, 55000, 25e-6))}
		}
	}
	if in.Has("h_W_m2K") {
		return residual(t, temper(in.Float("thickness_mm")/2000, in.Float("T0_C"), in.Float("h_W_m2K"), in.Float("H_over_R_K"), in.Float("alpha_liquid")))
	}
	if in.Text("shape") == "plate" {
		return residual(t, constantRate(Slab, in.Float("thickness_mm")/2000, in.Float("surface_rate_K_s"), in.True("structural_relaxation")))
	}
	out := residual(t, constantRate(Sphere, in.Float("D_mm")/2000, in.Float("surface_rate_K_s"), true))
	off := residual(t, constantRate(Sphere, in.Float("D_mm")/2000, in.Float("surface_rate_K_s"), false))
	out["structure_off_MPa"] = -off["surface_MPa"].(float64)
	return out
}

// constantRate cools from 650 °C to 20 °C, the surface falling evenly [K/s].
func constantRate(form Form, size, rate float64, structure bool) Problem {
	m, v := duffrene(structure)
	return Problem{Body: Body{Form: form, Outer: size}, Material: m, Variants: v, Surface: Surface{Follows: true},
		Kiln:  program([2]float64{0, 650}, [2]float64{630 / rate / 3600, 20}),
		Start: uniform(650), Room: 293.15}
}

// temper blows a plate of half thickness size [m] with air of 20 °C.
func temper(size, start, transfer, activation, liquid float64) Problem {
	m, v := duffrene(true)
	v[0].B = activation / math.Ln10
	v[0].A = 10.458 - v[0].B/869
	v[0].ExpansionLiquid = liquid
	return Problem{Body: Body{Form: Slab, Outer: size}, Material: m, Variants: v, Surface: Surface{HeatTransfer: transfer},
		Kiln: Kiln{At: constant(293.15), Kinks: []float64{1500}}, Start: uniform(start), Room: 293.15}
}

func residual(t cases.T, p Problem) cases.Values {
	o := must(t, p, Settings{Cells: 48, Tolerance: 0.02, MaxChange: 2}).Outcomes[0]
	n := len(o.Residual.Plane) - 1
	return cases.Values{"center_MPa": o.Residual.Plane[0] / 1e6, "surface_MPa": o.Residual.Plane[n] / 1e6,
		"Tf_C": o.FictiveCenter - zeroCelsius}
}

// sodaLimeCase checks that the set the tests run with is the published one.
func sodaLimeCase(t cases.T, in cases.Values) cases.Values {
	m, v := duffrene(true)
	g := m.Young / 2 / (1 + m.Poisson)
	out := cases.Values{"E_GPa": m.Young / 1e9, "nu": m.Poisson, "K_inf_over_K0": m.BulkLong, "x": m.fill().Nonlinearity,
		"T_ref_K": 869.0, "alpha_glass": m.Expansion, "alpha_liquid": v[0].ExpansionLiquid, "H_over_R_K": v[0].B * math.Ln10}
	split := func(set []Term, scale float64) (w, tau []float64, sum, mean float64) {
		for _, s := range set {
			w, tau = append(w, s.Weight), append(tau, s.Time*scale)
			sum += s.Weight
			mean += s.Weight * s.Time * scale
		}
		return w, tau, sum, mean
	}
	var shear, structural float64
	out["shear_weights"], out["shear_tau_s"], out["sum_shear"], shear = split(m.Shear, 1)
	out["bulk_weights"], out["bulk_tau_s"], out["sum_bulk"], _ = split(m.Bulk, 1)
	out["struct_weights"], out["struct_lambda_s"], _, structural = split(m.Structural, g/m.StructuralModulus)
	out["mean_shear_tau_s"], out["mean_struct_lambda_s"], out["lambda_over_tau"] = shear, structural, structural/shear
	state := &glassState{v: v[0]}
	out["log10_eta_Pa_s"] = math.Log10(g * shear)
	near(t, "viscosity of the curve at 869 K", state.v.Log10(869), math.Log10(g*shear), 0, 1e-3)
	out["T_at_1e12_C"] = v[0].B/(12-v[0].A) - zeroCelsius
	out["T_at_1e13p5_C"] = v[0].B/(13.5-v[0].A) - zeroCelsius
	if in.Has("T_C") {
		k := in.Float("T_C") + zeroCelsius
		out["k_W_mK"], out["cp_J_kgK"], out["rho"] = m.Conductivity(k), m.SpecificHeat(k), m.Density
		out["kappa_m2_s"] = m.Conductivity(k) / m.SpecificHeat(k) / m.Density
	}
	if in.Has("set") { // the problem of 2018 as it is run
		p := temper(0.002, 650, 450, 76200, 32e-6)
		out["H_over_R_K"], out["alpha_liquid"] = p.Variants[0].B*math.Ln10, p.Variants[0].ExpansionLiquid
		out["thickness_mm"], out["T0_C"], out["h_W_m2K"] = 2000*p.Body.Outer, p.Start(0)-zeroCelsius, p.Surface.HeatTransfer
		out["T_air_C"] = p.Kiln.At(0) - zeroCelsius
	}
	return out
}

// fromTable makes a glass of the table a problem's material, with a variant
// for each of its viscosity curves at the middle of the range of the liquid
// expansion.
func fromTable(t cases.T, name string) (*glass.Glass, Material, []Variant) {
	g, err := glass.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	curves, err := g.Curves()
	if err != nil {
		t.Fatal(err)
	}
	m := Material{Density: g.Density.Number, Conductivity: g.Conductivity.At, SpecificHeat: g.SpecificHeat.At,
		Young: g.Young.Number, Poisson: g.Poisson.Number, Expansion: g.Expansion.Number, Shear: meanOne(sodaTerms)}
	var v []Variant
	for _, c := range curves {
		v = append(v, Variant{Name: c.Name, A: c.A, B: c.B, T0: c.T0, Straight: c.Straight.Kelvin(), ExpansionLiquid: g.ExpansionLiquid.Number})
	}
	return g, m, v
}

// fictive is the fictive temperature of a slab so thin that it has no gradient,
// cooled at a rate [K/h], on one curve of a glass of the table [K].
func fictive(t cases.T, name string, which int, perHour float64) float64 {
	g, m, v := fromTable(t, name)
	top, bottom := g.Anneal.Number-zeroCelsius+40, 60.0 // the fast terms move far below the strain point
	return must(t, Problem{Body: Body{Form: Slab, Outer: 1e-4}, Material: m, Variants: []Variant{v[which]}, Surface: Surface{Follows: true},
		Kiln: program([2]float64{0, top}, [2]float64{(top - bottom) / perHour, bottom}), Start: uniform(top)}, Settings{Tolerance: 0.02, MaxChange: 2}).Outcomes[0].FictiveCenter
}

// fictiveShiftCase cools a slab so thin that it has no gradient at two rates:
// the fictive temperature it is left with shifts by what its viscosity says,
// and its density by what its liquid expands.
func fictiveShiftCase(t cases.T, in cases.Values) cases.Values {
	_, m, v := fromTable(t, in.Text("glass"))
	curve := v[int(in.Float("curve"))]
	slow, fast := in.Float("slow_K_per_h"), in.Float("fast_K_per_h")
	which := int(in.Float("curve"))
	a, b := fictive(t, in.Text("glass"), which, slow), fictive(t, in.Text("glass"), which, fast)
	mid := (a + b) / 2
	const h = 0.01
	slope := math.Ln10 * (curve.Log10(mid-h) - curve.Log10(mid+h)) / (1/(mid-h) - 1/(mid+h))
	return cases.Values{"slope_over_viscosity_slope": math.Log(fast/slow) / (1/a - 1/b) / slope,
		"density_change_per_decade": 3 * (curve.ExpansionLiquid - m.Expansion) * (b - a) / math.Log10(fast/slow)}
}

// scipyCase answers the cases of testdata/cases/scipy.toml, which a stiff
// integrator of a general-purpose library computed on a grid of its own
// (testdata/cases/scipy_heat.py).
func scipyCase(t cases.T, in cases.Values) cases.Values {
	if in.Has("relaxation") {
		return scipySlab(t, in.Text("relaxation"))
	}
	m, v := boro()
	core := in.Float("core_above_K")
	looks := in.Floats("look_h")
	kiln := program([2]float64{0, 560}, [2]float64{0.5, 560}, [2]float64{1.5, 480}, [2]float64{2.5, 300}, [2]float64{4, 60})
	p := Problem{Body: Body{Form: Form(in.Float("power")), Outer: in.Float("size_m")}, Material: m, Variants: v[:1], Surface: air,
		Start: func(rho float64) float64 { return 833.15 + core*(1-rho*rho) }}
	var center, surface []float64
	for _, h := range looks {
		p.Kiln = Kiln{At: kiln.At}
		for _, k := range kiln.Kinks {
			if k < h*3600 {
				p.Kiln.Kinks = append(p.Kiln.Kinks, k)
			}
		}
		p.Kiln.Kinks = append(p.Kiln.Kinks, h*3600)
		temp := must(t, p, Settings{Cells: 48, Tolerance: 0.01, MaxChange: 4}).Temperature
		center, surface = append(center, temp[0]), append(surface, temp[48])
	}
	return cases.Values{"center_K": center, "surface_K": surface}
}

// scipySlab is the slab of scipy_heat.py.
func scipySlab(t cases.T, kind string) cases.Values {
	m, _ := plain()
	m.Conductivity = constant(5e-7 * 2500 * 1000)
	if kind == "series" {
		m.Shear = []Term{{0.2, 0.05}, {0.5, 0.8}, {0.3, 1.9666666666666668}}
		m.Bulk, m.BulkLong = []Term{{0.4, 0.1}, {0.6, 1.5}}, 0.3
	}
	o := must(t, Problem{Body: Body{Form: Slab, Outer: 0.008}, Material: m, Variants: []Variant{{A: -1.5, B: 4000, T0: 520}},
		Surface: Surface{Follows: true}, Start: uniform(620), Room: 293.15,
		Kiln: program([2]float64{0, 620}, [2]float64{0.02, 620}, [2]float64{0.1, 440}, [2]float64{0.15, 518}, [2]float64{0.32, 518}, [2]float64{0.7, 20})},
		Settings{Cells: 48, Tolerance: 0.01, MaxChange: 1}).Outcomes[0]
	return cases.Values{"surface_MPa": o.Residual.Plane[48] / 1e6, "center_MPa": o.Residual.Plane[0] / 1e6, "peak_MPa": o.Peak / 1e6}
}
