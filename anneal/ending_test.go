package anneal

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/glass"
	"lehr/glass/unit"
)

func spheres(t *testing.T, texts ...string) *Load {
	t.Helper()
	g, err := glass.Find("borosilicate-33")
	if err != nil {
		t.Fatal(err)
	}
	l := &Load{Into: HotKiln}
	for _, s := range texts {
		p, err := ParsePiece(s)
		if err != nil {
			t.Fatal(err)
		}
		p.Glass = g
		l.Pieces = append(l.Pieces, p)
	}
	return l
}

func measured() Studio {
	st := DefaultStudio()
	st.Kiln.Fall.TimeConstant, st.Kiln.Measured = 3*time.Hour+30*time.Minute, true
	return st
}

// TestPlan_endsWithPowerOff: the program ends where the kiln, one tenth faster
// than measured, falls as fast as asked; nothing gets shorter or worse by it.
func TestPlan_endsWithPowerOff(t *testing.T) {
	l, st := spheres(t, "sphere 4in"), measured()
	rep, err := Plan(l, st, Options{})
	if err != nil {
		t.Fatal(err)
	}
	segs := rep.Schedule.Segments
	last := segs[len(segs)-1]
	if !rep.Within || !last.Off || !last.Full || rep.Clock.Spans[len(segs)-1].ByItself {
		t.Fatalf("within %v, last segment %+v", rep.Within, last)
	}
	off := rep.Clock.Spans[len(segs)-1].From
	before := math.Abs(float64(segs[len(segs)-2].Rate))
	if fall := float64(st.Kiln.Emptier().Fall.Rate(off)); fall > before*(1+1e-9) {
		t.Errorf("off at %s, where it falls %g K/h, faster than %g K/h", off, fall*3600, before*3600)
	}
	if fall := float64(st.Kiln.Emptier().Fall.Rate(off.Add(1.01))); fall < before {
		t.Errorf("off at %s; it could be one degree higher", off)
	}

	// The same program keyed in to the end takes as long and does the same.
	keyed := rep.Schedule
	keyed.Segments = append([]Segment{}, segs[:len(segs)-1]...)
	keyed.Segments[len(keyed.Segments)-1].To = last.To
	again, err := Verify(keyed, l, st, Limits{})
	if err != nil {
		t.Fatal(err)
	}
	if d := again.Clock.Total() - rep.Clock.Total(); d.Abs() > time.Minute {
		t.Errorf("keyed in to the end it takes %v longer", d)
	}
	if a, b := float64(again.Pieces[0].Peak), float64(rep.Pieces[0].Peak); math.Abs(a/b-1) > 0.01 {
		t.Errorf("keyed in to the end the tension is %g MPa, not %g", a/1e6, b/1e6)
	}
	if !(rep.Told.Total() < rep.Clock.Total()) {
		t.Errorf("stress is not computed at a faster fall: %v, clock %v", rep.Told.Total(), rep.Clock.Total())
	}

	// Written and read back it is the same.
	var buf bytes.Buffer
	if err := WriteSchedule(&buf, rep.Schedule, "", unit.Metric); err != nil {
		t.Fatal(err)
	}
	back, err := ReadSchedule(&buf, "x.toml")
	if err != nil {
		t.Fatal(err)
	}
	if end := back.Segments[len(back.Segments)-1]; !end.Off || !end.Full || end.To != last.To {
		t.Errorf("read back %+v", end)
	}
	st.Kiln.Measured = false
	if rep, err = Plan(l, st, Options{}); err != nil || rep.Schedule.Segments[len(rep.Schedule.Segments)-1].Off {
		t.Errorf("a kiln that nobody measured is left to itself; %v", err)
	}
}

