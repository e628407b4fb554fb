package seal

import (
	"fmt"

	"gonum.org/v1/gonum/floats/scalar"

	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/cases"
	"lehr/glass/unit"
)

type vals = cases.Values

func mpa(s unit.Stress) float64 { return s.Megapascals() }

func close(t cases.T, what string, got, want, rel float64) {
	t.Helper()
	if !scalar.EqualWithinAbsOrRel(got, want, rel*1e-3, rel) {
		t.Errorf("%s: got %.9g, want %.9g (rel %g)", what, got, want, rel)
	}
}

// pair returns the glass of the core and that around it: the case gives one
// glass and what the core expands more.
func pair(in vals) (core, around Elastic, drop unit.Delta) {
	around = Elastic{unit.Stress(in.Float("E_GPa") * 1e9), in.Float("nu"), 9e-6}
	core = around
	core.Expansion += in.Float("delta_alpha")
	return core, around, unit.Delta(in.Float("delta_T"))
}

// Cases answers the cases of testdata/cases that name this package. It is a
// table, an entry a formula.
func Cases() map[string]cases.Compute {
	return map[string]cases.Compute{
		"SealMismatchLimit": func(_ cases.T, in vals) vals {
			limit := SealMismatchLimit(unit.Delta(in.Float("dT_K")))
			return vals{"delta_alpha_per_K": limit, "limit_ppm": limit * in.Float("dT_K") * 1e6}
		},
		// The source's P is what the inclusion feels in tension, ours the squeeze.
		"SelsingPressure": func(_ cases.T, in vals) vals {
			if in.Has("E_m_GPa") {
				p := mpa(SelsingPressure(solid(in, "_i"), solid(in, "_m"), unit.Delta(in.Float("drop_K"))))
				return vals{"P_MPa": p, "interface_hoop_MPa": p / 2}
			}
			core, around, drop := pair(in)
			p := mpa(SelsingPressure(core, around, drop))
			return vals{"P_MPa": -p, "sigma_r_interface_MPa": -p, "sigma_theta_interface_MPa": p / 2,
				"matrix_hoop_tension_MPa": p / 2, "inclusion_pressure_MPa": p}
		},
		"CoreInShell": func(_ cases.T, in vals) vals {
			core, around, drop := pair(in)
			p, inside, outside := coreInShell(core, around, in.Float("core_over_outer_radius"), drop)
			return vals{"P_MPa": mpa(p), "hoop_inner_MPa": mpa(inside), "hoop_outer_MPa": mpa(outside)}
		},
		"SandwichStress": func(_ cases.T, in vals) vals {
			core, around, drop := pair(in)
			s, _ := sandwichStress(core, around, in.Float("outer_total_over_core"), drop)
			return vals{"stress_MPa": mpa(s)}
		},
		"Laminate": func(_ cases.T, in vals) vals {
			core, around, drop := pair(in)
			s := laminate([]ply{{0.002, core}, {0.002, around}}, drop, false)
			held := thinStripe(core, around.Expansion, drop)
			return vals{"seal_over_held": float64(s[0].Upper / held), "far_over_held": -float64(s[0].Lower / held)}
		},
		"StoneRetardation": func(_ cases.T, in vals) vals {
			p, a, c := unit.Stress(in.Float("P_MPa"))*unit.Megapascal, unit.Length(in.Float("radius_mm"))*unit.Millimeter, in.Float("C_1_per_Pa")
			drop := p / SelsingPressure(opal, boro, 1)
			r := sphereRetardation([]Shell{{a, opal}, {1, boro}}, unit.Delta(drop), a, c)
			return vals{"retardation_nm": float64(stoneRetardation(p, a, c)) * 1e9, "in_a_sphere_of_m_nm": float64(r) * 1e9}
		},
		"EdgeFactor": func(_ cases.T, in vals) vals {
			half, edge := in.Floats("half_thickness_mm"), in.Floats("edge_radius_mm")
			out := make([]float64, len(half))
			for i := range half {
				out[i] = edgeFactor(unit.Length(half[i]), unit.Length(edge[i]))
			}
			return vals{"factor": out}
		},
		"LayeredSphere": func(_ cases.T, in vals) vals {
			out := vals{}
			for i, s := range LayeredSphere(shellsOf(in), unit.Delta(in.Float("drop_K"))) {
				name := fmt.Sprintf("layer%d_", i+1)
				out[name+"inner_radial_MPa"], out[name+"inner_hoop_MPa"] = mpa(s.InnerRadial), mpa(s.InnerHoop)
				out[name+"outer_radial_MPa"], out[name+"outer_hoop_MPa"] = mpa(s.OuterRadial), mpa(s.OuterHoop)
			}
			return out
		},
		"ThinStripe": func(_ cases.T, in vals) vals {
			e := Elastic{unit.Stress(in.Float("E_GPa") * 1e9), in.Float("nu"), in.Float("delta_alpha")}
			return vals{"stripe_biaxial_MPa": mpa(thinStripe(e, 0, unit.Delta(in.Float("drop_K"))))}
		},
		"NearSurface": func(_ cases.T, in vals) vals {
			p := unit.Stress(in.Float("P_MPa")) * unit.Megapascal
			s, far := nearSurface(p, in.Float("nu"), in.Float("a_over_depth"))
			return vals{"surface_hoop_MPa": mpa(s), "far_from_surface_same_distance_MPa": mpa(far)}
		},
		"CriticalRadius": func(t cases.T, in vals) vals {
			glass := solid(in, "_m")
			γ := fractureEnergy(in.Float("K_Ic_MPa_sqrt_m")*1e6, glass.Young)
			close(t, "fracture energy", γ, in.Float("fracture_energy_J_m2"), 1e-9)
			r := criticalRadius(unit.Stress(in.Float("P_MPa"))*unit.Megapascal, solid(in, "_i"), glass, γ)
			return vals{"critical_radius_mm": r.Millimeters()}
		},
		"FlawDepth": func(_ cases.T, in vals) vals {
			c := flawDepth(unit.Stress(in.Float("interface_hoop_MPa"))*unit.Megapascal, in.Float("K_MPa_sqrt_m")*1e6)
			return vals{"flaw_depth_um": float64(c / unit.Micrometer)}
		},
		"SettingTemperature": func(t cases.T, in vals) vals {
			curve := glass.Curve{A: in.Float("log10_A"), B: in.Float("B_K"), T0: in.Float("T0_K")}
			shear, c := unit.Stress(in.Float("G_GPa")*1e9), in.Float("tau_over_eta_per_G")
			if c < 1.99 {
				close(t, "relaxation factor", misfitTime(opal, boro, 0.1), c, 1e-6)
			} else {
				close(t, "relaxation factor", misfitTime(boro, boro, 0), c, 1e-6)
				close(t, "relaxation factor of a skin", skinTime(0.2), c, 1e-6)
			}
			out := vals{}
			for _, q := range in.Floats("rates_C_per_h") {
				rate := unit.KelvinPerHour(q)
				set := must(settingIn(steady(unit.Celsius(620), rate), curve, shear, c))(t)
				closed := must(settingTemperature(curve, shear, c, rate))(t)
				if d := set.Temp.Celsius() - closed.Celsius(); d < 0 || d > 1.5 {
					t.Errorf("%g K/h: the two ways differ by %.2f K", q, d)
				}
				out[fmt.Sprintf("T_set_C_at_%g", q)], out[fmt.Sprintf("closed_C_at_%g", q)] = set.Temp.Celsius(), closed.Celsius()
			}
			return out
		},
		"Set": func(t cases.T, in vals) vals {
			hold, rate := in.Float("hold_C"), in.Float("rate_C_per_h")/3600
			h := History{[]float64{0}, []float64{620 + 273.15}}
			put := func(seconds, celsius float64) {
				h.Seconds, h.Kelvin = append(h.Seconds, h.Seconds[len(h.Seconds)-1]+seconds), append(h.Kelvin, celsius+273.15)
			}
			put((620-hold)/rate, hold)
			put(in.Float("hold_h")*3600, hold)
			put((hold-25)/rate, 25)
			return vals{"T_set_C": must(settingIn(h, boroCurve, unit.Stress(26.4583e9), misfitTime(opal, boro, 0)))(t).Temp.Celsius()}
		},
		"SetPoint": func(t cases.T, in vals) vals {
			g := must(glass.Find(in.Text("glass")))(t)
			curves := must(g.Curves())(t)
			var out []float64
			e := Elastic{Young: unit.Stress(g.Young.Number), Poisson: g.Poisson.Number}
			for _, q := range in.Floats("rates_C_per_h") {
				shear := unit.Stress(g.Young.Number / 2 / (1 + g.Poisson.Number))
				out = append(out, must(settingTemperature(curves[0], shear, misfitTime(e, e, 0), unit.KelvinPerHour(q)))(t).Celsius())
			}
			return vals{"T_set_C": out}
		},
		"CoolSphere": func(t cases.T, in vals) vals {
			shells := shellsOf(in)
			relaxing := make([]relaxingShell, len(shells))
			soft := boroCurve
			soft.T0 += in.Float("shift_of_color_curve_K")
			for i := range shells {
				relaxing[i] = relaxingShell{Shell: shells[i], Curve: &boroCurve}
			}
			relaxing[1].Curve = &soft
			got := must(coolSphere(relaxing, steady(unit.Celsius(620), unit.KelvinPerHour(in.Float("rate_C_per_h")))))(t)
			_, mid := got.at(1, 20.5*unit.Millimeter)
			return vals{"color_hoop_mid_MPa": mpa(mid), "lens_inner_hoop_MPa": mpa(got.Shells[2].InnerHoop)}
		},
		"TwoLayers": func(t cases.T, in vals) vals {
			layer := func(key string, i int) relaxingShell {
				m := vals(in[key].(map[string]any))
				r := relaxingShell{Shell: Shell{unit.Length(in.Floats("radii_m")[i]), Elastic{unit.Stress(m.Float("E_GPa") * 1e9), m.Float("nu"), m.Float("alpha")}}}
				if m.Has("A") {
					r.Curve = &glass.Curve{A: m.Float("A"), B: m.Float("B"), T0: m.Float("T0")}
				}
				for j, w := range m.Floats("weights") {
					r.Terms = append(r.Terms, sim.Term{Weight: w, Time: m.Floats("times")[j]})
				}
				return r
			}
			var h History
			for i, x := range in.Floats("hours") {
				h.Seconds, h.Kelvin = append(h.Seconds, x*3600), append(h.Kelvin, in.Floats("celsius")[i]+273.15)
			}
			s := must(coolSphere([]relaxingShell{layer("core", 0), layer("shell", 1)}, h))(t).Shells
			return vals{"core_MPa": mpa(s[0].OuterHoop), "radial_MPa": mpa(s[1].InnerRadial), "inside_MPa": mpa(s[1].InnerHoop), "outside_MPa": mpa(s[1].OuterHoop)}
		},
	}
}

