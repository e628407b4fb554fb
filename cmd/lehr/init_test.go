package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/topics"
	"lehr/glass/unit"
	"lehr/safety/checklist"
)

// TestLoadSample_columns: the sample load fits a terminal.
func TestLoadSample_columns(t *testing.T) {
	for _, sys := range []unit.System{unit.Metric, unit.US} {
		for line := range strings.Lines(topics.LoadSample(sys)) {
			if n := term.Columns(strings.TrimRight(line, "\n")); n > 80 {
				t.Errorf("%d columns: %s", n, line)
			}
		}
	}
}

// TestStudioSample_namesEveryKey: every key of a studio file stands in the
// sample with a value that is accepted, in both unit systems.
func TestStudioSample_namesEveryKey(t *testing.T) {
	for _, sys := range []unit.System{unit.Metric, unit.US} {
		text := topics.StudioSample(sys)
		table, have := "", map[string]bool{}
		for line := range strings.Lines(text) {
			if m := regexp.MustCompile(`^\[(\w+)\]`).FindStringSubmatch(line); m != nil {
				table = m[1] + "."
			}
			if m := regexp.MustCompile(`^#?(\w+) = `).FindStringSubmatch(line); m != nil {
				if have[table+m[1]] {
					t.Errorf("%s%s stands twice", table, m[1])
				}
				have[table+m[1]] = true
			}
			if n := term.Columns(strings.TrimRight(line, "\n")); n > 80 || n > 78 && strings.HasPrefix(line, "# ") {
				t.Errorf("%d columns: %s", n, line)
			}
		}
		for _, k := range kiln.StudioKeys() {
			if !have[k] {
				t.Errorf("%s is not in the sample", k)
			}
		}
		facts := 0
		for _, f := range checklist.Names() {
			if f.Scope == checklist.OfNow {
				continue
			}
			facts++
			if !have["session."+f.Name] {
				t.Errorf("session fact %s is not in the sample", f.Name)
			}
		}
		if want := len(kiln.StudioKeys()) + facts; len(have) != want {
			t.Errorf("%d keys, want %d", len(have), want)
		}

		// As it stands it is the default studio, but for the glass and rounding.
		st, err := kiln.ReadStudio(strings.NewReader(text), "studio.toml")
		if err != nil {
			t.Fatal(err)
		}
		d := kiln.DefaultStudio().Limits
		for _, pair := range [][2]float64{{float64(st.Limits.Tension), float64(d.Tension)}, {float64(st.Limits.Residual), float64(d.Residual)},
			{st.Limits.Relaxed, d.Relaxed}, {float64(st.Limits.Even), float64(d.Even)}} {
			if pair[0] > pair[1]*1.001 || pair[0] < pair[1]*0.995 {
				t.Errorf("limit %g, default %g", pair[0], pair[1])
			}
		}
		if st.Limits.TensionGiven || st.Limits.ResidualGiven {
			t.Error("the sample gives limits of the worst case, which replace the published ones")
		}
		if st.Kiln.Measured || st.Units != sys || st.Controller.Units != sys || st.Controller.FullWord != "" {
			t.Errorf("the sample is not the default studio: %+v", st)
		}

		// With every # taken away every value is accepted. One of the two ways to
		// say how the kiln cools must go.
		all := regexp.MustCompile(`(?m)^#(\w+ = )`).ReplaceAllString(text, "$1")
		all = regexp.MustCompile(`(?m)^cooling_time_constant.*\n`).ReplaceAllString(all, "")
		st, err = kiln.ReadStudio(strings.NewReader(all), "studio.toml")
		if err != nil {
			t.Fatalf("with every key: %v", err)
		}
		given, err := checklist.FactsFrom(st.Session, checklist.FromStudio, time.Now())
		if err != nil {
			t.Fatalf("with every fact: %v", err)
		}
		if n := len(given.Given()); n != facts {
			t.Errorf("%d facts given, want %d", n, facts)
		}
		if !st.Kiln.Measured || st.Kiln.Fall.Points != 4 || st.Kiln.HoldingDuty != 0.3 || st.Kiln.Price == 0 || st.Kiln.ProbeError == 0 {
			t.Errorf("values lost: %+v", st.Kiln)
		}
	}
}

// TestInit_allOrNothing: when the second file cannot be written, the first is
// as before.
func TestInit_allOrNothing(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, desk.StudioName), []byte("units = \"f\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, topics.LoadName), []byte("old\n"), 0o444); err != nil {
		t.Fatal(err)
	}
	if _, stderr, code := runHere("init", dir, "--force"); code != exitFail || !strings.Contains(stderr, "is write-protected") {
		t.Fatalf("exit status %d, stderr %q", code, stderr)
	}
	got, err := os.ReadFile(filepath.Join(dir, desk.StudioName))
	if err != nil || string(got) != "units = \"f\"\n" {
		t.Errorf("studio.toml is %q, %v", got, err)
	}
	names, err := filepath.Glob(filepath.Join(dir, "*"))
	if hidden, _ := filepath.Glob(filepath.Join(dir, ".*")); err != nil || len(names) != 2 || len(hidden) != 0 {
		t.Errorf("left behind: %v %v", names, hidden)
	}
}
