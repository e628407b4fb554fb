package plan

import (
	"bytes"
	"context"
	"math"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"
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

// TestPlan_endsWithPowerOff: the program ends where the kiln, one tenth faster
// than measured, falls as fast as asked; nothing gets shorter or worse by it.
func TestPlan_endsWithPowerOff(t *testing.T) {
	l, st := spheres(t, "sphere 4in"), measured()
	rep, err := Plan(context.Background(), l, st, Options{})
	if err != nil {
		t.Fatal(err)
	}
	segs := rep.Schedule.Segments
	last := segs[len(segs)-1]
	if !rep.Within || !last.Off || !last.Full || rep.Actual.Spans[len(segs)-1].ByItself {
		t.Fatalf("within %v, last segment %+v", rep.Within, last)
	}
	off := rep.Actual.Spans[len(segs)-1].From
	before := math.Abs(float64(segs[len(segs)-2].Rate))
	if fall := float64(st.Kiln.Emptier().Fall.Rate(off)); fall > before*(1+1e-9) {
		t.Errorf("off at %s, where it falls %g K/h, faster than %g K/h", off, fall*3600, before*3600)
	}
	if fall := float64(st.Kiln.Emptier().Fall.Rate(off.Add(1.01))); fall < before {
		t.Errorf("off at %s; it could be one degree higher", off)
	}

	// The same program keyed in to the end takes as long and does the same.
	keyed := rep.Schedule
	keyed.Segments = append([]program.Segment{}, segs[:len(segs)-1]...)
	keyed.Segments[len(keyed.Segments)-1].To = last.To
	again, err := verify.Program(context.Background(), keyed, l, st, kiln.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	if d := again.Actual.Total() - rep.Actual.Total(); d.Abs() > time.Minute {
		t.Errorf("keyed in to the end it takes %v longer", d)
	}
	if a, b := float64(again.Pieces[0].Peak), float64(rep.Pieces[0].Peak); math.Abs(a/b-1) > 0.01 {
		t.Errorf("keyed in to the end the tension is %g MPa, not %g", a/1e6, b/1e6)
	}
	if !(rep.Nominal.Total() < rep.Actual.Total()) {
		t.Errorf("stress is not computed at a faster fall: %v, clock %v", rep.Nominal.Total(), rep.Actual.Total())
	}

	// Written and read back it is the same.
	var buf bytes.Buffer
	if err := program.WriteFor(&buf, rep.Schedule, "", kiln.Controller{}); err != nil {
		t.Fatal(err)
	}
	back, err := program.Read(&buf, "x.toml")
	if err != nil {
		t.Fatal(err)
	}
	if end := back.Segments[len(back.Segments)-1]; !end.Off || !end.Full || end.To != last.To {
		t.Errorf("read back %+v", end)
	}
	st.Kiln.Measured = false
	if rep, err = Plan(context.Background(), l, st, Options{}); err != nil || rep.Schedule.Segments[len(rep.Schedule.Segments)-1].Off {
		t.Errorf("a kiln that nobody measured is left to itself; %v", err)
	}
}

// TestPlan_unitsOfTheController: °C and °F give the same program within the
// rounding of one degree and one degree per hour.
func TestPlan_unitsOfTheController(t *testing.T) {
	for i, what := range []string{"sphere 1.25in", "sphere 2.5in", "disc 75mm x 25mm"} {
		if i > 0 && !long() {
			break
		}
		l := spheres(t, what)
		c, err := Plan(context.Background(), l, kiln.DefaultStudio(), hoursOnly)
		if err != nil {
			t.Fatal(err)
		}
		f, err := Plan(context.Background(), l, kiln.DefaultStudio().In(unit.US), hoursOnly)
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
	l, st := spheres(t, "sphere 2.5in"), kiln.DefaultStudio()
	by := unit.Clock(8 * 60)
	rep, err := ReadyBy(context.Background(), l, st, Options{}, ReadyHow{By: by, Planner: Plan})
	if err != nil {
		t.Fatal(err)
	}
	r := rep.Ready
	if end, days := r.Latest.Add(rep.Actual.Total()); end != by || days != r.Before || !r.Met || r.Given || l.Start != nil {
		t.Errorf("from %s it ends %s after %d midnights: %+v", r.Latest, end, days, r)
	}

	// Given the latest start it is met with nothing to spare; a minute later not.
	given := *l
	given.Start = &r.Latest
	if rep, _ = ReadyBy(context.Background(), &given, st, Options{}, ReadyHow{By: by, Planner: Plan}); !rep.Ready.Met || rep.Ready.Spare != 0 || !rep.Ready.Given {
		t.Errorf("at the latest start: %+v", rep.Ready)
	}
	late := r.Latest + 20
	given.Start = &late
	plans := 0
	counted := func(ctx context.Context, l *piece.Load, st kiln.Studio, o Options) (*verify.Report, error) {
		plans++
		return Plan(ctx, l, st, o)
	}
	rep, err = ReadyBy(context.Background(), &given, st, Options{}, ReadyHow{By: by, Planner: counted})
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
	if math.Abs(rep.Actual.At((rep.Actual.Total()-20*time.Minute).Seconds())-q.Then.Kelvin()) > 1 {
		t.Errorf("reads %s then", q.Then)
	}
	if len(q.Ways) == 0 {
		t.Fatal("no way")
	}
	for _, w := range q.Ways {
		if w.Total > rep.Actual.Total()-19*time.Minute { // hours are told in whole minutes
			t.Errorf("%+v is too long", w)
		}
		// The limits it names do what it says.
		again := func(share unit.Stress) time.Duration {
			o := Options{}
			for _, g := range w.Gives {
				*limitAt(&o.Limits, g.Limit) = g.Ask * share
			}
			rep, err := Plan(context.Background(), &given, st, o)
			if err != nil {
				t.Fatal(err)
			}
			return rep.Actual.Total()
		}
		for _, g := range w.Gives {
			if g.Reaches <= g.From || g.Reaches > MostGive {
				t.Errorf("%+v", g)
			}
		}
		if len(w.Gives) > 0 && (again(1) != w.Total || again(0.95) <= rep.Actual.Total()-20*time.Minute) {
			t.Errorf("%+v: with these limits it takes %s, with 5 %% less %s", w, again(1), again(0.95))
		}
	}
	// Far too late: no limit helps, and the least is said.
	far := by - 300
	given.Start = &far
	if rep, _ = ReadyBy(context.Background(), &given, st, Options{}, ReadyHow{By: by, Planner: Plan}); rep.Ready.Met || len(rep.Ready.Ways) > 0 || rep.Ready.Least < 5*time.Hour {
		t.Errorf("five hours: %+v", rep.Ready)
	}
}

// TestReadyBy_opensWarmer: what the kiln reads at the time asked for is where it
// may be opened if the pieces bear that: the program to there is within every limit
// and in time, and the one to 10 K below is late. A thick piece of a glass of great
// expansion does not bear it.
func TestReadyBy_opensWarmer(t *testing.T) {
	needLong(t)
	start, by := unit.Clock(22*60+15), unit.Clock(8*60)
	st := kiln.DefaultStudio()
	opened := func(l *piece.Load) *verify.Report {
		t.Helper()
		l.Start = &start
		rep, err := ReadyBy(context.Background(), l, st, Options{}, ReadyHow{By: by, Planner: Plan})
		if err != nil {
			t.Fatal(err)
		}
		if rep.Ready.Met || !rep.Within {
			t.Fatalf("ready %v, within %v", rep.Ready.Met, rep.Within)
		}
		return rep
	}
	l := loadOf(t, "borosilicate-33", "sphere 2.5in", "sphere 1.25in")
	rep := opened(l)
	if len(rep.Ready.Ways) == 0 || rep.Ready.Ways[0].Open.IsZero() {
		t.Fatalf("ways %+v", rep.Ready.Ways)
	}
	w := rep.Ready.Ways[0]
	if d := w.Open.Sub(rep.Ready.Then); d < 0 || d > 10 || w.Opened.Use > 1 || w.Opened.Use < 0.1 {
		t.Errorf("%s, where the kiln reads %s, uses %.2f of a limit", w.Open, rep.Ready.Then, w.Opened.Use)
	}
	at := func(open unit.Temp) *verify.Report {
		warm := st
		warm.Opening = open
		rep, err := Plan(context.Background(), l, warm, Options{})
		if err != nil {
			t.Fatal(err)
		}
		return rep
	}
	const available = 585 * time.Minute
	if rep := at(w.Open); !rep.Within || rep.Actual.Total() > available {
		t.Errorf("at %s: within %v, takes %s", w.Open, rep.Within, rep.Actual.Total())
	}
	if rep := at(w.Open.Add(-10)); rep.Actual.Total() <= available {
		t.Errorf("10 K below %s it takes %s", w.Open, rep.Actual.Total())
	}
	for _, w := range opened(loadOf(t, "soda-104", "sphere 64mm")).Ready.Ways {
		if !w.Open.IsZero() {
			t.Errorf("opened at %s", w.Open)
		}
	}
}

// TestReadyBy_range: where nobody measured how the kiln falls, the answer knows from
// when to when it can be ready, whether the hour lies between, and the start that is
// enough for the slowest; a measured kiln has no such range.
func TestReadyBy_range(t *testing.T) {
	l, st := spheres(t, "sphere 1in"), kiln.DefaultStudio()
	st.Opening = unit.Celsius(80) // the slowest kiln is ready within a day
	plans := map[*kiln.Studio]*verify.Report{}
	planner := func(ctx context.Context, l *piece.Load, st kiln.Studio, o Options) (*verify.Report, error) {
		return Plan(ctx, l, st, Options{quiet: true})
	}
	ready := func(st *kiln.Studio, start *unit.Clock, by unit.Clock) *verify.Ready {
		t.Helper()
		rep := plans[st]
		if rep == nil {
			var err error
			if rep, err = planner(context.Background(), l, *st, Options{}); err != nil {
				t.Fatal(err)
			}
			plans[st] = rep
		}
		given := *l
		given.Start = start
		out, err := ReadyBy(context.Background(), &given, *st, Options{}, ReadyHow{By: by, Planner: func(context.Context, *piece.Load, kiln.Studio, Options) (*verify.Report, error) {
			keep := *rep
			keep.Load, keep.Within = &given, false // no ways are asked for
			return &keep, nil
		}})
		if err != nil {
			t.Fatal(err)
		}
		return out.Ready
	}
	in := func(tau time.Duration) time.Duration { // what the program takes in a kiln of that time constant
		k := st.Kiln
		k.Fall.TimeConstant = tau
		return plans[&st].Schedule.As(&k).Total()
	}
	by, midnight := unit.Clock(8*60), unit.Clock(0)
	r := ready(&st, nil, by)
	if r.Range == nil || !r.Range.Decides {
		t.Fatalf("no range: %+v", r)
	}
	if quick, slow := in(kiln.QuickestFall), in(kiln.SlowestFall); (r.Range.Quickest-quick).Abs() > time.Second || (r.Range.Slowest-slow).Abs() > time.Second || slow < quick+time.Hour {
		t.Errorf("%s to %s, not %s to %s", r.Range.Quickest, r.Range.Slowest, quick, slow)
	}
	if end, days := r.Range.Latest.Add(r.Range.Slowest); (by-end) < 0 || by-end > 1 || days != r.Range.Before {
		t.Errorf("started at %s the slowest kiln is ready at %s after %d midnights: %+v", r.Range.Latest, end, days, r.Range)
	}
	at := func(d time.Duration) unit.Clock { return unit.Clock(int(d.Minutes()) % (24 * 60)) }
	likeliest := plans[&st].Actual.Total()
	for _, c := range []struct {
		by           unit.Clock
		met, decides bool
	}{
		{at(r.Range.Quickest - time.Minute), false, false},
		{at(r.Range.Quickest + 2*time.Minute), false, true},
		{at(likeliest + 2*time.Minute), true, true},
		{at(r.Range.Slowest - 2*time.Minute), true, true},
		{at(r.Range.Slowest + 2*time.Minute), true, false},
	} {
		if q := ready(&st, &midnight, c.by); q.Met != c.met || q.Range.Decides != c.decides {
			t.Errorf("from midnight by %s: met %v, the kiln decides %v", c.by, q.Met, q.Range.Decides)
		}
	}
	known := measured()
	if r := ready(&known, nil, by); r.Range != nil {
		t.Errorf("a measured kiln has a range: %+v", r.Range)
	}
}

func TestRound_longHoldsAndRamps(t *testing.T) {
	st := kiln.DefaultStudio()
	st.Controller.Minutes, st.Controller.Longest, st.Controller.Segments = true, 90*time.Minute, 40
	st.Controller.Slowest = unit.KelvinPerHour(0.01)
	p := draft{from: unit.Celsius(560), soak: unit.Celsius(560), hold: 200 * time.Minute, heatRate: 1,
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
