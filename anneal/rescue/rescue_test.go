package rescue

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/casetest"
	"lehr/glass/unit"
)

// What the ways do to the two spheres of the study, simulated again, and the
// rates at which they bear being heated.
func TestPublished(t *testing.T) {
	cases := slices.DeleteFunc(casetest.Of(t, "rescue"), func(c casetest.Case) bool { return c.Func == "rescue.Advise" })
	casetest.RunCases(t, cases, map[string]casetest.Compute{
		"LetFall": func(t testing.TB, in casetest.Values) casetest.Values {
			past, fall := failure(t, in)
			at := past.Temp(past.End())
			_, surface, left := sphere(t, in, past.Then(fall.Curve(at, fallen(fall, at))))
			return casetest.Values{"surface_tension_MPa": surface, "left_MPa": left}
		},
		"SoakAgain": func(t testing.TB, in casetest.Values) casetest.Values {
			past, fall := failure(t, in)
			whole, found := outage(in, past, fall)
			if d := found.Celsius() - in.Float("found_C"); d > 1.01 || d < -1.01 {
				t.Errorf("found at %.1f °C", found.Celsius())
			}
			up := time.Duration(float64(unit.Celsius(560).Sub(found)) / in.Float("rate_C_per_h") * float64(time.Hour))
			soak := line(t, found, 0, unit.Celsius(560), up, unit.Celsius(560), up+90*time.Minute)
			peak, _, _ := sphere(t, in, whole.Then(soak).Then(rest(t, unit.Celsius(560))))
			return casetest.Values{"tension_MPa": peak}
		},
		"GoOn": func(t testing.TB, in casetest.Values) casetest.Values {
			past, fall := failure(t, in)
			whole, found := outage(in, past, fall)
			_, _, left := sphere(t, in, whole.Then(rest(t, found)))
			return casetest.Values{"left_MPa": left}
		},
		"HeatingRate": func(t testing.TB, in casetest.Values) casetest.Values {
			perRate := in.Float("MPa_per_C_per_h") * 1e6 * 3600
			r := HeatingRate(unit.Stress(in.Float("limit_MPa")*1e6), unit.Stress(in.Float("left_MPa")*1e6), perRate)
			return casetest.Values{"rate_C_per_h": r.KelvinPerHour()}
		},
	})
}

func TestAdvise_cases(t *testing.T) {
	n := 0
	for _, c := range casetest.Of(t, "rescue") {
		if c.Func != "rescue.Advise" {
			continue
		}
		n++
		b := BoundsOf(unit.Celsius(c.Inputs.Float("strain_C")), unit.Celsius(c.Inputs.Float("anneal_C")))
		a, err := Advise(unit.Celsius(c.Inputs.Float("failed_C")), unit.Celsius(c.Inputs.Float("found_C")), b)
		if err != nil {
			t.Errorf("%s: %v", c.ID, err)
			continue
		}
		var ways []any
		for _, w := range a.Ways {
			ways = append(ways, w.String())
		}
		hold := 0.0
		if c.Expected.Has("hold_min") {
			hold = c.Expected.Float("hold_min")
		}
		if a.Case.String() != c.Expected.Text("case") || !slices.Equal(ways, c.Expected["ways"].([]any)) || a.Hold.Minutes() != hold {
			t.Errorf("%s: %s, %v, hold %v", c.ID, a.Case, ways, a.Hold)
		}
		if a.AtOnce != (a.Case == SettingNow) || a.Simulate != (a.Case == SetTooFast) || a.StopController == (a.Case == NothingLost) {
			t.Errorf("%s: %+v", c.ID, a)
		}
	}
	if n != 11 {
		t.Errorf("%d decisions", n)
	}
}

func TestAdvise_refused(t *testing.T) {
	b := BoundsOf(unit.Celsius(510), unit.Celsius(560))
	var e *StateError
	if _, err := Advise(unit.Celsius(500), unit.Celsius(540), b); !errors.As(err, &e) || !strings.Contains(err.Error(), "hotter") {
		t.Error(err)
	}
	if _, err := Advise(unit.Temp{}, unit.Celsius(540), b); !errors.As(err, &e) {
		t.Error(err)
	}
	if r := HeatingRate(3*unit.Megapascal, 4*unit.Megapascal, 1); r != 0 {
		t.Error(r)
	}
}

