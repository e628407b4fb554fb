package sim

import (
	"math"
	"testing"

	"lehr/glass/casetest"
)

// TestPublished runs the cases of testdata/cases that name this package.
//
// The structural shares are the only published end-to-end results of a
// viscoelastic solver that were found. The margin obtained: 0.37 against 0.40
// in slow annealing; 0.30 against 0.24 in tempering, where the paper's own
// glass data are not known and the stress without structure is sensitive to
// them. Both lie within the tolerance of the cases, 0.06 and 0.08, which is
// what another solver with the same data needed; no tighter claim is made.
func TestPublished(t *testing.T) {
	casetest.Run(t, "sim", map[string]casetest.Compute{"Run": runCase, "SodaLime": sodaLimeCase, "Scipy": scipyCase,
		"Rays": raysCase, "Cooling": coolingCase, "Outage": outageCase, "Door": doorCase,
		"FictiveShift": fictiveShiftCase})
}

func runCase(t testing.TB, in casetest.Values) casetest.Values {
	share := func(p Problem) (share float64) {
		with := left(t, p)
		without := p
		without.Variants = []Variant{{A: p.Variants[0].A, B: p.Variants[0].B}}
		return 1 - left(t, without)["center_MPa"].(float64)/with["center_MPa"].(float64)
	}
	if in.Has("process") {
		switch in.Text("process") {
		case "sheet annealed by linear cooling":
			s := share(constantRate(Slab, 0.00305, 0.05, true))
			return casetest.Values{"share_of_residual_from_structural_relaxation": s, "share_thermoelastic": 1 - s}
		case "relaxation of structure and of stress":
			mean := sodaLimeCase(t, casetest.Values{})["lambda_over_tau"].(float64)
			return casetest.Values{"struct_rate_over_stress_rate": 1 / mean}
		default:
			return casetest.Values{"share_of_residual_from_structural_relaxation": share(temper(0.00305, 738, 221.5, 55000, 25e-6))}
		}
	}
	if in.Has("h_W_m2K") {
		return left(t, temper(in.Float("thickness_mm")/2000, in.Float("T0_C"), in.Float("h_W_m2K"), in.Float("H_over_R_K"), in.Float("alpha_liquid")))
	}
	if in.Text("shape") == "plate" {
		return left(t, constantRate(Slab, in.Float("thickness_mm")/2000, in.Float("surface_rate_K_s"), in.True("structural_relaxation")))
	}
	out := left(t, constantRate(Sphere, in.Float("D_mm")/2000, in.Float("surface_rate_K_s"), true))
	off := left(t, constantRate(Sphere, in.Float("D_mm")/2000, in.Float("surface_rate_K_s"), false))
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
func temper(size, start, film, activation, liquid float64) Problem {
	m, v := duffrene(true)
	v[0].B = activation / math.Ln10
	v[0].A = 10.458 - v[0].B/869
	v[0].ExpansionLiquid = liquid
	return Problem{Body: Body{Form: Slab, Outer: size}, Material: m, Variants: v, Surface: Surface{Film: film},
		Kiln: Kiln{At: constant(293.15), Kinks: []float64{1500}}, Start: uniform(start), Room: 293.15}
}

func left(t testing.TB, p Problem) casetest.Values {
	o := must(t, p, Settings{Cells: 48, Tolerance: 0.02, MaxChange: 2}).Outcomes[0]
	n := len(o.Left.Plane) - 1
	return casetest.Values{"center_MPa": o.Left.Plane[0] / 1e6, "surface_MPa": o.Left.Plane[n] / 1e6,
		"Tf_C": o.FictiveCenter - zeroCelsius}
}

// sodaLimeCase checks that the set the tests run with is the published one.
func sodaLimeCase(t testing.TB, in casetest.Values) casetest.Values {
	m, v := duffrene(true)
	g := m.Young / 2 / (1 + m.Poisson)
	out := casetest.Values{"E_GPa": m.Young / 1e9, "nu": m.Poisson, "K_inf_over_K0": m.BulkLong, "x": m.fill().Nonlinearity,
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
		out["thickness_mm"], out["T0_C"], out["h_W_m2K"] = 2000*p.Body.Outer, p.Start(0)-zeroCelsius, p.Surface.Film
		out["T_air_C"] = p.Kiln.At(0) - zeroCelsius
	}
	return out
}

// TestTemperLevel: tempered float carries 80 to 150 MPa at the surface (a
// thesis on tempered glass, 2019, abstract [verified]).
func TestTemperLevel(t *testing.T) {
	for _, p := range []Problem{temper(0.00305, 738, 221.5, 55000, 25e-6), temper(0.002, 650, 450, 76200, 32e-6)} {
		s := left(t, p)
		if x := s["surface_MPa"].(float64); x > -80 || x < -150 {
			t.Errorf("plate of %g mm: surface at %.1f MPa, want -80 to -150", 2000*p.Body.Outer, x)
		}
		// compressed faces balance the middle: about two to one
		near(t, "surface over center", -s["surface_MPa"].(float64)/s["center_MPa"].(float64), 2.2, 0.15, 0)
	}
}
