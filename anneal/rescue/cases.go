package rescue

import (
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/cases"
	"lehr/glass/unit"
)

// What the ways do to the two spheres of the study, simulated again, and the
// rates at which they bear being heated.
// Cases answers the cases of testdata/cases that name this package.
func Cases() map[string]cases.Compute {
	return map[string]cases.Compute{
		"LetFall": func(t cases.T, in cases.Values) cases.Values {
			past, fall := failure(t, in)
			at := past.Temp(past.End())
			_, surface, residual := sphere(t, in, past.Then(fall.Curve(at, fallen(fall, at))))
			return cases.Values{"surface_tension_MPa": surface, "left_MPa": residual}
		},
		"SoakAgain": func(t cases.T, in cases.Values) cases.Values {
			past, fall := failure(t, in)
			whole, found := outage(in, past, fall)
			if d := found.Celsius() - in.Float("found_C"); d > 1.01 || d < -1.01 {
				t.Errorf("found at %.1f °C", found.Celsius())
			}
			up := time.Duration(float64(unit.Celsius(560).Sub(found)) / in.Float("rate_C_per_h") * float64(time.Hour))
			soak := line(t, found, 0, unit.Celsius(560), up, unit.Celsius(560), up+90*time.Minute)
			peak, _, _ := sphere(t, in, whole.Then(soak).Then(rest(t, unit.Celsius(560))))
			return cases.Values{"tension_MPa": peak}
		},
		"GoOn": func(t cases.T, in cases.Values) cases.Values {
			past, fall := failure(t, in)
			whole, found := outage(in, past, fall)
			_, _, residual := sphere(t, in, whole.Then(rest(t, found)))
			return cases.Values{"left_MPa": residual}
		},
		"Advise": func(t cases.T, in cases.Values) cases.Values {
			b := BoundsOf(unit.Celsius(in.Float("strain_C")), unit.Celsius(in.Float("anneal_C")))
			a, err := Advise(unit.Celsius(in.Float("failed_C")), unit.Celsius(in.Float("found_C")), b)
			if err != nil {
				t.Fatal(err)
			}
			if a.AtOnce != (a.Case == SettingNow) || a.Simulate != (a.Case == SetTooFast) || a.StopController == (a.Case == NothingLost) {
				t.Errorf("%+v", a)
			}
			var ways []string
			for _, w := range a.Ways {
				ways = append(ways, w.String())
			}
			return cases.Values{"case": a.Case.String(), "ways": ways, "hold_min": a.Hold.Minutes()}
		},
		"HeatingRate": func(t cases.T, in cases.Values) cases.Values {
			perRate := in.Float("MPa_per_C_per_h") * 1e6 * 3600
			r := heatingRate(unit.Stress(in.Float("limit_MPa")*1e6), unit.Stress(in.Float("left_MPa")*1e6), perRate)
			return cases.Values{"rate_C_per_h": r.KelvinPerHour()}
		},
	}
}

func line(t cases.T, points ...any) kiln.Curve {
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
func rest(t cases.T, from unit.Temp) kiln.Curve {
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
func failure(t cases.T, in cases.Values) (kiln.Curve, kiln.Fall) {
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
	return unit.Seconds(f.Time(from, unit.Celsius(26), 0))
}

// outage continues the night by the time without power.
func outage(in cases.Values, past kiln.Curve, fall kiln.Fall) (whole kiln.Curve, found unit.Temp) {
	d := time.Duration(in.Float("outage_min")) * time.Minute
	whole = past.Then(fall.Curve(past.Temp(past.End()), d))
	return whole, whole.Temp(whole.End())
}

// sphere returns the greatest tension anywhere and at the surface, and the
// tension left [MPa], of a sphere of borosilicate 3.3 with one relaxation term
// and one viscosity curve.
func sphere(t cases.T, in cases.Values, c kiln.Curve) (peak, surface, residual float64) {
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
		Variants: []sim.Variant{{A: curves[0].A, B: curves[0].B, T0: curves[0].T0}}, Surface: sim.Surface{HeatTransfer: 5, Emissivity: 0.9},
		Kiln: sim.Kiln{At: c.At, Kinks: c.Kinks()}, Start: func(float64) float64 { return start }, Room: unit.Celsius(25).Kelvin(),
	}, sim.Settings{Record: func(s sim.Sample) { surface = max(surface, s.SurfaceStress/1e6) }})
	if err != nil {
		t.Fatal(err)
	}
	return res.Outcomes[0].Peak / 1e6, surface, res.Outcomes[0].Residual.MaxTension() / 1e6
}
