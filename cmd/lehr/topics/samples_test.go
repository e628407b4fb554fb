package topics

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
	"lehr/safety/checklist"
)

// TestLoadSample_columns: the sample load fits a terminal.
func TestLoadSample_columns(t *testing.T) {
	for _, sys := range []unit.System{unit.Metric, unit.US} {
		for line := range strings.Lines(LoadSample(sys)) {
			if n := term.Columns(strings.TrimRight(line, "\n")); n > 80 {
				t.Errorf("%d columns: %s", n, line)
			}
		}
	}
}

// keysOfSample returns the keys of a sample studio file, given or behind #, each
// with its table before it.
func keysOfSample(t *testing.T, text string) map[string]bool {
	t.Helper()
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
	return have
}

// TestStudioSample_namesEveryKey: every key of a studio file stands in the
// sample with a value that is accepted, in both unit systems.
func TestStudioSample_namesEveryKey(t *testing.T) {
	for _, sys := range []unit.System{unit.Metric, unit.US} {
		text := StudioSample(sys)
		have := keysOfSample(t, text)
		for _, k := range kiln.StudioKeys() {
			if !have[k] {
				t.Errorf("%s is not in the sample", k)
			}
		}
		facts := factsOfFiles()
		for _, f := range facts {
			if !have["session."+f.Name] {
				t.Errorf("session fact %s is not in the sample", f.Name)
			}
		}
		if want := len(kiln.StudioKeys()) + len(facts); len(have) != want {
			t.Errorf("%d keys, want %d", len(have), want)
		}
	}
}

// factsOfFiles are the facts that a file may say.
func factsOfFiles() []checklist.Fact {
	return slices.DeleteFunc(checklist.Names(), func(f checklist.Fact) bool { return f.Scope == checklist.OfNow })
}

// TestStudioSample_isTheDefault: as it stands the sample is the default studio, but
// for the glass and rounding, and with every # taken away every value is accepted.
func TestStudioSample_isTheDefault(t *testing.T) {
	for _, sys := range []unit.System{unit.Metric, unit.US} {
		text := StudioSample(sys)
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

		// One of the two ways to say how the kiln cools must go.
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
		if n, facts := len(given.Given()), len(factsOfFiles()); n != facts {
			t.Errorf("%d facts given, want %d", n, facts)
		}
		if !st.Kiln.Measured || st.Kiln.Fall.Points != 4 || st.Kiln.HoldingDuty != 0.3 || st.Kiln.Price == 0 || st.Kiln.ProbeError == 0 {
			t.Errorf("values lost: %+v", st.Kiln)
		}
	}
}
