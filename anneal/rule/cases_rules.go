package rule

import (
	"math"
	"time"

	"lehr/anneal/formula"
	"lehr/glass"
	"lehr/glass/cases"
	"lehr/glass/unit"
)

// slabOf returns a request for a slab with the default limits.
func slabOf(t cases.T, family string, d unit.Length) Request {
	t.Helper()
	g, err := glass.Find(family)
	if err != nil {
		t.Fatal(err)
	}
	return Request{Glass: g, Shape: formula.FormSlab, Size: d, DesignCooling: 3.5 * unit.Megapascal, DesignResidual: unit.Megapascal}
}

func apply(t cases.T, rule string, q Request) Result {
	t.Helper()
	r, err := Find(rule)
	if err != nil {
		t.Fatal(err)
	}
	res, err := r.Apply(q)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

// tableRule returns the rule and the glass that a case of rows is about.
func tableRule(in vals) (rule, family string) {
	if in.Float("soak_C") == 430 {
		return "crystal-casting", "lead-crystal"
	}
	return "fusible-slab", "fusible-90"
}

// rowTotalCase applies a table rule to a slab of a row's thickness, requires
// the row's own ranges and rates, and gives the total that the maker states.
func rowTotalCase(t cases.T, in vals) vals {
	rule, family := tableRule(in)
	res := apply(t, rule, slabOf(t, family, millimeters(in, "thickness_mm")))
	at := unit.Celsius(in.Float("soak_C"))
	if res.Stages[0].To.Sub(at) != 0 || math.Abs(res.Stages[0].Hold.Hours()-in.Float("soak_h")) > 1e-9 {
		t.Errorf("soak %v for %v, want %v for %v h", res.Stages[0].To, res.Stages[0].Hold, at, in.Float("soak_h"))
	}
	for i, seg := range in.Rows("segments") {
		s := res.Stages[i+1]
		if math.Abs(-s.Rate.KelvinPerHour()-seg[0]) > 1e-6 || math.Abs(s.To.Celsius()-seg[2]) > 1e-6 {
			t.Errorf("stage %d: %v to %v, want %v °C/h to %v °C", i+1, s.Rate, s.To, seg[0], seg[2])
		}
	}
	return vals{"total_h": res.Total().Hours()}
}

func rowScalingCase(t cases.T, _ vals) vals {
	r, err := Find("crystal-casting")
	if err != nil {
		t.Fatal(err)
	}
	least, most, second, third, soak := math.Inf(1), 0.0, 2.0, 6.0, 4.0
	far := func(x, from, old float64) float64 {
		if math.Abs(x-from) > math.Abs(old-from) {
			return x
		}
		return old
	}
	for _, row := range r.body.Row {
		// The table's inch column: quarters below an inch, halves above.
		inches := math.Round(row.Size.Inches()*2) / 2
		if row.Size < 0.9*unit.Inch {
			inches = math.Round(row.Size.Inches()*4) / 4
		}
		square := row.Rates[0].KelvinPerHour() * math.Pow(inches*25.4, 2)
		least, most = min(least, square), max(most, square)
		second = far(float64(row.Rates[1]/row.Rates[0]), 2, second)
		third = far(float64(row.Rates[2]/row.Rates[0]), 6, third)
		soak = far(time.Duration(row.Soak).Hours()/inches, 4, soak)
	}
	return vals{"rate1_times_inch_thickness_mm_squared": []float64{least, most},
		"rate2_over_rate1": second, "rate3_over_rate1": third, "soak_h_per_inch": soak}
}

func rowRatesCase(t cases.T, _ vals) vals {
	rates := func(mm float64, n int) []float64 {
		res := apply(t, "fusible-slab", slabOf(t, "fusible-90", unit.Length(mm)*unit.Millimeter))
		var out []float64
		for _, s := range res.Stages[1 : n+1] {
			out = append(out, -s.Rate.KelvinPerHour())
		}
		return out
	}
	return vals{"12mm": rates(12, 2), "19mm": rates(19, 3), "25mm": rates(25, 3), "50mm_rounded": rates(50, 3)}
}

func oneFaceRowCase(t cases.T, in vals) vals {
	q := slabOf(t, "fusible-90", millimeters(in, "thickness_mm"))
	q.OneFace = true
	return vals{"use_row_mm": apply(t, "fusible-slab", q).Slab.Millimeters()}
}

func stagesTotalCase(_ cases.T, in vals) vals {
	r := Result{Stages: []Stage{{To: unit.Fahrenheit(in.Float("soak_F")), Hold: time.Duration(in.Float("soak_h") * float64(time.Hour))}}}
	for _, seg := range in.Rows("segments_F") {
		r.Stages = append(r.Stages, Stage{Rate: -unit.FahrenheitPerHour(seg[0]), To: unit.Fahrenheit(seg[2])})
	}
	return vals{"total_h": r.Total().Hours()}
}

func soakChartCase(t cases.T, in vals) vals {
	res := apply(t, "borosilicate-soak", slabOf(t, "borosilicate-33", unit.Length(in.Float("thickness_in"))*unit.Inch))
	var hours []float64
	for i, at := range in.Floats("soaks_at_F") {
		s := res.Stages[i]
		if math.Abs(s.To.Fahrenheit()-at) > 1e-6 {
			t.Errorf("soak %d at %v, want %v °F", i+1, s.To, at)
		}
		hours = append(hours, s.Hold.Hours())
	}
	return vals{"hours": hours}
}

func closedFormCase(t cases.T, in vals) vals {
	return vals{"count_as_in_rule": each(in.Floats("wall_in"), func(inch float64) float64 {
		q := slabOf(t, "borosilicate-33", unit.Length(inch)*unit.Inch)
		q.OneFace = true
		return apply(t, "borosilicate-soak", q).Slab.Inches()
	})}
}

// commercialCase applies the cycle to a made-up glass that expands as the
// group of the table does.
func commercialCase(t cases.T, in vals) vals {
	q := slabOf(t, map[float64]string{33: "borosilicate-33", 50: "neutral-50", 90: "fusible-90"}[in.Float("alpha_1e7")], millimeters(in, "thickness_mm"))
	g := *q.Glass
	g.Expansion.Number = in.Float("alpha_1e7") * 1e-7
	q.Glass = &g
	out := vals{}
	for _, side := range []string{"both_sides", "one_side"} {
		q.OneFace = side == "one_side"
		res := apply(t, "commercial-cycle", q)
		out[side+"_heat_C_per_min"] = res.HeatRate.KelvinPerHour() / 60
		for i, name := range []string{"initial", "next50", "final"} {
			out[side+"_"+name+"_C_per_min"] = -res.Stages[i+1].Rate.KelvinPerHour() / 60
		}
		out["hold_min"] = res.Stages[0].Hold.Minutes()
		out["initial_range_below_strain_point_C"] = g.Strain.Number - res.Stages[1].To.Kelvin()
		if next := float64(res.Stages[1].To.Sub(res.Stages[2].To)); math.Abs(next-50) > 1e-9 {
			t.Errorf("second range %v K, want 50", next)
		}
		if above := res.Stages[0].To.Kelvin() - g.Anneal.Number; math.Abs(above-5) > 1e-9 {
			t.Errorf("soak %v K above the annealing point, want 5", above)
		}
	}
	return out
}
