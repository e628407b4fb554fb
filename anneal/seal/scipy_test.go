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

// TestScipyAgain makes one case of testdata/cases/scipy_seal.toml anew and
// compares, with LEHR_REQUIRE_SCIPY=1 (Debian: python3-scipy). It takes a minute
// or two, so the stored numbers stand otherwise.
func TestScipyAgain(t *testing.T) {
	if os.Getenv("LEHR_REQUIRE_SCIPY") != "1" {
		t.Skip("takes a minute: set LEHR_REQUIRE_SCIPY=1")
	}
	const name = "seal-skin-softer"
	script := filepath.Join("..", "..", "testdata", "cases", "scipy_seal.py")
	made, err := exec.Command("/usr/bin/python3", script, name).Output()
	if err != nil {
		t.Fatalf("scipy is required: %v", err)
	}
	stored, err := os.ReadFile(strings.TrimSuffix(script, ".py") + ".toml")
	if err != nil {
		t.Fatal(err)
	}
	want, got := expectedOf(t, string(stored), name), expectedOf(t, string(made), name)
	if len(got) != 4 || len(want) != 4 {
		t.Fatalf("%d numbers made, %d stored", len(got), len(want))
	}
	for i := range want {
		close(t, name, got[i], want[i], 1e-4)
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
