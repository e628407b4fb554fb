package spread

import (
	"math"
	"strings"
	"time"

	"lehr/glass/cases"
	"lehr/glass/unit"
)

func mm(in cases.Values, key string) unit.Length {
	return unit.Length(in.Float(key)) * unit.Millimeter
}

// Cases answers the cases of testdata/cases that name this package.
func Cases() map[string]cases.Compute {
	return map[string]cases.Compute{
		"FlawSize": flawCase, "AnyFlaw": anyFlawCase, "Duration": durationCase, "Lasting": lastingCase, "Held": heldCase,
		"Seen": seenCase, "Knocked": knockedCase, "Combine": combineCase, "Judge": judgeCase, "Beam": beamCase}
}

func flawCase(t cases.T, in cases.Values) cases.Values {
	var f flaw
	switch shape := in.Text("shape"); {
	case strings.HasPrefix(shape, "round"):
		f = RoundInside
	case strings.HasPrefix(shape, "half-round"):
		f = HalfRound
	case strings.HasPrefix(shape, "long"):
		f = LongScratch
	default:
		t.Fatalf("shape %q", shape)
	}
	size := float64(f.size(unit.Stress(in.Float("tension_MPa"))*mpa, 1e6*in.Float("K_MPa_sqrt_m")) / unit.Millimeter)
	return cases.Values{"radius_mm": size, "depth_mm": size}
}

func anyFlawCase(t cases.T, in cases.Values) cases.Values {
	k, s := 1e6*in.Float("K_MPa_sqrt_m"), in.Float("S_MPa")
	if in.Has("thickness_mm") {
		d := mm(in, "thickness_mm")
		same := 1.0 // the sphere that carries the same
		for range 60 {
			same *= math.Pow(float64(anyFlaw(unit.Length(same)*d, k)/anyFlawSlab(d, k)), 2)
		}
		return cases.Values{"K_max_MPa_sqrt_m": s * slabFlaw(float64(d)), "S_no_flaw_grows_MPa": anyFlawSlab(d, k).Megapascals(),
			"equal_sphere_diameter_over_thickness": same}
	}
	d := mm(in, "diameter_mm")
	return cases.Values{"K_max_MPa_sqrt_m": s * sphereFlaw(float64(d)), "S_no_flaw_grows_MPa": anyFlaw(d, k).Megapascals(),
		"worst_crack_radius_over_c": worstCrack()}
}

// crackIn returns K of a round crack in the tension 1 − r²/c² by the integral
// over its face, K = 2/√(πa) ∫ σ(r) r dr / √(a² − r²), c = 1.
func crackIn(a float64) float64 {
	const steps = 4000
	sum := 0.0
	for i := range steps {
		phi := (float64(i) + 0.5) / steps * math.Pi / 2 // r = a sin φ
		r := a * math.Sin(phi)
		sum += (1 - r*r) * r * math.Pi / 2 / steps
	}
	return 2 / math.Sqrt(math.Pi*a) * sum
}

// worstCrack finds the crack with the greatest K by the integral.
func worstCrack() float64 {
	best, at := 0.0, 0.0
	for a := 0.4; a < 0.7; a += 0.0005 {
		if k := crackIn(a); k > best {
			best, at = k, a
		}
	}
	return at
}

func durationCase(t cases.T, in cases.Values) cases.Values {
	if in.Has("k_mod_5_h") {
		f := unit.Stress(in.Float("characteristic_MPa")) * mpa
		long, short := permitted(f, in.Float("k_mod_50_years"), in.Float("gamma")), permitted(f, in.Float("k_mod_5_h"), in.Float("gamma"))
		return cases.Values{"permanent_MPa": long.Megapascals(), "five_hours_MPa": short.Megapascals(), "ratio": float64(short / long)}
	}
	out := cases.Values{}
	for _, part := range []string{"face", "edge"} {
		f := unit.Stress(in.Float(part+"_MPa_at_3_s")) * mpa
		hours := time.Duration(in.Float("time_h") * float64(time.Hour))
		years := time.Duration(in.Float("time_years") * 365.25 * 24 * float64(time.Hour))
		out[part+"_10_h_MPa"] = lasting(f, 3*time.Second, hours, in.Float("exponent")).Megapascals()
		out[part+"_50_years_MPa"] = lasting(f, 3*time.Second, years, in.Float("exponent")).Megapascals()
	}
	return out
}

func lastingCase(t cases.T, in cases.Values) cases.Values {
	s := lasting(unit.Stress(in.Float("short_time_strength_MPa"))*mpa, time.Duration(in.Float("short_time_s")*1e9), time.Duration(in.Float("load_h")*3600e9), in.Float("exponent"))
	return cases.Values{"strength_10_h_MPa": s.Megapascals(), "reserve_over_5_MPa": float64(s / limit(t, "surface-hours").Ordinary.Worst)}
}

