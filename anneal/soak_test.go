package anneal

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// program reads a schedule given in lines of its file.
func program(t *testing.T, text string) Schedule {
	t.Helper()
	s, err := ReadSchedule(strings.NewReader(text), "program.toml")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func overHas(r PieceReport, words string) bool {
	return slices.ContainsFunc(r.Over, func(s string) bool { return strings.Contains(s, words) })
}

// TestVerify_soakTooColdToRelax: a hold far below the strain point, or none at
// all, relaxes nothing, and must never be within limits for that.
func TestVerify_soakTooColdToRelax(t *testing.T) {
	for _, text := range []string{
		"from = \"400 °C\"\n[[segment]]\nhold = \"2 h\"\n[[segment]]\nrate = \"60 °C/h\"\nto = \"40 °C\"\n",
		"from = \"425 °C\"\n[[segment]]\nhold = \"2 h\"\n[[segment]]\nrate = \"60 °C/h\"\nto = \"40 °C\"\n",
		"from = \"450 °C\"\n[[segment]]\nhold = \"2 h\"\n[[segment]]\nrate = \"60 °C/h\"\nto = \"40 °C\"\n",
		"from = \"400 °C\"\n[[segment]]\nrate = \"60 °C/h\"\nto = \"40 °C\"\n",
	} {
		rep := mustVerify(t, program(t, text), loadOf(t, "borosilicate-33", "sphere 2.5in"), Options{})
		if rep.Within || !overHas(rep.Pieces[0], "relax") {
			t.Errorf("%q: within %v, over %q, relaxed %.4f", text, rep.Within, rep.Pieces[0].Over, rep.Pieces[0].Relaxed)
		}
	}
}

// TestVerify_namesDoNotDecide: the hold that relaxes the glass is the soak,
// whatever the segments are called.
func TestVerify_namesDoNotDecide(t *testing.T) {
	const text = `from = "450 °C"
[[segment]]
purpose = "PURPOSE"
hold = "30 min"
[[segment]]
purpose = "anneal"
rate = "100 °C/h"
to = "560 °C"
hold = "2 h"
[[segment]]
rate = "24 °C/h"
to = "460 °C"
[[segment]]
rate = "60 °C/h"
to = "40 °C"
`
	for _, name := range []string{"soak", "equalize"} {
		rep := mustVerify(t, program(t, strings.ReplaceAll(text, "PURPOSE", name)), loadOf(t, "borosilicate-33", "sphere 2.5in"), Options{})
		if !rep.Within {
			t.Errorf("%s: over %q", name, rep.Pieces[0].Over)
		}
	}
}

// TestPlan_splitSoak: a soak longer than one segment takes is one soak.
func TestPlan_splitSoak(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "sphere 3in")
	l.Pieces[0].HottestSoak = unit.Celsius(530)
	whole := mustPlan(t, l, DefaultStudio(), Options{})
	st := DefaultStudio()
	st.Controller.Longest, st.Controller.Segments = time.Hour, 20
	split := mustPlan(t, l, st, Options{})
	held := func(rep *Report) (sum time.Duration) {
		for _, s := range rep.Schedule.Segments {
			sum += s.Hold
		}
		return sum
	}
	if held(whole) != held(split) || !split.Within {
		t.Errorf("whole holds %s, split %s, within %v", held(whole), held(split), split.Within)
	}
	if !strings.Contains(split.Reasons[0], unit.FormatDuration(held(split))) {
		t.Errorf("reason %q does not give the whole soak", split.Reasons[0])
	}
}

// TestVerify_whatAPieceBears: the load's own limits and softness are judged in
// a given program too.
func TestVerify_whatAPieceBears(t *testing.T) {
	const text = `from = "650 °C"
[[segment]]
hold = "8 h"
[[segment]]
rate = "20 °C/h"
to = "40 °C"
`
	l := loadOf(t, "borosilicate-33", "sphere 1in")
	l.Pieces[0].HottestSoak, l.Pieces[0].LongestSoak = unit.Celsius(570), time.Hour
	rep := mustVerify(t, program(t, text), l, Options{})
	for _, want := range []string{"as hot as 650 °C, bears 570 °C", "held hot for 8 h, bears 1 h", "sags"} {
		if rep.Within || !overHas(rep.Pieces[0], want) {
			t.Errorf("within %v, over %q, want %q", rep.Within, rep.Pieces[0].Over, want)
		}
	}
}

