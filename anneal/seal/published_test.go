package seal

import (
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"gonum.org/v1/gonum/integrate/quad"

	"lehr/glass/casetest"
	"lehr/glass/unit"
)

type vals = casetest.Values

func mpa(s unit.Stress) float64 { return s.Megapascals() }

func close(t testing.TB, what string, got, want, rel float64) {
	t.Helper()
	if !scalar.EqualWithinAbsOrRel(got, want, rel*1e-3, rel) {
		t.Errorf("%s: got %.9g, want %.9g (rel %g)", what, got, want, rel)
	}
}

// integral is ∫ f from a to b by Gauss's rule.
func integral(f func(float64) float64, a, b float64) float64 {
	return quad.Fixed(f, a, b, 32, nil, 0)
}

// soda is a soda-lime glass.
var soda = Elastic{Young: 70e9, Poisson: 0.22, Expansion: 9e-6}

// pair returns the glass of the core and that around it: the case gives one
// glass and what the core expands more.
func pair(in vals) (core, around Elastic, drop unit.Delta) {
	around = Elastic{unit.Stress(in.Float("E_GPa") * 1e9), in.Float("nu"), 9e-6}
	core = around
	core.Expansion += in.Float("delta_alpha")
	return core, around, unit.Delta(in.Float("delta_T"))
}

// TestPublished runs the cases of testdata/cases that name this package.
func TestPublished(t *testing.T) {
	casetest.Run(t, "seal", map[string]casetest.Compute{
		"SealMismatchLimit": func(_ testing.TB, in vals) vals {
			limit := SealMismatchLimit(unit.Delta(in.Float("dT_K")))
			return vals{"delta_alpha_per_K": limit, "limit_ppm": limit * in.Float("dT_K") * 1e6}
		},
		// The source's P is what the inclusion feels in tension, ours the squeeze.
		"SelsingPressure": func(_ testing.TB, in vals) vals {
			core, around, drop := pair(in)
			p := mpa(SelsingPressure(core, around, drop))
			return vals{"P_MPa": -p, "sigma_r_interface_MPa": -p, "sigma_theta_interface_MPa": p / 2,
				"matrix_hoop_tension_MPa": p / 2, "inclusion_pressure_MPa": p}
		},
		"CoreInShell": func(_ testing.TB, in vals) vals {
			core, around, drop := pair(in)
			p, inside, outside := CoreInShell(core, around, in.Float("core_over_outer_radius"), drop)
			return vals{"P_MPa": mpa(p), "hoop_inner_MPa": mpa(inside), "hoop_outer_MPa": mpa(outside)}
		},
		"SandwichStress": func(_ testing.TB, in vals) vals {
			core, around, drop := pair(in)
			s, _ := SandwichStress(core, around, in.Float("outer_total_over_core"), drop)
			return vals{"stress_MPa": mpa(s)}
		},
	})
}
