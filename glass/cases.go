package glass

import (
	"math"

	"lehr/glass/cases"
	"lehr/glass/unit"
)

// mustFind returns a built-in glass.
func mustFind(t cases.T, name string) *Glass {
	t.Helper()
	g, err := Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// curveOf returns one curve of a built-in glass by name.
func curveOf(t cases.T, in cases.Values) (*Glass, Curve) {
	t.Helper()
	g := mustFind(t, in.Text("glass"))
	curves, err := g.Curves()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range curves {
		if c.Name == in.Text("curve") {
			return g, c
		}
	}
	t.Fatalf("%s has no curve %s", g.Name, in.Text("curve"))
	return nil, Curve{}
}

// isokoms returns the temperatures [°C] at which a curve has viscosities given
// as log10 in Pa·s.
func isokoms(t cases.T, c Curve, log10 []float64) []float64 {
	t.Helper()
	var out []float64
	for _, l := range log10 {
		at, err := c.At(l)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, at.Celsius())
	}
	return out
}

// Cases answers the cases of testdata/cases that name this package. It is a
// table, an entry a formula.
func Cases() map[string]cases.Compute {
	const poise = 1 // log10 of the number of poise in one Pa·s
	overTemperatures := func(name string, f func(*Glass) Property) cases.Compute {
		return func(t cases.T, in cases.Values) cases.Values {
			p := f(mustFind(t, in.Text("glass")))
			var out []float64
			if in.Has("t_K") {
				for _, k := range in.Floats("t_K") {
					out = append(out, p.At(k))
				}
			} else {
				for _, c := range in.Floats("t_C") {
					out = append(out, p.At(unit.Celsius(c).Kelvin()))
				}
			}
			return cases.Values{name: out}
		}
	}
	return map[string]cases.Compute{
		"FixedPoints": func(t cases.T, in cases.Values) cases.Values {
			_, c := curveOf(t, in)
			logs := in.Floats("log10_poise")
			for i := range logs {
				logs[i] -= poise
			}
			return cases.Values{"t_C": isokoms(t, c, logs)}
		},
		"Coefficients": func(t cases.T, in cases.Values) cases.Values {
			g, c := curveOf(t, in)
			return cases.Values{"A": c.A, "B": c.B, "T0_C": unit.Kelvin(c.T0).Celsius(), "H_over_R_K": c.activationTemp(g.Anneal.Temp())}
		},
		"Isokoms": func(t cases.T, in cases.Values) cases.Values {
			c := Curve{A: in.Float("A_dPas") - poise, B: in.Float("B_K"), T0: unit.Celsius(in.Float("T0_C")).Kelvin(),
				Low: unit.Celsius(500), High: unit.Celsius(1400)}
			return cases.Values{"t_C": isokoms(t, c, in.Floats("log10_Pas"))}
		},
		"Viscosity": func(t cases.T, in cases.Values) cases.Values {
			_, c := curveOf(t, in)
			var out []float64
			for _, x := range in.Floats("t_C") {
				l, err := c.Log10(unit.Celsius(x))
				if err != nil {
					t.Fatal(err)
				}
				out = append(out, l+poise)
			}
			return cases.Values{"log10_dPas": out}
		},
		"ThroughThree": func(t cases.T, in cases.Values) cases.Values {
			l, x := in.Floats("log10_Pas"), in.Floats("t_C")
			c, err := throughThree("test", l[0], unit.Celsius(x[0]), l[1], unit.Celsius(x[1]), l[2], unit.Celsius(x[2]))
			if err != nil {
				t.Fatal(err)
			}
			return cases.Values{"A": c.A, "B": c.B, "T0_C": unit.Kelvin(c.T0).Celsius()}
		},
		"SpecificHeat": overTemperatures("cp_J_per_kg_K", func(g *Glass) Property { return g.SpecificHeat }),
		"Conductivity": overTemperatures("k_W_per_m_K", func(g *Glass) Property { return g.Conductivity }),
		"Slope": func(t cases.T, in cases.Values) cases.Values {
			_, c := curveOf(t, in)
			from, to := unit.Celsius(in.Float("from_C")), unit.Celsius(in.Float("to_C"))
			hot, err1 := c.Log10(to)
			cold, err2 := c.Log10(from)
			if err1 != nil || err2 != nil {
				t.Fatal(err1, err2)
			}
			return cases.Values{"H_over_R_flow_K": (cold - hot) * math.Ln10 / (1/from.Kelvin() - 1/to.Kelvin())}
		},
		"Line": func(t cases.T, in cases.Values) cases.Values {
			_, c := curveOf(t, in)
			at := isokoms(t, c, []float64{12, 13.5, 6.6})
			return cases.Values{"t_1e12_C": at[0], "t_1e13p5_C": at[1], "t_1e6p6_C": at[2], "H_over_R_at_1e12_K": c.activationTemp(unit.Celsius(at[0]))}
		},
		"LiquidExpansion": func(t cases.T, in cases.Values) cases.Values {
			return cases.Values{"alpha_liquid_per_K": mustFind(t, in.Text("glass")).ExpansionLiquid.Number}
		},
		"SharpGinther": func(t cases.T, in cases.Values) cases.Values {
			// a and c in cal/(g °C); 1 cal/(g °C) is 1000 J_per_cal J/(kg K).
			f := sharpGinther(in.Float("a_cal")*1000*in.Float("J_per_cal"), in.Float("b"), in.Float("c_cal")*1000*in.Float("J_per_cal"))
			var out []float64
			for _, x := range in.Floats("t_C") {
				out = append(out, f(unit.Celsius(x).Kelvin()))
			}
			return cases.Values{"cp_J_per_kg_K": out}
		},
		"Property": func(t cases.T, in cases.Values) cases.Values {
			v, ok := mustFind(t, in.Text("glass")).Value(in.Text("key"))
			if !ok {
				t.Fatal("not known")
			}
			return cases.Values{"value": v.Number / in.Float("unit")}
		},
		"Isokom": func(t cases.T, in cases.Values) cases.Values {
			g, out := mustFind(t, in.Text("glass")), cases.Values{}
			for name, l := range map[string]float64{"mark_free_C": MarkFree, "compact_C": Compact, "never_hours_C": NeverHours} {
				at, err := g.Isokom(l)
				if err != nil {
					t.Fatal(err)
				}
				out[name] = at.Celsius()
			}
			return out
		},
	}
}
