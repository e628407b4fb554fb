package seal

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// TestScipyAgain makes cases of testdata/cases/scipy_seal.toml anew and compares,
// with LEHR_REQUIRE_SCIPY=1 (Debian: python3-scipy): one that takes seconds, and
// with LEHR_CAMPAIGN=1 those, too, that take minutes each. The stored numbers stand
// otherwise.
func TestScipyAgain(t *testing.T) {
	if os.Getenv("LEHR_REQUIRE_SCIPY") != "1" {
		t.Skip("takes seconds and a library: set LEHR_REQUIRE_SCIPY=1")
	}
	names := []string{"seal-stone-fired-twice"}
	if os.Getenv("LEHR_CAMPAIGN") == "1" {
		names = append(names, "seal-skin-softer", "seal-core-softer-held", "seal-stone-three-terms")
	}
	script := filepath.Join("..", "..", "testdata", "cases", "scipy_seal.py")
	stored, err := os.ReadFile(strings.TrimSuffix(script, ".py") + ".toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		made, err := exec.Command("/usr/bin/python3", script, name).Output()
		if err != nil {
			t.Fatalf("scipy is required: %v", err)
		}
		want, got := expectedOf(t, string(stored), name), expectedOf(t, string(made), name)
		if len(got) != 4 || len(want) != 4 {
			t.Fatalf("%d numbers made, %d stored", len(got), len(want))
		}
		for i := range want {
			close(t, name, got[i], want[i], 1e-4)
		}
	}
}

// expectedOf returns the numbers that a case of a file expects.
func expectedOf(t *testing.T, text, id string) (out []float64) {
	_, part, _ := strings.Cut(text, `id = "`+id+`"`)
	line := regexp.MustCompile(`(?m)^expected.*$`).FindString(part)
	for _, s := range regexp.MustCompile(`-?\d+\.\d+`).FindAllString(line, -1) {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, x)
	}
	return out
}