func line(t testing.TB, points ...any) kiln.Curve {
	t.Helper()
	var r []kiln.Reading
	for i := 0; i < len(points); i += 2 {
		d, ok := points[i+1].(time.Duration)
		if !ok {
			d = 0
		}
		r = append(r, kiln.Reading{At: points[i].(unit.Temp), Time: d})
	}
	c, err := kiln.NewCurve(r)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// rest is the program from a temperature on: 60 °C/h to 450 °C, 200 °C/h to
// 40 °C, then the piece evens out.
func rest(t testing.TB, from unit.Temp) kiln.Curve {
	at, d := []any{from, time.Duration(0)}, time.Duration(0)
	for _, s := range []struct{ to, rate float64 }{{450, 60}, {200, 200}, {40, 200}} {
		if drop := from.Celsius() - s.to; drop > 0 {
			d += time.Duration(drop / s.rate * float64(time.Hour))
			from = unit.Celsius(s.to)
			at = append(at, from, d)
		}
	}
	return line(t, append(at, from, d+5*time.Hour)...)
}

// failure is the night up to where the power fails, and how the kiln falls.
func failure(t testing.TB, in casetest.Values) (kiln.Curve, kiln.Fall) {
	fall := kiln.Fall{TimeConstant: time.Duration(in.Float("time_constant_h") * float64(time.Hour)), Room: unit.Celsius(25)}
	soak := line(t, unit.Celsius(560), 0, unit.Celsius(560), time.Hour)
	to := in.Float("failed_C")
	if to >= 560 {
		return soak, fall
	}
	var kept []kiln.Reading
	program := rest(t, unit.Celsius(560))
	for _, p := range program.Points() {
		if p.At.Celsius() > to {
			kept = append(kept, p)
			continue
		}
		last := kept[len(kept)-1]
		rate := 200.0
		if last.At.Celsius() > 450 {
			rate = 60
		}
		kept = append(kept, kiln.Reading{At: unit.Celsius(to), Time: last.Time + time.Duration((last.At.Celsius()-to)/rate*float64(time.Hour))})
		break
	}
	c, err := kiln.NewCurve(kept)
	if err != nil {
		t.Fatal(err)
	}
	return soak.Then(c), fall
}

func fallen(f kiln.Fall, from unit.Temp) time.Duration {
	return time.Duration(f.Time(from, unit.Celsius(26), 0) * float64(time.Second))
}

// outage continues the night by the time without power.
func outage(in casetest.Values, past kiln.Curve, fall kiln.Fall) (whole kiln.Curve, found unit.Temp) {
	d := time.Duration(in.Float("outage_min")) * time.Minute
	whole = past.Then(fall.Curve(past.Temp(past.End()), d))
	return whole, whole.Temp(whole.End())
}

// sphere returns the greatest tension anywhere and at the surface, and the
// tension left [MPa], of a sphere of borosilicate 3.3 with one relaxation term
// and one viscosity curve.
func sphere(t testing.TB, in casetest.Values, c kiln.Curve) (peak, surface, left float64) {
	t.Helper()
	g, err := glass.Find("borosilicate-33")
	if err != nil {
		t.Fatal(err)
	}
	curves, err := g.Curves()
	if err != nil {
		t.Fatal(err)
	}
	start := c.At(0)
	res, err := sim.Run(sim.Problem{
		Body: sim.Body{Form: sim.Sphere, Outer: in.Float("size_mm") / 2000},
		Material: sim.Material{Density: g.Density.Number, Conductivity: g.Conductivity.At, SpecificHeat: g.SpecificHeat.At,
			Young: g.Young.Number, Poisson: g.Poisson.Number, Expansion: g.Expansion.Number},
		Variants: []sim.Variant{{A: curves[0].A, B: curves[0].B, T0: curves[0].T0}}, Surface: sim.Surface{Film: 5, Emissivity: 0.9},
		Kiln: sim.Kiln{At: c.At, Kinks: c.Kinks()}, Start: func(float64) float64 { return start }, Room: unit.Celsius(25).Kelvin(),
	}, sim.Settings{Record: func(s sim.Sample) { surface = max(surface, s.SurfaceStress/1e6) }})
	if err != nil {
		t.Fatal(err)
	}
	return res.Outcomes[0].Peak / 1e6, surface, res.Outcomes[0].Left.MaxTension() / 1e6
}