// TestVerify_warmOnlyThatCools: a program that cools to the room is judged to
// its end, whatever the load calls it.
func TestVerify_warmOnlyThatCools(t *testing.T) {
	const text = "from = \"560 °C\"\n[[segment]]\nhold = \"2 min\"\n[[segment]]\nrate = \"200 °C/h\"\nto = \"40 °C\"\n"
	l := loadOf(t, "borosilicate-33", "sphere 2.5in")
	l.Into = WarmOnly
	if rep := mustVerify(t, program(t, text), l, Options{}); rep.Within || !overHas(rep.Pieces[0], "tension left") {
		t.Errorf("within %v, over %q", rep.Within, rep.Pieces[0].Over)
	}
}

// TestVerify_endsHotIsNotWithin: what a program that ends hot leaves to chance is never
// within limits.
func TestVerify_endsHotIsNotWithin(t *testing.T) {
	const text = "from = \"560 °C\"\n[[segment]]\nhold = \"1 h\"\n[[segment]]\nrate = \"30 °C/h\"\nto = \"482 °C\"\n"
	rep := mustVerify(t, program(t, text), loadOf(t, "borosilicate-33", "sphere 2.5in"), Options{})
	if rep.Within || !rep.Unjudged || !overHas(rep.Pieces[0], "not judged beyond") {
		t.Errorf("within %v, unjudged %v, over %q", rep.Within, rep.Unjudged, rep.Pieces[0].Over)
	}
}

// TestPlan_shorterThanTheHabit: the quarter hour of the rule gives way where a
// piece bears less and needs less.
func TestPlan_shorterThanTheHabit(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "sphere 15mm")
	l.Pieces[0].LongestSoak = 10 * time.Minute
	rep := mustPlan(t, l, DefaultStudio(), Options{})
	if !rep.Within || rep.Schedule.Segments[0].Hold > 10*time.Minute {
		t.Errorf("within %v, over %q, soak %s", rep.Within, rep.Pieces[0].Over, rep.Schedule.Segments[0].Hold)
	}
}

// TestSimulate_hotCore: a core far hotter than the kiln is resolved: within 2 %
// of a simulation four times finer.
func TestSimulate_hotCore(t *testing.T) {
	for _, c := range []struct {
		glass, piece string
		hotter       float64
	}{{"lead-crystal", "disc 75mm x 25mm", 340}, {"lead-crystal", "tube 60mm wall 25mm open", 340}, {"borosilicate-33", "disc 75mm x 25mm", 340}, {"borosilicate-33", "sphere 2in", 150}, {"soda-104", "sphere 2in", 500}} {
		l := loadOf(t, c.glass, c.piece)
		p := &l.Pieces[0]
		from := p.Glass.Anneal.Temp()
		p.Core = from.Add(unit.Delta(c.hotter))
		s := Schedule{From: from, Segments: []Segment{{Purpose: PurposeSoak, To: from, Hold: time.Hour}, {Purpose: PurposeFinal, Rate: unit.KelvinPerHour(-30), To: unit.Celsius(43)}}}
		f := newFiring(s, DefaultStudio(), HotKiln)
		got, err := f.simulate(*p, planSettings)
		if err != nil {
			t.Fatal(err)
		}
		fine, err := f.simulate(*p, sim.Settings{Cells: 256, Tolerance: 0.02})
		if err != nil {
			t.Fatal(err)
		}
		if e := math.Abs(float64(got.Peak/fine.Peak) - 1); e > 0.02 {
			t.Errorf("%s of %s, core %.0f K hotter: peak %.4g MPa, finer %.4g MPa, %.1f %% apart", c.piece, c.glass, c.hotter, got.Peak.Megapascals(), fine.Peak.Megapascals(), 100*e)
		}
	}
}