func heldCase(t cases.T, in cases.Values) cases.Values {
	return cases.Values{"edge_tension_MPa": held(1e9*in.Float("E_GPa"), in.Float("alpha_per_K"), unit.Delta(in.Float("difference_K"))).Megapascals()}
}

func seenCase(t cases.T, in cases.Values) cases.Values {
	c := 1e-12 * in.Float("C_per_TPa")
	const nm = unit.Millimeter / 1e6
	switch {
	case in.Has("apparent_temper_number"):
		r := unit.Length(in.Float("disc_nm")*in.Float("apparent_temper_number")) * nm
		return cases.Values{"S_MPa": middleOf(r, mm(in, "diameter_mm"), c).Megapascals()}
	case in.Has("real_temper_number"):
		s := seen(unit.Length(in.Float("disc_nm")*in.Float("real_temper_number"))*nm, mm(in, "thickness_mm"), c)
		return cases.Values{"path_stress_MPa": s.Megapascals(), "S_sphere_MPa": middle(s).Megapascals()}
	case in.Has("retardation_nm_per_cm"):
		s := seen(unit.Length(in.Float("retardation_nm_per_cm"))*nm, 10*unit.Millimeter, c)
		return cases.Values{"path_stress_MPa": s.Megapascals(), "S_sphere_MPa": middle(s).Megapascals()}
	}
	s := seen(unit.Length(in.Float("retardation_nm_per_mm"))*nm, unit.Millimeter, c)
	return cases.Values{"path_stress_MPa": s.Megapascals()}
}

func knockedCase(t cases.T, in cases.Values) cases.Values {
	return cases.Values{"factor": knockShare(),
		"middle_tension_MPa": knocked(1e9*in.Float("E_GPa"), in.Float("nu"), in.Float("alpha_per_K"), unit.Delta(in.Float("surface_rise_K"))).Megapascals()}
}

func combineCase(t cases.T, in cases.Values) cases.Values {
	var shares []Share
	for _, key := range []string{"viscosity", "annealing_point", "conductivity", "expansion", "modulus", "liquid_expansion"} {
		if in.Has(key + "_percent") {
			shares = append(shares, Share{Of: Unknown(key), Adverse: in.Float(key+"_percent") / 100})
		}
	}
	structure := Alternative{Structure, []Answer{{"slow", 1}, {"fast", in.Float("structure_factor")}}}
	light := Alternative{Light, []Answer{{"clear", 0.8}, {"dark", 1}, {"opaque", in.Float("light_factor")}}}
	c, err := Combine(shares, []Alternative{structure, light})
	if err != nil {
		t.Fatal(err)
	}
	light.Answers = light.Answers[1:2]
	known, err := Combine(shares, []Alternative{structure, light})
	if err != nil {
		t.Fatal(err)
	}
	return cases.Values{"spread": c.Spread, "worst_over_expected": c.Factor, "linear_sum_bound": c.Sum, "product_bound": c.Product,
		"light_known_worst_over_expected": known.Factor}
}

func judgeCase(t cases.T, in cases.Values) cases.Values {
	l := limit(t, "left-inside")
	p := l.At(mm(in, "diameter_mm"), Ordinary)
	for _, key := range []string{"limit_worst_MPa", "limit_worst_MPa_up_to_90_mm"} {
		if in.Has(key) && l.Ordinary.Worst != unit.Stress(in.Float(key))*mpa {
			t.Errorf("worst case %v, the study has %g MPa", l.Ordinary.Worst, in.Float(key))
		}
	}
	if p.Expected != unit.Stress(in.Float("limit_expected_MPa"))*mpa {
		t.Errorf("expected %v", p.Expected)
	}
	expected := unit.Stress(in.Float("expected_left_MPa")) * mpa
	worst := expected * unit.Stress(in.Float("worst_over_expected"))
	return cases.Values{"worst_left_MPa": worst.Megapascals(), "limit_worst_MPa": p.Worst.Megapascals(), "verdict": float64(p.Judge(expected, worst))}
}

func limit(t cases.T, key string) Limit {
	for _, l := range Limits() {
		if l.Key == key {
			return l
		}
	}
	t.Fatalf("no limit %q", key)
	return Limit{}
}

// beamCase gives what the weakest beam of a series bears for ten hours, over the
// worst-case limit of the surface.
func beamCase(t cases.T, in cases.Values) cases.Values {
	least := unit.Stress(in.Float("strength_least_MPa")) * mpa
	return cases.Values{"reserve": float64(lasting(least, time.Minute, 10*time.Hour, 16) / limit(t, "surface-hours").Ordinary.Worst)}
}
