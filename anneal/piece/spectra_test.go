package piece

import (
	"math"
	"strings"
	"testing"

	"lehr/glass"
)

// TestMaterial_ownSpectra: the published set of soda-lime glass, entered in
// seconds in a glass file, is the set that every glass relaxes by.
func TestMaterial_ownSpectra(t *testing.T) {
	const file = `[[glass]]
name = "set-of-1998"
like = "float"
shear_relaxation = { weights = [0.05523, 0.08205, 0.1215, 0.2286, 0.2860, 0.22662], times = [6.658e-5, 1.197e-3, 1.514e-2, 0.1672, 0.7497, 3.292] }
structural_relaxation = { weights = [0.05523, 0.08205, 0.1215, 0.2286, 0.2860, 0.22662], times = [5.965e-4, 1.077e-2, 0.1362, 1.505, 6.747, 29.63] }
`
	table, err := glass.Load(strings.NewReader(file), "own.toml")
	if err != nil {
		t.Fatal(err)
	}
	built, err := glass.Find("float")
	if err != nil {
		t.Fatal(err)
	}
	own, variants, err := Material(table.Glasses[0])
	if err != nil {
		t.Fatal(err)
	}
	want, _, err := Material(built)
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range want.Shear {
		if got := own.Shear[i]; math.Abs(got.Weight/s.Weight-1) > 1e-4 || math.Abs(got.Time/s.Time-1) > 1e-3 {
			t.Errorf("term %d: %+v, want %+v", i, got, s)
		}
	}
	if math.Abs(own.StructuralModulus/want.StructuralModulus-1) > 0.02 {
		t.Errorf("K_s %g, want %g", own.StructuralModulus, want.StructuralModulus)
	}
	if variants[0].FastStructure.StructuralModulus != own.StructuralModulus {
		t.Error("a pace without a range has a second variant")
	}
}
