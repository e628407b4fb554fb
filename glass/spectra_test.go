package glass

import (
	"math"
	"strings"
	"testing"

	"lehr/glass/casetest"
)

const ownSpectra = `[[glass]]
name = "own"
like = "float"
shear_relaxation = { weights = [0.4, 0.6], times = [1.0, 5.0] }
structural_relaxation = { weights = [0.5, 0.5], times = [10, 41] }
bulk_relaxation = { weights = [1.0], times = [2.0], long = 0.2 }
nonlinearity = 0.45
`

// TestSpectra: all parameters of the model stand in a glass file. Times may be
// seconds at one temperature: what counts are their ratios.
func TestSpectra(t *testing.T) {
	table, err := Load(strings.NewReader(ownSpectra), "own.toml")
	if err != nil {
		t.Fatal(err)
	}
	g := table.Glasses[0]
	mean := func(set []Term) (sum float64) {
		for _, s := range set {
			sum += s.Weight * s.Time
		}
		return sum
	}
	s := g.Spectra
	if g.Relaxation != "own" || math.Abs(mean(s.Shear)-1) > 1e-12 || math.Abs(mean(s.Structure)-1) > 1e-12 || math.Abs(s.Bulk[0].Time-2/3.4) > 1e-12 || s.BulkLong != 0.2 || g.Nonlinearity.Number != 0.45 {
		t.Errorf("%+v", s)
	}
	// The mean times are 3.4 and 25.5: structure is 7.5 times slower.
	if shear := g.Young.Number / 2 / (1 + g.Poisson.Number); math.Abs(shear/g.StructuralModulus.Number-7.5) > 1e-9 {
		t.Errorf("K_s %v", g.StructuralModulus)
	}
	if g.BorrowsSpectra() || g.Family != "soda-lime" {
		t.Errorf("family %q", g.Family)
	}
}

func TestSpectra_refused(t *testing.T) {
	for _, row := range []struct {
		old, new string
		line     int
		want     string
	}{
		{"[1.0, 5.0]", "[1.0]", 4, "as many weights as times"},
		{"[0.4, 0.6]", "[0.4, 0.5]", 4, "weights sum to 0.9, must sum to 1"},
		{"[1.0, 5.0]", "[1.0, -5.0]", 4, "above zero"},
		{"long = 0.2", "long = 1.5", 6, "between 0 and 1"},
		{"nonlinearity = 0.45", "nonlinearity = 3", 7, "0.05 to 1"},
		{"nonlinearity = 0.45", `relaxation = "maxwell"`, 7, "there is a shear_relaxation of its own"},
		{"shear_relaxation = { weights = [0.4, 0.6], times = [1.0, 5.0] }", "", 2, "need shear_relaxation beside"},
		{"nonlinearity = 0.45", `structural_modulus = "3.2"`, 7, "GPa"},
	} {
		text := strings.Replace(ownSpectra, row.old, row.new, 1)
		_, err := Load(strings.NewReader(text), "own.toml")
		if row.want == "GPa" {
			if err == nil {
				t.Error("a modulus without a unit was accepted")
			}
			continue
		}
		casetest.Refused(t, "own.toml", err, text, row.line, row.want, "")
	}
}

// TestFamilies: the six terms are those of a soda-lime glass; every other family
// borrows them, and says so.
func TestFamilies(t *testing.T) {
	for name, borrows := range map[string]bool{"float": false, "soda-104": false, "fusible-96": false, "fusible-90": false, "furnace-96": false,
		"borosilicate-33": true, "neutral-50": true, "bk7": true, "lead-crystal": true, "aluminosilicate": true, "fused-silica": true} {
		g, err := Find(name)
		if err != nil {
			t.Fatal(err)
		}
		if g.BorrowsSpectra() != borrows {
			t.Errorf("%s borrows: %v", name, !borrows)
		}
		if len(g.Structure()) < 7 {
			t.Errorf("%s: %d published numbers", name, len(g.Structure()))
		}
	}
	for _, f := range structure {
		if f.Source == "" || f.Status == "" || f.Low > f.High || f.Status == Memory {
			t.Errorf("%+v", f)
		}
	}
}
