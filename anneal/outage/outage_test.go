package outage

import (
	"context"
	"math"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/rescue"
	"lehr/glass"
	"lehr/glass/unit"
)

// night is a load of spheres in a kiln with a time constant of 2 h, and the
// program of the study: soak at 560 °C, 60 °C/h to 450 °C, 200 °C/h to 40 °C.
func night(t testing.TB, failed, found float64, pieces ...string) Case {
	t.Helper()
	l := &piece.Load{Into: piece.HotKiln}
	for _, text := range pieces {
		p, err := piece.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		if p.Glass, err = glass.Find("borosilicate-33"); err != nil {
			t.Fatal(err)
		}
		l.Pieces = append(l.Pieces, p)
	}
	st := kiln.DefaultStudio()
	st.Kiln.Fall = kiln.Fall{TimeConstant: 2 * time.Hour, Room: unit.Celsius(25)}
	s := program.Schedule{From: unit.Celsius(560), Segments: []program.Segment{
		{Purpose: program.PurposeSoak, To: unit.Celsius(560), Hold: 90 * time.Minute},
		{Purpose: program.PurposeSlow, To: unit.Celsius(450), Rate: unit.KelvinPerHour(-60)},
		{Purpose: program.PurposeFinal, To: unit.Celsius(40), Rate: unit.KelvinPerHour(-200)},
	}}
	past, err := Past(s, st, unit.Celsius(failed), unit.Celsius(found), 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	return Case{Load: l, Studio: st, Program: s, Past: past, Failed: unit.Celsius(failed)}
}

func find(t testing.TB, c Case) *Answer {
	t.Helper()
	a, err := Find(context.Background(), c)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func (a *Answer) way(w rescue.Way) Way {
	for _, x := range a.Ways {
		if x.Way == w {
			return x
		}
	}
	return Way{}
}

// TestFind_decisions: what the study says comes first, comes first where it keeps
// the limits, and what it rules out stands last.
func TestFind_decisions(t *testing.T) {
	for _, row := range []struct {
		failed, found float64
		is            rescue.Case
		first         rescue.Way
	}{
		{480, 300, rescue.SetBefore, rescue.GoOn},
		{560, 545, rescue.NothingLost, rescue.SoakAgain},
		{560, 490, rescue.SettingNow, rescue.SoakAgain},
	} {
		a := find(t, night(t, row.failed, row.found, "sphere 63.5mm"))
		if a.Advice.Case != row.is || a.Ways[0].Way != row.first {
			t.Errorf("failed at %g, found at %g: %v, first %v", row.failed, row.found, a.Advice.Case, a.Ways[0].Way)
		}
		for i, w := range a.Ways {
			if w.Lasts <= 0 || w.Report == nil || w.Ruled && i != 2 {
				t.Errorf("failed at %g: %v lasts %v, ruled out %v", row.failed, w.Way, w.Lasts, w.Ruled)
			}
		}
		if again := a.way(rescue.SoakAgain); again.Ruled != (row.is == rescue.SetBefore) {
			t.Errorf("failed at %g: soak again ruled out: %v", row.failed, again.Ruled)
		}
	}
}

// TestFind_sizes: the larger piece is heated back slower, a new soak leaves what
// the undisturbed program leaves, and a fall out of the soak leaves more.
func TestFind_sizes(t *testing.T) {
	small, large := find(t, night(t, 560, 349, "sphere 63.5mm")), find(t, night(t, 560, 349, "sphere 100mm"))
	if a := find(t, night(t, 560, 349, "sphere 30mm")); a.Ways[0].Way != rescue.LetFall || a.way(rescue.SoakAgain).Rate <= small.way(rescue.SoakAgain).Rate {
		t.Errorf("a small one: %v first, heated at %v", a.Ways[0].Way, a.way(rescue.SoakAgain).Rate)
	}
	if a, b := small.way(rescue.SoakAgain), large.way(rescue.SoakAgain); !(b.Rate < a.Rate) || a.Rate > small.Ways[0].Report.Studio.Kiln.Heating {
		t.Errorf("rates %v and %v", a.Rate, b.Rate)
	}
	for _, a := range []*Answer{small, large} {
		again, fall := a.way(rescue.SoakAgain).Report.Pieces[0], a.way(rescue.LetFall).Report.Pieces[0]
		// Of the study: 0.42 against 1.27 MPa, and 1.02 against 2.53.
		if r := float64(fall.Residual / again.Residual); r < 2 || r > 3.6 {
			t.Errorf("left %v after a new soak, %v without", again.Residual, fall.Residual)
		}
		if a.Advice.Case != rescue.SetTooFast {
			t.Error(a.Advice.Case)
		}
	}
}

// TestPast: without the hours the kiln's own fall gives how long it fell, with
// them it fell as it must have.
func TestPast(t *testing.T) {
	c := night(t, 560, 349, "sphere 20mm")
	want := 90*time.Minute + time.Duration(120*math.Log(535.0/324)*float64(time.Minute))
	if d := c.Past.End() - want; d.Abs() > 2*time.Second {
		t.Errorf("until %v, want %v", c.Past.End(), want)
	}
	past, err := Past(c.Program, c.Studio, unit.Celsius(500), unit.Celsius(349), 0, 3*time.Hour)
	if err != nil {
		t.Fatal(err)
	}
	if d := past.End() - 330*time.Minute; d.Abs() > 2*time.Second || math.Abs(past.Temp(past.End()).Celsius()-349) > 0.1 {
		t.Errorf("until %v at %v", past.End(), past.Temp(past.End()))
	}
	if _, err := Past(c.Program, c.Studio, unit.Celsius(300), unit.Celsius(349), 0, 0); err == nil {
		t.Error("hotter than it failed")
	}
}
