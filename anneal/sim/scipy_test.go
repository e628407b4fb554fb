package sim

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// TestScipyAgain makes cases anew where the library is installed (Debian:
// python3-scipy) and compares: with LEHR_LONG=1 one of heat and one of stress, or all
// of them with LEHR_REQUIRE_SCIPY=1, which also makes the library's absence a failure.
func TestScipyAgain(t *testing.T) {
	const python = "/usr/bin/python3"
	required := os.Getenv("LEHR_REQUIRE_SCIPY") == "1"
	if err := exec.Command(python, "-c", "import scipy").Run(); err != nil {
		if required {
			t.Fatalf("scipy is required and not there: %v", err)
		}
		t.Skipf("%s has no scipy (install python3-scipy): the stored numbers stand", python)
	}
	if !required && os.Getenv("LEHR_LONG") != "1" {
		t.Skip("takes seconds; LEHR_LONG=1 runs it")
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
