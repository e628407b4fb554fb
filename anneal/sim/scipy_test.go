package sim

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"lehr/glass/casetest"
)

// scipyCase answers the cases of testdata/cases/scipy.toml, which a stiff
// integrator of a general-purpose library computed on a grid of its own
// (testdata/cases/scipy_heat.py).
func scipyCase(t testing.TB, in casetest.Values) casetest.Values {
	if in.Has("relaxation") {
		return scipySlab(t, in.Text("relaxation"))
	}
	m, v := boro()
	core := in.Float("core_above_K")
	looks := in.Floats("look_h")
	kiln := program([2]float64{0, 560}, [2]float64{0.5, 560}, [2]float64{1.5, 480}, [2]float64{2.5, 300}, [2]float64{4, 60})
	p := Problem{Body: Body{Form: Form(in.Float("power")), Outer: in.Float("size_m")}, Material: m, Variants: v[:1], Surface: air,
		Start: func(rho float64) float64 { return 833.15 + core*(1-rho*rho) }}
	var center, surface []float64
	for _, h := range looks {
		p.Kiln = Kiln{At: kiln.At}
		for _, k := range kiln.Kinks {
			if k < h*3600 {
				p.Kiln.Kinks = append(p.Kiln.Kinks, k)
			}
		}
		p.Kiln.Kinks = append(p.Kiln.Kinks, h*3600)
		temp := must(t, p, Settings{Cells: 48, Tolerance: 0.01, MaxChange: 4}).Temperature
		center, surface = append(center, temp[0]), append(surface, temp[48])
	}
	return casetest.Values{"center_K": center, "surface_K": surface}
}

// scipySlab is the slab of scipy_heat.py.
func scipySlab(t testing.TB, kind string) casetest.Values {
	m, _ := plain()
	m.Conductivity = constant(5e-7 * 2500 * 1000)
	if kind == "series" {
		m.Shear = []Term{{0.2, 0.05}, {0.5, 0.8}, {0.3, 1.9666666666666668}}
		m.Bulk, m.BulkLong = []Term{{0.4, 0.1}, {0.6, 1.5}}, 0.3
	}
	o := must(t, Problem{Body: Body{Form: Slab, Outer: 0.008}, Material: m, Variants: []Variant{{A: -1.5, B: 4000, T0: 520}},
		Surface: Surface{Follows: true}, Start: uniform(620), Room: 293.15,
		Kiln: program([2]float64{0, 620}, [2]float64{0.02, 620}, [2]float64{0.1, 440}, [2]float64{0.15, 518}, [2]float64{0.32, 518}, [2]float64{0.7, 20})},
		Settings{Cells: 48, Tolerance: 0.01, MaxChange: 1}).Outcomes[0]
	return casetest.Values{"surface_MPa": o.Left.Plane[48] / 1e6, "center_MPa": o.Left.Plane[0] / 1e6, "peak_MPa": o.Peak / 1e6}
}

// TestScipyAgain makes cases anew where the library is installed (Debian:
// python3-scipy) and compares: one of heat and one of stress, or all of them
// with LEHR_REQUIRE_SCIPY=1, which also makes the library's absence a failure.
func TestScipyAgain(t *testing.T) {
	const python = "/usr/bin/python3"
	required := os.Getenv("LEHR_REQUIRE_SCIPY") == "1"
	if err := exec.Command(python, "-c", "import scipy").Run(); err != nil {
		if required {
			t.Fatalf("scipy is required and not there: %v", err)
		}
		t.Skipf("%s has no scipy (install python3-scipy): the stored numbers stand", python)
	}
	if testing.Short() && !required {
		t.Skip("takes seconds: not in a short run")
	}
	t.Parallel()
	args := []string{filepath.Join("..", "..", "testdata", "cases", "scipy_heat.py")}
	least := 60
	if !required {
		args, least = append(args, "heat-sphere-60mm", "stress-slab-maxwell"), 19
	}
	stored, err := os.ReadFile(filepath.Join("..", "..", "testdata", "cases", "scipy.toml"))
	if err != nil {
		t.Fatal(err)
	}
	made, err := exec.Command(python, args...).Output()
	if err != nil {
		t.Fatal(err)
	}
	want, got := expectedNumbers(t, stored), expectedNumbers(t, made)
	count := 0
	for id, made := range got {
		if len(made) != len(want[id]) {
			t.Fatalf("%s: %d numbers made, %d stored", id, len(made), len(want[id]))
		}
		for i, x := range made {
			near(t, id, x, want[id][i], 2e-4, 1e-3)
			count++
		}
	}
	if count < least {
		t.Errorf("only %d numbers made", count)
	}
}

// expectedNumbers returns the numbers that each case expects, by its id.
func expectedNumbers(t *testing.T, text []byte) map[string][]float64 {
	out := map[string][]float64{}
	for _, part := range strings.Split(string(text), "[[case]]")[1:] {
		id := regexp.MustCompile(`id = "(.*)"`).FindStringSubmatch(part)[1]
		line := regexp.MustCompile(`(?m)^expected.*$`).FindString(part)
		for _, s := range regexp.MustCompile(`-?\d+\.\d+`).FindAllString(line, -1) {
			x, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatal(err)
			}
			out[id] = append(out[id], x)
		}
	}
	return out
}