// boro is the borosilicate 3.3 of the cases, boroCurve its viscosity there, opal
// the dense stone.
var (
	boro      = Elastic{63.5e9, 0.2, 3.3e-6}
	boroCurve = glass.Curve{Name: "case", A: -8.733, B: 15370, T0: 92.04}
	opal      = Elastic{73e9, 0.17, 0.6e-6}
)

// solid reads the solid whose keys end so.
func solid(in vals, end string) Elastic {
	e := Elastic{Young: unit.Stress(in.Float("E"+end+"_GPa") * 1e9), Poisson: in.Float("nu" + end)}
	if in.Has("alpha" + end) {
		e.Expansion = in.Float("alpha" + end)
	}
	return e
}

// shellsOf reads a layered sphere; one modulus may stand for all layers.
func shellsOf(in vals) []Shell {
	radii, alpha := in.Floats("outer_radii_mm"), in.Floats("alpha_per_K")
	list := func(key string) []float64 {
		if _, one := in[key].(float64); !one {
			return in.Floats(key)
		}
		out := make([]float64, len(radii))
		for i := range out {
			out[i] = in.Float(key)
		}
		return out
	}
	young, nu := list("E_GPa"), list("nu")
	shells := make([]Shell, len(radii))
	for i := range shells {
		shells[i] = Shell{unit.Length(radii[i]) * unit.Millimeter, Elastic{unit.Stress(young[i] * 1e9), nu[i], alpha[i]}}
	}
	return shells
}

// must returns the value of a call that may not fail.
func must[T any](v T, err error) func(cases.T) T {
	return func(t cases.T) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}
