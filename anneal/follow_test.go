package anneal

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/floats/scalar"

	"lehr/glass"
	"lehr/glass/unit"
)

// verifyText verifies a schedule file for one piece.
func verifyText(t *testing.T, schedule, name, what string, into Into, st Studio) (*Report, error) {
	t.Helper()
	s, err := readSchedule(schedule)
	if err != nil {
		t.Fatal(err)
	}
	p, err := ParsePiece(what)
	if err != nil {
		t.Fatal(err)
	}
	if p.Glass, err = glass.Find(name); err != nil {
		t.Fatal(err)
	}
	return Verify(s, &Load{Into: into, Pieces: []Piece{p}}, st, Limits{})
}

func studioOf(t *testing.T, text string) Studio {
	t.Helper()
	st, err := ReadStudio(strings.NewReader(text), "studio.toml")
	if err != nil {
		t.Fatal(err)
	}
	return st
}

const cold = "from = \"20 °C\"\n[[segment]]\nto = \"510 °C\"\n%s\n" +
	"[[segment]]\nhold = \"60 min\"\n[[segment]]\nrate = \"30 °C/h\"\nto = \"40 °C\"\n"

// TestVerify_fullIsTheStudiosHeating: as fast as the kiln can is what the owner
// says of the kiln, not what is usual.
func TestVerify_fullIsTheStudiosHeating(t *testing.T) {
	const what, name = "sphere 0.75in", "soda-104"
	st := studioOf(t, "[kiln]\nfastest_heating = \"1500 °C/h\"\n")
	full, err := verifyText(t, fmt.Sprintf(cold, "full = true"), name, what, ColdKiln, st)
	if err != nil {
		t.Fatal(err)
	}
	told, err := verifyText(t, fmt.Sprintf(cold, `rate = "1500 °C/h"`), name, what, ColdKiln, st)
	if err != nil {
		t.Fatal(err)
	}
	a, b := float64(full.Pieces[0].Peak), float64(told.Pieces[0].Peak)
	if full.Within || told.Within || !scalar.EqualWithinRel(a, b, 0.01) || a < 10e6 {
		t.Errorf("full: %.2f MPa, within %v; the same rate told: %.2f MPa, within %v", a/1e6, full.Within, b/1e6, told.Within)
	}
	if text := strings.Join(full.Notes, "\n"); strings.Contains(text, "was taken to be") {
		t.Errorf("the heating was given, and yet: %s", text)
	}

	// Where nobody gave it, the reader learns first what was taken.
	full, err = verifyText(t, fmt.Sprintf(cold, "full = true"), name, what, ColdKiln, DefaultStudio())
	if err != nil {
		t.Fatal(err)
	}
	const want = "segment 1 heats as fast as the kiln can, which was taken to be 400 °C/h"
	if len(full.Notes) == 0 || !strings.Contains(full.Notes[0], want) || !strings.Contains(strings.Join(full.Assumptions, "\n"), want) {
		t.Errorf("%q is not first of\n%s\nor not assumed", want, strings.Join(full.Notes, "\n"))
	}
}

// TestVerify_unmeasuredFall: the fall of a kiln that nobody measured is not
// made up, with the power off or without.
func TestVerify_unmeasuredFall(t *testing.T) {
	for _, end := range []string{"off = true", "full = true", "rate = \"100 °C/h\"\noff = true"} {
		text := "from = \"560 °C\"\n[[segment]]\nhold = \"2 h\"\n[[segment]]\nrate = \"15 °C/h\"\nto = \"440 °C\"\n[[segment]]\nto = \"45 °C\"\n" + end + "\n"
		_, err := verifyText(t, text, "borosilicate-33", "sphere 2.25in", HotKiln, DefaultStudio())
		var missing *UnmeasuredError
		if !errors.As(err, &missing) || missing.Segment != 3 || !strings.Contains(missing.Hint(), "cooling_time_constant") {
			t.Errorf("%s: error %v", end, err)
		}
		if rep, err := verifyText(t, text, "borosilicate-33", "sphere 2.25in", HotKiln, measured()); err != nil || rep.Pieces[0].Peak <= 0 {
			t.Errorf("%s, measured: %v", end, err)
		}
	}
}

// TestVerify_measuredFallExcusesNoHeating: a kiln of which only the fall was
// measured heats as told.
func TestVerify_measuredFallExcusesNoHeating(t *testing.T) {
	for _, c := range []struct {
		studio string
		within bool
	}{
		{"", false},
		{"[kiln]\ncooling_time_constant = \"3 h\"\n", false},
		{"[kiln]\nfastest_heating = \"100 °C/h\"\n", true}, // the kiln cannot
	} {
		rep, err := verifyText(t, fmt.Sprintf(cold, `rate = "999 °C/h"`), "soda-104", "sphere 0.75in", ColdKiln, studioOf(t, c.studio))
		if err != nil {
			t.Fatal(err)
		}
		if peak := float64(rep.Pieces[0].Peak); rep.Within != c.within || !c.within && peak < 6e6 {
			t.Errorf("studio %q: %.2f MPa, within %v, want %v", c.studio, peak/1e6, rep.Within, c.within)
		}
	}
}

