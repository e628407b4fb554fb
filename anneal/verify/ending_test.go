package verify

import (
	"context"
	"math"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/glass"
	"lehr/glass/unit"
)

func spheres(t *testing.T, texts ...string) *piece.Load {
	t.Helper()
	g, err := glass.Find("borosilicate-33")
	if err != nil {
		t.Fatal(err)
	}
	l := &piece.Load{Into: piece.HotKiln}
	for _, s := range texts {
		p, err := piece.Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		p.Glass = g
		l.Pieces = append(l.Pieces, p)
	}
	return l
}

func measured() kiln.Studio {
	st := kiln.DefaultStudio()
	st.Kiln.Fall.TimeConstant, st.Kiln.Measured = 3*time.Hour+30*time.Minute, true
	return st
}

// TestAs_saysWhatTheKilnCannot: hand calculation for Newton's law.
func TestAs_saysWhatTheKilnCannot(t *testing.T) {
	k := kiln.Kiln{Heating: unit.KelvinPerHour(200), Fall: kiln.Fall{TimeConstant: 2 * time.Hour, Room: unit.Celsius(20)}}
	s := program.Schedule{From: unit.Celsius(20), Segments: []program.Segment{
		{Rate: unit.KelvinPerHour(400), To: unit.Celsius(520)},  // 2.5 h, told 1.25 h
		{Rate: unit.KelvinPerHour(-100), To: unit.Celsius(120)}, // turns at 220 °C: 3 h + 2 h ln 2
	}}
	tl := s.As(&k)
	a, b := tl.Spans[0], tl.Spans[1]
	if !a.Overshoots || a.ByItself || math.Abs(a.Late-1.25*3600) > 1 {
		t.Errorf("heating: %+v", a)
	}
	if want := 3600 * (3 + 2*math.Ln2 - 4); !b.ByItself || b.Overshoots || math.Abs(b.Late-want) > 1 {
		t.Errorf("cooling: %+v, late by %g, want %g", b, b.Late, want)
	}
	s.Segments[1].Full = true
	if b = s.As(&k).Spans[1]; b.ByItself || math.Abs(b.End-b.Start-2*3600*math.Log(5)) > 1 {
		t.Errorf("left to itself: %+v", b)
	}
	s.Segments[1].Full = false
	rep := &Report{Schedule: s, Actual: tl, Studio: kiln.Studio{Kiln: k}}
	notes := rep.lateness()
	if len(notes) != 2 {
		t.Fatalf("%+v", notes)
	}
	if f := notes[0]; f.Segment != 0 || !f.Temp.IsZero() || f.Time != 150*time.Minute || f.Bears != 75*time.Minute {
		t.Errorf("heating: %+v", f)
	}
	if f := notes[1]; f.Segment != 1 || math.Abs(f.Temp.Celsius()-220) > 0.1 || f.Time != 264*time.Minute || f.Bears != 24*time.Minute {
		t.Errorf("cooling: %+v", f)
	}
}

// TestVerify_bothEndsOfTheSpread: a soak at T in a kiln off by d relaxes what a
// soak at T − d relaxes in an even one, and what is worst at T + d is not lost.
func TestVerify_bothEndsOfTheSpread(t *testing.T) {
	l := spheres(t, "sphere 2in")
	soak := func(c float64) program.Schedule {
		return program.Schedule{From: unit.Celsius(c), Segments: []program.Segment{
			{Purpose: program.PurposeSoak, To: unit.Celsius(c), Hold: 5 * time.Minute},
			{Purpose: program.PurposeFinal, Rate: unit.KelvinPerHour(-60), To: unit.Celsius(45)}}}
	}
	run := func(s program.Schedule, spread, probe unit.Delta) PieceReport {
		st := kiln.DefaultStudio()
		st.Kiln.Spread, st.Kiln.ProbeError = spread, probe
		rep, err := Program(context.Background(), s, l, st, kiln.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		return rep.Pieces[0]
	}
	even, off, cold := run(soak(545), 0, 0), run(soak(545), 12, 4), run(soak(535), 0, 0)
	if math.Abs(off.Relaxed-cold.Relaxed) > 1e-6 {
		t.Errorf("relaxes %.6f at the cold end, alone at 535 °C %.6f", off.Relaxed, cold.Relaxed)
	}
	if off.Relaxed >= even.Relaxed || off.Residual < even.Residual || off.Peak < even.Peak {
		t.Errorf("an uneven kiln is no worse: %+v", off)
	}
	if twice := run(soak(545), 20, 0); twice.Relaxed != off.Relaxed {
		t.Errorf("half the spread and the probe error do not add: %g and %g", twice.Relaxed, off.Relaxed)
	}
}
