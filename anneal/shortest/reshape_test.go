package shortest

import (
	"math"
	"slices"
	"testing"
	"time"

	"lehr/anneal/plan"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// solverOf is a search of a random load before its first step.
func solverOf(t *testing.T, n int) *solver {
	t.Helper()
	l, st, o := randomCase(t, n)
	aimed, o, _ := plan.Aimed(st, o)
	sv, err := newSolver(t.Context(), l, aimed, Options{Options: o})
	if err != nil {
		t.Fatal(err)
	}
	return sv
}

// TestReshaped: a program with some of its ramps halved does to the pieces what it did,
// takes as long and has no more segments than the controller; joined again it is the
// program that it was. One with two ramps joined is slower and leaves no more.
func TestReshaped(t *testing.T) {
	for _, e := range []example{examples[0], examples[6]} {
		res := e.result(t)
		l, st := e.load(t)
		sv, err := newSolver(t.Context(), l, st, Options{})
		if err != nil {
			t.Fatal(err)
		}
		s, err := keyed(res.Rule.Schedule, st.Controller)
		if err != nil {
			t.Fatal(err)
		}
		leaves := func(k int) float64 {
			m, err := sv.measure(s, k, verify.Average)
			if err != nil {
				t.Fatal(err)
			}
			return m.Residual
		}
		sv.best, sv.seconds = &s, hours(s, st.Kiln)
		was, wasLeft := s, []float64{leaves(0), leaves(len(sv.evaluator.Groups) - 1)}
		all := sv.halvedAsRoomIs(was)
		if len(all) == 0 {
			t.Errorf("%s: no other ramps", e.name)
		}
		for _, s = range all {
			if n := len(s.Segments); n <= len(was.Segments) || n > st.Controller.Segments {
				t.Errorf("%s: %d segments, %d before, the controller has %d", e.name, n, len(was.Segments), st.Controller.Segments)
			}
			if d := hours(s, st.Kiln) - sv.seconds; math.Abs(d) > 1e-6 {
				t.Errorf("%s: halved ramps take %g s longer", e.name, d)
			}
			for i, k := range []int{0, len(sv.evaluator.Groups) - 1} {
				if d := leaves(k) - wasLeft[i]; math.Abs(d) > 2e-3 {
					t.Errorf("%s: halved ramps leave %g of the limit more", e.name, d)
				}
			}
			sv.best = &s
			if sv.join(); !slices.EqualFunc(sv.best.Segments, was.Segments, sameRamp) {
				t.Errorf("%s: halved and joined it is\n%v, not\n%v", e.name, sv.best.Segments, was.Segments)
			}
		}
		sv.seconds = math.Inf(1)
		joined := sv.joined(was)
		if len(joined) == 0 {
			t.Errorf("%s: no two ramps can be joined", e.name)
		}
		for _, s = range joined {
			if len(s.Segments) != len(was.Segments)-1 || hours(s, st.Kiln) < hours(was, st.Kiln) {
				t.Errorf("%s: two ramps joined, from\n%v to\n%v", e.name, was.Segments, s.Segments)
			}
			if left := leaves(0); left > wasLeft[0]*1.001 {
				t.Errorf("%s: two ramps joined at the slower rate leave %g of the limit, %g before", e.name, left, wasLeft[0])
			}
		}
	}
}

// TestHeat: both of two ramps that heat keep the limit of tension, in the full
// simulation, at each soak that may be chosen: where a fast second ramp was not found
// to do so anywhere it was taken from five kelvin below the soak.
func TestHeat(t *testing.T) {
	heated := 0
	for _, n := range []int{446, 366} {
		sv := solverOf(t, n)
		d := draft{from: sv.frame.From.Kelvin()}
		for soak := sv.frame.Coolest.Kelvin(); soak <= sv.frame.Hottest.Kelvin(); soak += 25 {
			d := d.clone()
			if d.soak, d.hold = soak, heatHold; sv.heat(&d) != nil || sv.correctHeating(&d) != nil {
				t.Fatal("no heating")
			}
			for k := range sv.evaluator.Groups {
				m, err := sv.evaluator.Measure(d.exact(), k, verify.Full)
				if err != nil {
					t.Fatal(err)
				}
				if heated++; m.Tension() > 1.02 {
					t.Errorf("load %d, %.0f K: %d ramps heat to %.3f of the limit of tension", n, soak, len(d.heats), m.Tension())
				}
			}
		}
	}
	if heated == 0 {
		t.Error("nothing was heated")
	}
}

// TestSoakLeaves: glass that is held for long where it hardly relaxes leaves less at the
// same rates, as it is nearer to what it is when cold. What the ladder is told of each
// soak is what the full simulation says.
func TestSoakLeaves(t *testing.T) {
	if !long() {
		t.Skip("takes a second; LEHR_LONG=1 runs it")
	}
	sv := solverOf(t, 446)
	base := sv.ruleDraft()
	if _, err := sv.calibrate(base.soakedAt(sv.heating).exact()); err != nil {
		t.Fatal(err)
	}
	g, err := sv.ladderOf(base)
	if err != nil {
		t.Fatal(err)
	}
	rate := g.rates(base)
	r := response{group: 1} // the sphere, which decides
	if err := sv.respondSoaks(&r, g, base, -1, rate); err != nil {
		t.Fatal(err)
	}
	last := g.soaks - 1
	full := func(a int) float64 {
		d := base
		d.soak, d.hold, d.heats = g.node[a], g.hold[a], g.heats[a]
		m, err := sv.measure(g.stairs(d, a, rate).exact(), r.group, verify.Full)
		if err != nil {
			t.Fatal(err)
		}
		return m.Residual
	}
	told, is := r.soaks[last]/r.soaks[0], full(last)/full(0)
	if told > 0.8 || math.Abs(told/is-1) > 0.03 {
		t.Errorf("after %.0f min at %.0f K there is %.3f of what there is after %.0f min at %.0f K, in full %.3f",
			g.hold[last]/60, g.node[last], told, g.hold[0]/60, g.node[0], is)
	}
}

// TestJudgedBest: where what was found last is over a limit after all, the answer is what
// was the best before it, not the rule's program. In a measured kiln nothing is slowed
// afterwards.
func TestJudgedBest(t *testing.T) {
	l, st := examples[1].load(t)
	st.Kiln.Measured = true
	sv, err := newSolver(t.Context(), l, st, Options{})
	if err != nil {
		t.Fatal(err)
	}
	rule, err := plan.Plan(t.Context(), l, st, plan.Options{})
	if err != nil || !rule.Within {
		t.Fatal(err, "the rule's program is over a limit")
	}
	over := rule.Schedule
	over.Segments = slices.Clone(over.Segments)
	for i := range over.Segments {
		over.Segments[i].Rate *= 3
	}
	sv.offer(rule.Schedule)
	sv.offer(over)
	if rep, err := sv.judged(t.Context(), *sv.best, gentlings); err != nil || rep.Within {
		t.Fatalf("%v; within %v by all its rates times three", err, rep.Within)
	}
	rep, err := sv.judgedBest(t.Context())
	if err != nil || !rep.Within || rep.Nominal.Total() != rule.Nominal.Total() {
		t.Errorf("%v; within %v, %s long; what was found before is %s", err, rep.Within, rep.Nominal.Total(), rule.Nominal.Total())
	}
}

func sameRamp(a, b program.Segment) bool {
	return a.To == b.To && a.Rate == b.Rate && a.Hold == b.Hold
}

// TestOneSlower: each program has one cooling rate by one step slower than what is keyed
// in, in degrees per hour and in minutes, and nothing else of it differs.
func TestOneSlower(t *testing.T) {
	for _, minutes := range []bool{false, true} {
		sv := solverOf(t, 24)
		c := &sv.st.Controller
		c.Minutes = minutes
		s := program.Schedule{From: unit.Celsius(520), Segments: []program.Segment{
			{Purpose: program.PurposeSoak, To: unit.Celsius(520), Hold: time.Hour},
			{To: unit.Celsius(460), Rate: unit.KelvinPerHour(-20)},
			{To: unit.Celsius(43), Rate: unit.KelvinPerHour(-100)},
		}}
		s, err := keyed(s, *c)
		if err != nil {
			t.Fatal(err)
		}
		all := sv.oneSlower(s)
		if len(all) != 2 || hours(all[0], sv.st.Kiln) > hours(all[1], sv.st.Kiln) {
			t.Fatalf("in minutes %v: %v", minutes, all)
		}
		for _, slower := range all {
			changed := 0
			for i, seg := range slower.Segments {
				was := s.Segments[i]
				if sameRamp(seg, was) {
					continue
				}
				changed++
				fall := float64(was.To.Sub(s.Segments[i-1].To))
				step := 3600 * float64(seg.Rate-was.Rate) / float64(c.Degree())
				if minutes {
					step = (fall/float64(seg.Rate) - fall/float64(was.Rate)) / 60
				}
				if math.Abs(step-1) > 1e-6 || seg.To != was.To || seg.Hold != was.Hold {
					t.Errorf("in minutes %v: %v after %v, %g steps", minutes, seg, was, step)
				}
			}
			if changed != 1 {
				t.Errorf("in minutes %v: %d ramps differ", minutes, changed)
			}
		}
	}
}

// TestCoolingOf: the soak and the cooling of a program, heated to or soaked where it begins.
// Of the nodes of a ladder the nearest is its soak at which some hold is enough.
func TestCoolingOf(t *testing.T) {
	seg := func(what program.Purpose, rate, to float64, hold time.Duration) program.Segment {
		return program.Segment{Purpose: what, Rate: unit.KelvinPerHour(rate), To: unit.Celsius(to), Hold: hold}
	}
	cools := []program.Segment{seg("", -40, 480, 0), seg("", -110, 60, 0)}
	g := grid{node: []float64{unit.Celsius(540).Kelvin(), unit.Celsius(521).Kelvin(), unit.Celsius(515).Kelvin()}, soaks: 3, hold: []float64{60, math.Inf(1), 900}}
	for _, s := range []program.Schedule{
		{From: unit.Celsius(20), Segments: append([]program.Segment{seg(program.PurposeHeat, 150, 400, 0), seg(program.PurposeSoak, 200, 520, time.Hour)}, cools...)},
		{From: unit.Celsius(520), Segments: append([]program.Segment{seg(program.PurposeSoak, 0, 520, time.Hour)}, cools...)},
		{From: unit.Celsius(520), Segments: cools},
	} {
		d := coolingOf(s)
		want := []ramp{{unit.Celsius(480).Kelvin(), 40.0 / 3600}, {unit.Celsius(60).Kelvin(), 110.0 / 3600}}
		near := func(a, b ramp) bool { return math.Abs(a.to-b.to) < 1e-9 && math.Abs(a.rate/b.rate-1) < 1e-9 }
		if math.Abs(d.soak-unit.Celsius(520).Kelvin()) > 1e-9 || !slices.EqualFunc(d.cools, want, near) {
			t.Errorf("%v: %+v", s.Segments, d)
		}
		if got := g.soakOf(d); got != 2 {
			t.Errorf("node %d", got)
		}
	}
}
