package spread

import (
	"math"
	"strings"
	"testing"
	"time"

	"lehr/glass"
	"lehr/glass/casetest"
	"lehr/glass/unit"
)

func mm(in casetest.Values, key string) unit.Length {
	return unit.Length(in.Float(key)) * unit.Millimeter
}

// TestPublished runs the cases of testdata/cases that name this package.
func TestPublished(t *testing.T) {
	casetest.Run(t, "spread", map[string]casetest.Compute{
		"FlawSize": flawCase, "AnyFlaw": anyFlawCase, "Duration": durationCase, "Lasting": lastingCase, "Held": heldCase,
		"Seen": seenCase, "Knocked": knockedCase, "Combine": combineCase, "Judge": judgeCase})
}

func flawCase(t testing.TB, in casetest.Values) casetest.Values {
	var f Flaw
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
	size := float64(f.Size(unit.Stress(in.Float("tension_MPa"))*mpa, 1e6*in.Float("K_MPa_sqrt_m")) / unit.Millimeter)
	return casetest.Values{"radius_mm": size, "depth_mm": size}
}

func anyFlawCase(t testing.TB, in casetest.Values) casetest.Values {
	k, s := 1e6*in.Float("K_MPa_sqrt_m"), in.Float("S_MPa")
	if in.Has("thickness_mm") {
		d := mm(in, "thickness_mm")
		same := 1.0 // the sphere that carries the same
		for range 60 {
			same *= math.Pow(float64(AnyFlaw(unit.Length(same)*d, k)/AnyFlawSlab(d, k)), 2)
		}
		return casetest.Values{"K_max_MPa_sqrt_m": s * slabFlaw(float64(d)), "S_no_flaw_grows_MPa": AnyFlawSlab(d, k).Megapascals(),
			"equal_sphere_diameter_over_thickness": same}
	}
	d := mm(in, "diameter_mm")
	return casetest.Values{"K_max_MPa_sqrt_m": s * sphereFlaw(float64(d)), "S_no_flaw_grows_MPa": AnyFlaw(d, k).Megapascals(),
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

func durationCase(t testing.TB, in casetest.Values) casetest.Values {
	if in.Has("k_mod_5_h") {
		f := unit.Stress(in.Float("characteristic_MPa")) * mpa
		long, short := Permitted(f, in.Float("k_mod_50_years"), in.Float("gamma")), Permitted(f, in.Float("k_mod_5_h"), in.Float("gamma"))
		return casetest.Values{"permanent_MPa": long.Megapascals(), "five_hours_MPa": short.Megapascals(), "ratio": float64(short / long)}
	}
	out := casetest.Values{}
	for _, part := range []string{"face", "edge"} {
		f := unit.Stress(in.Float(part+"_MPa_at_3_s")) * mpa
		hours := time.Duration(in.Float("time_h") * float64(time.Hour))
		years := time.Duration(in.Float("time_years") * 365.25 * 24 * float64(time.Hour))
		out[part+"_10_h_MPa"] = Lasting(f, 3*time.Second, hours, in.Float("exponent")).Megapascals()
		out[part+"_50_years_MPa"] = Lasting(f, 3*time.Second, years, in.Float("exponent")).Megapascals()
	}
	return out
}

func lastingCase(t testing.TB, in casetest.Values) casetest.Values {
	s := Lasting(unit.Stress(in.Float("short_time_strength_MPa"))*mpa, time.Duration(in.Float("short_time_s")*1e9), time.Duration(in.Float("load_h")*3600e9), in.Float("exponent"))
	return casetest.Values{"strength_10_h_MPa": s.Megapascals(), "reserve_over_5_MPa": float64(s / limit(t, "surface-hours").Ordinary.Worst)}
}

func heldCase(t testing.TB, in casetest.Values) casetest.Values {
	return casetest.Values{"edge_tension_MPa": Held(1e9*in.Float("E_GPa"), in.Float("alpha_per_K"), unit.Delta(in.Float("difference_K"))).Megapascals()}
}

func seenCase(t testing.TB, in casetest.Values) casetest.Values {
	c := 1e-12 * in.Float("C_per_TPa")
	const nm = unit.Millimeter / 1e6
	switch {
	case in.Has("apparent_temper_number"):
		r := unit.Length(in.Float("disc_nm")*in.Float("apparent_temper_number")) * nm
		return casetest.Values{"S_MPa": MiddleOf(r, mm(in, "diameter_mm"), c).Megapascals()}
	case in.Has("real_temper_number"):
		s := Seen(unit.Length(in.Float("disc_nm")*in.Float("real_temper_number"))*nm, mm(in, "thickness_mm"), c)
		return casetest.Values{"path_stress_MPa": s.Megapascals(), "S_sphere_MPa": Middle(s).Megapascals()}
	case in.Has("retardation_nm_per_cm"):
		s := Seen(unit.Length(in.Float("retardation_nm_per_cm"))*nm, 10*unit.Millimeter, c)
		return casetest.Values{"path_stress_MPa": s.Megapascals(), "S_sphere_MPa": Middle(s).Megapascals()}
	}
	s := Seen(unit.Length(in.Float("retardation_nm_per_mm"))*nm, unit.Millimeter, c)
	return casetest.Values{"path_stress_MPa": s.Megapascals()}
}

func knockedCase(t testing.TB, in casetest.Values) casetest.Values {
	return casetest.Values{"factor": knockShare(),
		"middle_tension_MPa": Knocked(1e9*in.Float("E_GPa"), in.Float("nu"), in.Float("alpha_per_K"), unit.Delta(in.Float("surface_rise_K"))).Megapascals()}
}

func combineCase(t testing.TB, in casetest.Values) casetest.Values {
	var shares []Share
	for _, key := range []string{"viscosity", "annealing_point", "conductivity", "expansion", "modulus", "liquid_expansion"} {
		if in.Has(key + "_percent") {
			shares = append(shares, Share{Name: key, Adverse: in.Float(key+"_percent") / 100})
		}
	}
	structure := Alternative{"structure", []Reading{{"slow", 1}, {"fast", in.Float("structure_factor")}}}
	light := Alternative{"light", []Reading{{"clear", 0.8}, {"dark", 1}, {"opaque", in.Float("light_factor")}}}
	c, err := Combine(shares, []Alternative{structure, light})
	if err != nil {
		t.Fatal(err)
	}
	light.Readings = light.Readings[1:2]
	known, err := Combine(shares, []Alternative{structure, light})
	if err != nil {
		t.Fatal(err)
	}
	return casetest.Values{"spread": c.Spread, "worst_over_expected": c.Factor, "linear_sum_bound": c.Sum, "product_bound": c.Product,
		"light_known_worst_over_expected": known.Factor}
}

func judgeCase(t testing.TB, in casetest.Values) casetest.Values {
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
	return casetest.Values{"worst_left_MPa": worst.Megapascals(), "limit_worst_MPa": p.Worst.Megapascals(), "verdict": float64(p.Judge(expected, worst))}
}

func limit(t testing.TB, key string) Limit {
	for _, l := range Limits() {
		if l.Key == key {
			return l
		}
	}
	t.Fatalf("no limit %q", key)
	return Limit{}
}

// TestLimits: the four, with what they may not go beyond and what they rest on.
func TestLimits(t *testing.T) {
	list := Limits()
	if len(list) != 4 {
		t.Fatalf("%d limits", len(list))
	}
	for _, l := range list {
		for _, p := range []Pair{l.Ordinary, l.Abused, l.Worked, l.Doubtful} {
			if !(0 < p.Expected && p.Expected < p.Worst && p.Worst <= 5*mpa) {
				t.Errorf("%s: %v", l.Key, p)
			}
			if p.Worst > l.Ordinary.Worst || p.Expected > l.Ordinary.Expected {
				t.Errorf("%s: a worn piece may bear more", l.Key)
			}
		}
		// Half while in the kiln; what is left is that of a piece that soaked.
		half := Pair{l.Ordinary.Expected / 2, l.Ordinary.Worst / 2}
		if strings.HasPrefix(l.Key, "left") {
			half = l.Ordinary
		}
		if l.Doubtful != half {
			t.Errorf("%s: unknown history may bear %v, want %v", l.Key, l.Doubtful, half)
		}
		if l.Reserve == "" || l.Name == "" {
			t.Errorf("%s has no words", l.Key)
		}
	}
	// Inside, no flaw runs at the worst case, dry, in any size: of spheres up
	// to 90 mm by the limit itself, above by its fall. Slabs count as spheres.
	inside := limit(t, "inside-hours")
	for _, d := range []float64{10, 25, 63.5, 90, 100, 150, 200, 400} {
		size := unit.Length(d) * unit.Millimeter
		if w, s := inside.At(Sphere(size, false), Ordinary).Worst, AnyFlaw(size, ToughDry); w > s {
			t.Errorf("sphere %g mm: worst case %v, a flaw runs at %v", d, w, s)
		}
		if w, s := inside.At(Sphere(size, true), Ordinary).Worst, AnyFlawSlab(size, ToughDry); w > s {
			t.Errorf("slab %g mm: worst case %v, a flaw runs at %v", d, w, s)
		}
	}
	// What is left bears two and a half times as much before any flaw runs.
	if s := AnyFlaw(90*unit.Millimeter, ToughDry); s < 2.5*limit(t, "left-inside").Ordinary.Worst {
		t.Errorf("a flaw runs at %v", s)
	}
	// At the surface the worst case is five sevenths of what is permitted for
	// good, and the weakest beam bears it for ten hours.
	if w := limit(t, "surface-hours").Ordinary.Worst; w > Lasting(9.4*mpa, time.Minute, 10*time.Hour, 16) || w > 7*mpa {
		t.Errorf("worst case %v", w)
	}
	if w := limit(t, "surface-hours").At(300*unit.Millimeter, Worked); w != (Pair{2.5 * mpa, 3.5 * mpa}) {
		t.Errorf("worked: %v", w)
	}
	if w := limit(t, "left-inside").At(360*unit.Millimeter, Abused); w.Expected != 0.6*mpa || math.Abs(float64(w.Worst/mpa)-0.5) > 1e-12 {
		t.Errorf("abused, four times 90 mm: %v", w)
	}
}

// TestLimits_memoryIsNeverAlone: for every glass of the table each limit stands
// on a text that was read, or on one that such a text quotes, and for soft
// glass on one that is about soft glass.
func TestLimits_memoryIsNeverAlone(t *testing.T) {
	for _, g := range glass.Builtin() {
		for _, l := range Limits() {
			read, own := 0, 0
			for _, s := range l.For(g) {
				if s.Text == "" || s.Status == "" || s.Of != AnyGlass && s.Of != KindOf(g) {
					t.Errorf("%s, %s: support %+v", g.Name, l.Key, s)
				}
				if s.Status == glass.Verified || s.Status == glass.Corroborated || s.Status == glass.Quoted {
					read++
					if s.Of == KindOf(g) {
						own++
					}
				}
				if s.Status == glass.Memory {
					t.Errorf("%s, %s: %q is from memory", g.Name, l.Key, s.Text)
				}
			}
			if read == 0 || own == 0 {
				t.Errorf("%s, %s: rests on %d texts, %d on such glass", g.Name, l.Key, read, own)
			}
		}
	}
	for name, want := range map[string]Kind{"borosilicate-33": Hard, "neutral-50": Hard, "float": Soft, "soda-104": Soft, "lead-crystal": Soft, "bk7": Soft, "fused-silica": Hard} {
		if got := KindOf(mustGlass(t, name)); got != want {
			t.Errorf("%s: kind %v", name, got)
		}
	}
	if limit(t, "left-inside").For(mustGlass(t, "float"))[0] != float || limit(t, "left-inside").For(mustGlass(t, "borosilicate-33"))[0] != permanent {
		t.Error("a limit does not name the text of its glass first")
	}
}

func mustGlass(t testing.TB, name string) *glass.Glass {
	t.Helper()
	g, err := glass.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestJudge(t *testing.T) {
	p := Pair{1 * mpa, 2 * mpa}
	nan := unit.Stress(math.NaN())
	for _, row := range []struct {
		expected, worst unit.Stress
		want            Verdict
	}{{0.5, 0.9, Within}, {1, 2, Within}, {1, 2.1, NotProven}, {1.1, 1.2, TooMuch}, {1.1, 3, TooMuch}, {nan / mpa, 1, TooMuch}, {0.5, nan / mpa, TooMuch}, {-1, -0.5, Within}} {
		if got := p.Judge(row.expected*mpa, row.worst*mpa); got != row.want {
			t.Errorf("%v, %v: %v, want %v", row.expected, row.worst, got, row.want)
		}
	}
	if u := p.Use(0.5*mpa, 1.5*mpa); u != 0.75 {
		t.Errorf("used up %g", u)
	}
	if TooMuch.String() != "too much" || NotProven.String() != "fits average glass; not proven for yours" {
		t.Error("words")
	}
}