// TestAs_saysWhatTheKilnCannot: hand calculation for Newton's law.
func TestAs_saysWhatTheKilnCannot(t *testing.T) {
	k := kiln.Kiln{Heating: unit.KelvinPerHour(200), Fall: kiln.Fall{TimeConstant: 2 * time.Hour, Room: unit.Celsius(20)}}
	s := Schedule{From: unit.Celsius(20), Segments: []Segment{
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
	rep := &Report{Schedule: s, Clock: tl, Studio: Studio{Kiln: k}}
	notes := strings.Join(rep.lateness(), "\n")
	for _, want := range []string{"segment 1", "heats slower than 400 °C/h; it takes 2 h 30 min, 1 h 15 min longer than told", "segment 2", "falls slower than 100 °C/h below 220 °C; it takes 4 h 24 min, 24 min longer"} {
		if !strings.Contains(notes, want) {
			t.Errorf("%q is not in\n%s", want, notes)
		}
	}
}

// TestVerify_bothEndsOfTheSpread: a soak at T in a kiln off by d relaxes what a
// soak at T − d relaxes in an even one, and what is worst at T + d is not lost.
func TestVerify_bothEndsOfTheSpread(t *testing.T) {
	l := spheres(t, "sphere 2in")
	soak := func(c float64) Schedule {
		return Schedule{From: unit.Celsius(c), Segments: []Segment{
			{Purpose: PurposeSoak, To: unit.Celsius(c), Hold: 5 * time.Minute},
			{Purpose: PurposeFinal, Rate: unit.KelvinPerHour(-60), To: unit.Celsius(45)}}}
	}
	run := func(s Schedule, spread, probe unit.Delta) PieceReport {
		st := DefaultStudio()
		st.Kiln.Spread, st.Kiln.ProbeError = spread, probe
		rep, err := Verify(s, l, st, Limits{})
		if err != nil {
			t.Fatal(err)
		}
		return rep.Pieces[0]
	}
	even, off, cold := run(soak(545), 0, 0), run(soak(545), 12, 4), run(soak(535), 0, 0)
	if math.Abs(off.Relaxed-cold.Relaxed) > 1e-6 {
		t.Errorf("relaxes %.6f at the cold end, alone at 535 °C %.6f", off.Relaxed, cold.Relaxed)
	}
	if off.Relaxed >= even.Relaxed || off.LeftMax < even.LeftMax || off.Peak < even.Peak {
		t.Errorf("an uneven kiln is no worse: %+v", off)
	}
	if twice := run(soak(545), 20, 0); twice.Relaxed != off.Relaxed {
		t.Errorf("half the spread and the probe error do not add: %g and %g", twice.Relaxed, off.Relaxed)
	}
}

// TestPlan_unitsOfTheController: °C and °F give the same program within the
// rounding of one degree and one degree per hour.
func TestPlan_unitsOfTheController(t *testing.T) {
	for _, what := range []string{"sphere 1.25in", "sphere 2.5in", "disc 75mm x 25mm"} {
		l := spheres(t, what)
		c, err := Plan(l, DefaultStudio(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		f, err := Plan(l, DefaultStudio().In(unit.US), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(c.Schedule.Segments) != len(f.Schedule.Segments) {
			t.Fatalf("%s: %d and %d segments", what, len(c.Schedule.Segments), len(f.Schedule.Segments))
		}
		for i, a := range c.Schedule.Segments {
			b := f.Schedule.Segments[i]
			// Each is rounded by up to one step, and the planner slows by 3 % at a time.
			if d := math.Abs(float64(a.To.Sub(b.To))); d > 1.1 {
				t.Errorf("%s: segment %d to %s and %s", what, i+1, a.To, b.To)
			}
			if x, y := math.Abs(a.Rate.KelvinPerHour()), math.Abs(b.Rate.KelvinPerHour()); math.Abs(x-y) > 1.6+0.04*x {
				t.Errorf("%s: segment %d at %s and %s", what, i+1, a.Rate, b.Rate)
			}
		}
	}
}

func TestReadyBy(t *testing.T) {
	l, st := spheres(t, "sphere 2.5in"), DefaultStudio()
	by := unit.Clock(8 * 60)
	rep, err := ReadyBy(l, st, Options{}, by, Plan)
	if err != nil {
		t.Fatal(err)
	}
	r := rep.Ready
	if end, days := r.Latest.Add(rep.Clock.Total()); end != by || days != r.Before || !r.Met || r.Given || l.Start != nil {
		t.Errorf("from %s it ends %s after %d midnights: %+v", r.Latest, end, days, r)
	}

	// Given the latest start it is met with nothing to spare; a minute later not.
	given := *l
	given.Start = &r.Latest
	if rep, _ = ReadyBy(&given, st, Options{}, by, Plan); !rep.Ready.Met || rep.Ready.Spare != 0 || !rep.Ready.Given {
		t.Errorf("at the latest start: %+v", rep.Ready)
	}
	late := r.Latest + 20
	given.Start = &late
	plans := 0
	counted := func(l *Load, st Studio, o Options) (*Report, error) { plans++; return Plan(l, st, o) }
	rep, err = ReadyBy(&given, st, Options{}, by, counted)
	if err != nil {
		t.Fatal(err)
	}
	q := rep.Ready
	if q.Met || q.Spare != -20*time.Minute || !rep.Within || rep.Limits != st.Limits {
		t.Fatalf("20 minutes late: %+v", q)
	}
	if plans > 25 {
		t.Errorf("%d plans", plans)
	}
	if math.Abs(rep.Clock.At((rep.Clock.Total()-20*time.Minute).Seconds())-q.Then.Kelvin()) > 1 {
		t.Errorf("reads %s then", q.Then)
	}
	if len(q.Ways) == 0 {
		t.Fatal("no way")
	}
	for _, w := range q.Ways {
		if w.Total > rep.Clock.Total()-20*time.Minute {
			t.Errorf("%+v is too long", w)
		}
		for _, g := range w.Gives {
			if g.Reaches <= g.From || g.Reaches > MostGive {
				t.Errorf("%+v", g)
			}
			// The limit it names does what it says.
			o := Options{Limits: st.Limits}
			if g.Limit == "tension left" {
				o.Limits.Left = g.Reaches * 1.02
			} else {
				o.Limits.Tension = g.Reaches * 1.02
			}
			if again, err := Plan(&given, st, o); err != nil || again.Clock.Total() > w.Total+5*time.Minute {
				t.Errorf("with %+v it takes %v, not %v", g, again.Clock.Total(), w.Total)
			}
		}
	}
	// Far too late: no limit helps, and the least is said.
	far := by - 300
	given.Start = &far
	if rep, _ = ReadyBy(&given, st, Options{}, by, Plan); rep.Ready.Met || len(rep.Ready.Ways) > 0 || rep.Ready.Least < 5*time.Hour {
		t.Errorf("five hours: %+v", rep.Ready)
	}
}

func TestRound_longHoldsAndRamps(t *testing.T) {
	st := DefaultStudio()
	st.Controller.Minutes, st.Controller.Longest, st.Controller.Segments = true, 90*time.Minute, 40
	st.Controller.Slowest = unit.KelvinPerHour(0.01)
	p := proposal{from: unit.Celsius(560), soak: unit.Celsius(560), hold: 200 * time.Minute, heatRate: 1,
		ramps: []ramp{{to: unit.Celsius(480), rate: 20.0 / 3600}, {to: unit.Celsius(45), rate: 300.0 / 3600}}}
	s, err := p.round(st)
	if err != nil {
		t.Fatal(err)
	}
	var holds time.Duration
	at := s.From
	for _, seg := range s.Segments {
		holds += seg.Hold
		ramp := time.Duration(0)
		if d := float64(seg.To.Sub(at)); d != 0 {
			ramp = time.Duration(d / float64(seg.Rate) * float64(time.Second))
		}
		if seg.Hold > st.Controller.Longest || ramp > st.Controller.Longest+time.Second {
			t.Errorf("%+v takes %v", seg, ramp)
		}
		at = seg.To
	}
	if holds != 200*time.Minute || at != unit.Celsius(45) {
		t.Errorf("holds %v, ends at %s: %+v", holds, at, s.Segments)
	}
}