// TestSchedule_followed: each half of what is known of a kiln counts by itself.
func TestSchedule_followed(t *testing.T) {
	s := Schedule{From: unit.Celsius(20), Segments: []Segment{
		{Rate: unit.KelvinPerHour(1000), To: unit.Celsius(520)},
		{Rate: unit.KelvinPerHour(-5000), To: unit.Celsius(120)},
	}}
	st := DefaultStudio()
	hours := func() (up, down float64) {
		sp := s.followed(st).Spans
		return (sp[0].End - sp[0].Start) / 3600, (sp[1].End - sp[1].Start) / 3600
	}
	for _, c := range []struct {
		heats, falls bool
		up, down     float64
	}{
		{false, false, 0.5, 0.08},
		{true, false, 2.5, 0.08},
		{false, true, 0.5, 2 / 1.1 * 1.6094379124341003}, // ln 5, one tenth faster
		{true, true, 2.5, 2 / 1.1 * 1.6094379124341003},
	} {
		st.Kiln.Heating, st.Kiln.HeatingGiven = unit.KelvinPerHour(200), c.heats
		st.Kiln.Fall.TimeConstant, st.Kiln.Measured = 2*time.Hour, c.falls
		if up, down := hours(); !scalar.EqualWithinRel(up, c.up, 1e-3) || !scalar.EqualWithinRel(down, c.down, 1e-3) {
			t.Errorf("heating given %v, fall given %v: %.4f h up and %.4f h down, want %.4f and %.4f", c.heats, c.falls, up, down, c.up, c.down)
		}
	}
}

// TestVerify_closedFormsSeeTheKiln: a kiln that falls by itself is judged by
// its fall, not by the rate keyed in, and a program that heats again after the
// soak not at all.
func TestVerify_closedFormsSeeTheKiln(t *testing.T) {
	const usual = "from = \"560 °C\"\n[[segment]]\nhold = \"2 h\"\n[[segment]]\nrate = \"15 °C/h\"\nto = \"440 °C\"\n"
	const name, what = "borosilicate-33", "sphere 2.25in"
	told, err := verifyText(t, usual+"[[segment]]\nrate = \"999 °C/h\"\nto = \"45 °C\"\n", name, what, HotKiln, measured())
	if err != nil {
		t.Fatal(err)
	}
	left, err := verifyText(t, usual+"[[segment]]\noff = true\nto = \"45 °C\"\n", name, what, HotKiln, measured())
	if err != nil {
		t.Fatal(err)
	}
	a, b := told.Pieces[0], left.Pieces[0]
	if !scalar.EqualWithinRel(float64(a.ClosedPeak), float64(b.ClosedPeak), 1e-9) || a.ClosedPeak > 2*a.Peak || a.Peak > 2*a.ClosedPeak {
		t.Errorf("told 999 °C/h: closed form %s, simulated %s; left to the kiln: closed form %s", a.ClosedPeak, a.Peak, b.ClosedPeak)
	}
	// The steepest moment of the fall, by hand: the excess over the time constant.
	kappa, err := kappa(a.Piece.Glass, unit.Celsius(440), unit.Celsius(420))
	if err != nil {
		t.Fatal(err)
	}
	body := newSteadyBody(RuleRequest{Glass: a.Piece.Glass, Shape: FormSphere, Size: a.Body.Size})
	want := body.stress(body.surface*a.Body.Tension, unit.Rate(-420/(3.5*3600/1.1)), kappa)
	if !scalar.EqualWithinRel(float64(a.ClosedPeak), float64(want), 0.05) {
		t.Errorf("closed form %s, by hand %s", a.ClosedPeak, want)
	}

	again, err := verifyText(t, usual+"[[segment]]\nrate = \"100 °C/h\"\nto = \"500 °C\"\n[[segment]]\nrate = \"30 °C/h\"\nto = \"45 °C\"\n", name, what, HotKiln, measured())
	if err != nil {
		t.Fatal(err)
	}
	if r := again.Pieces[0]; r.ClosedPeak != 0 || r.ClosedLeft != 0 || r.Differs(again.Limits) != "" {
		t.Errorf("heated again: closed forms say %s and %s", r.ClosedPeak, r.ClosedLeft)
	}
}
