package plan

import (
	"context"
	"testing"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// habit is the commonest one: an hour of soak, one ramp, and off.
func habit(rate, hold float64, off unit.Temp) program.Schedule {
	return program.Schedule{From: unit.Fahrenheit(1050), Segments: []program.Segment{
		{To: unit.Fahrenheit(1050), Hold: time.Duration(hold * float64(time.Hour))},
		{Rate: unit.FahrenheitPerHour(-rate), To: off},
		{To: unit.Fahrenheit(110), Full: true, Off: true},
	}}
}

// TestMend_isEnoughAndLittle: the program with the change passes, and with a tenth
// less of it does not.
func TestMend_isEnoughAndLittle(t *testing.T) {
	ctx, st := context.Background(), kiln.DefaultStudio().In(unit.US)
	for _, c := range []struct {
		what string
		s    program.Schedule
		kind finding.Kind
	}{
		{"sphere 2.5in", habit(100, 1, unit.Fahrenheit(800)), finding.MendRate},
		{"sphere 2.5in", habit(60, 1, unit.Fahrenheit(1000)), finding.MendOff},
		{"sphere 2in", habit(20, 0.03, unit.Fahrenheit(800)), finding.MendHold},
	} {
		l := &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{pieceOf(t, c.what, "borosilicate-33")}}
		rep, err := verify.Program(ctx, c.s, l, st, kiln.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		f, ok, err := Mend(ctx, rep, st)
		if err != nil || !ok || f.Kind != c.kind {
			t.Errorf("%s: %+v, %v, %v", c.what, f, ok, err)
			continue
		}
		with := func(less float64) verify.Verdict {
			s := habit(1, 1, unit.Fahrenheit(800))
			copy(s.Segments, c.s.Segments)
			seg := &s.Segments[f.Segment]
			switch f.Kind {
			case finding.MendRate:
				seg.Rate = f.Rate * unit.Rate(1+less)
			case finding.MendHold:
				seg.Hold = time.Duration(float64(f.Bears) * (1 - less))
			case finding.MendOff:
				seg.To = f.Temp.Add(seg.To.Sub(f.Temp) * unit.Delta(less))
			}
			rep, err := verify.Program(ctx, s, l, st, kiln.Limits{})
			if err != nil {
				t.Fatal(err)
			}
			return rep.Verdict()
		}
		if v := with(0); v != verify.WithinLimits {
			t.Errorf("%s: with the change %s", c.what, v)
		}
		if v := with(0.1); v == verify.WithinLimits {
			t.Errorf("%s: %+v: with a tenth less it is within limits, too", c.what, f)
		}
	}
}

// TestMend_nothingToMend: a program within its limits needs no change.
func TestMend_nothingToMend(t *testing.T) {
	st := kiln.DefaultStudio()
	l := &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{pieceOf(t, "sphere 1in", "borosilicate-33")}}
	rep, err := verify.Program(context.Background(), habit(50, 1, unit.Fahrenheit(800)), l, st, kiln.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	if f, ok, err := Mend(context.Background(), rep, st); ok || err != nil || rep.Verdict() != verify.WithinLimits {
		t.Errorf("%s: %+v, %v", rep.Verdict(), f, err)
	}
}

// TestMend_betweenTwoFaults: at 100 °F/h the large sphere is over, and at a quarter
// of that the small one is hot for longer than the 3 h that it bears; what passes
// lies between. The same the other way around, from 20 °F/h, where only the small
// one is. Each rate found passes, and a tenth back toward the program does not.
func TestMend_betweenTwoFaults(t *testing.T) {
	ctx, st := context.Background(), kiln.DefaultStudio().In(unit.US)
	l := loadOf(t, "borosilicate-33", "sphere 2.5in", "sphere 1.25in")
	l.Into = piece.HotKiln
	l.Pieces[1].LongestSoak = 3 * time.Hour
	verdict := func(rate float64) (*verify.Report, finding.List) {
		rep, err := verify.Program(ctx, habit(rate, 1, unit.Fahrenheit(800)), l, st, kiln.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		return rep, rep.Pieces[1].Over
	}
	for _, c := range []struct {
		rate, back float64
		held       bool
	}{{100, 1.1, false}, {20, 0.9, true}} {
		rep, over := verdict(c.rate)
		if held := over.Has(finding.OverHeld); held != c.held {
			t.Fatalf("%v °F/h: held too long %v", c.rate, held)
		}
		f, ok, err := Mend(ctx, rep, st)
		if err != nil || !ok || f.Kind != finding.MendRate {
			t.Errorf("%v °F/h: %+v, %v, %v", c.rate, f, ok, err)
			continue
		}
		found := -float64(f.Rate) / float64(unit.FahrenheitPerHour(1))
		if rep, _ := verdict(found); rep.Verdict() != verify.WithinLimits {
			t.Errorf("%v °F/h: at %v °F/h %s", c.rate, found, rep.Verdict())
		}
		if rep, _ := verdict(found * c.back); rep.Verdict() == verify.WithinLimits {
			t.Errorf("%v °F/h: at %v °F/h it passes, too", c.rate, found*c.back)
		}
	}
}

// TestMend_saysWhenNoneDoes: a soak too short and a ramp too fast are two changes,
// which a planned program makes; a piece that bears no soak as long as it needs has
// no program at all.
func TestMend_saysWhenNoneDoes(t *testing.T) {
	ctx, st := context.Background(), kiln.DefaultStudio().In(unit.US)
	l := loadOf(t, "borosilicate-33", "sphere 2.5in")
	l.Into = piece.HotKiln
	for _, c := range []struct {
		longest time.Duration
		kind    finding.Kind
	}{{0, finding.MendPlan}, {2 * time.Minute, finding.MendNone}} {
		l.Pieces[0].LongestSoak = c.longest
		rep, err := verify.Program(ctx, habit(200, 0.03, unit.Fahrenheit(800)), l, st, kiln.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		f, ok, err := Mend(ctx, rep, st)
		if err != nil || !ok || f.Kind != c.kind {
			t.Errorf("bears %s: %+v, %v, %v", c.longest, f, ok, err)
		}
		if planned, err := Plan(ctx, l, st, Options{}); (err == nil && planned.Within) != (f.Kind == finding.MendPlan) {
			t.Errorf("bears %s: planned %v, says %+v", c.longest, err, f)
		}
	}
}
