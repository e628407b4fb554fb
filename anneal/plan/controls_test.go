package plan

import (
	"context"
	"errors"
	"math"
	"testing"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// planAs plans one piece in a studio.
func planAs(t *testing.T, st kiln.Studio, what string) (*verify.Report, error) {
	t.Helper()
	return Plan(context.Background(), loadOf(t, "borosilicate-33", what), st, Options{})
}

// TestPlan_setStep: every temperature that is keyed in is a step of the set point.
func TestPlan_setStep(t *testing.T) {
	st := kiln.DefaultStudio().In(unit.US)
	st.Controller.Step = unit.FahrenheitDelta(5)
	rep, err := planAs(t, st, "sphere 50mm")
	if err != nil || !rep.Within {
		t.Fatal(rep, err)
	}
	for i, s := range rep.Schedule.Segments {
		if x := s.To.Fahrenheit() / 5; math.Abs(x-math.Round(x)) > 1e-6 {
			t.Errorf("segment %d goes to %s", i+1, s.To.Text(unit.US))
		}
	}
	if last := rep.Schedule.Last(); st.Opening.Less(last) {
		t.Errorf("ends at %s, above the opening", last)
	}
}

// TestPlan_highest: a kiln that goes no higher than the piece still anneals at is
// planned for there, longer; one that does not go so high is refused with the
// piece, and a program above it with the segment.
func TestPlan_highest(t *testing.T) {
	usual, err := planAs(t, kiln.DefaultStudio(), "sphere 50mm")
	if err != nil {
		t.Fatal(err)
	}
	st := kiln.DefaultStudio()
	st.Kiln.Highest = unit.Celsius(535)
	low, err := planAs(t, st, "sphere 50mm")
	if err != nil || !low.Within {
		t.Fatal(low, err)
	}
	if most := low.Schedule.Hottest(); st.Kiln.Highest.Less(most) {
		t.Errorf("goes to %s", most)
	}
	if !low.Notes.Has(finding.KilnHighest) || low.Schedule.Segments[0].Hold < usual.Schedule.Segments[0].Hold {
		t.Errorf("soaks %s, as against %s; notes %v", low.Schedule.Segments[0].Hold, usual.Schedule.Segments[0].Hold, low.Notes)
	}
	var over *program.HotError
	if _, err := verify.Program(context.Background(), usual.Schedule, usual.Load, st, kiln.Limits{}); !errors.As(err, &over) || over.Highest != st.Kiln.Highest {
		t.Errorf("a program above the kiln: %v", err)
	}
	st.Kiln.Highest = unit.Celsius(480)
	var need *HighestError
	var of *PieceError
	if _, err := planAs(t, st, "sphere 50mm"); !errors.As(err, &need) || !errors.As(err, &of) || of.What != "sphere 50mm" || !st.Kiln.Highest.Less(need.Needs) {
		t.Errorf("a kiln that is too cool: %v", err)
	}
	if _, err := Share(context.Background(), loadOf(t, "borosilicate-33", "sphere 50mm", "disc 40mm x 6mm"), st, Options{}, ShareHow{}); !errors.As(err, &need) {
		t.Errorf("shared: %v", err)
	}
}

// TestPlan_after: a controller that keeps its last set point is never left to a
// power that goes off by itself, and the report says what it holds.
func TestPlan_after(t *testing.T) {
	st := kiln.DefaultStudio()
	st.Kiln.Measured = true
	off, err := planAs(t, st, "sphere 50mm")
	if err != nil {
		t.Fatal(err)
	}
	n := len(off.Schedule.Segments)
	if !off.Schedule.Segments[n-1].Off {
		t.Fatal("nothing is left to the kiln, so the test says nothing")
	}
	st.Controller.After = kiln.AfterHold
	rep, err := planAs(t, st, "sphere 50mm")
	if err != nil || !rep.Within {
		t.Fatal(rep, err)
	}
	for _, s := range rep.Schedule.Segments {
		if s.Off {
			t.Errorf("%+v: the elements stay on", s)
		}
	}
	if f, ok := rep.Notes.Find(finding.StaysOn); !ok || f.Yes || f.Temp != rep.Schedule.Last() {
		t.Errorf("%+v", f)
	}
	given, err := verify.Program(context.Background(), off.Schedule, off.Load, st, kiln.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	if f, ok := given.Notes.Find(finding.StaysOnAfter); !ok || f.Segment != n-1 || f.Temp != off.Schedule.Segments[n-2].To {
		t.Errorf("%+v", f)
	}
	st.Opening = unit.Celsius(150)
	if rep, err = planAs(t, st, "sphere 50mm"); err != nil {
		t.Fatal(err)
	}
	if f, _ := rep.Notes.Find(finding.StaysOn); !f.Yes {
		t.Errorf("held at %s, and not called hot", f.Temp)
	}
	st = kiln.DefaultStudio()
	st.Controller.After = kiln.AfterOff
	l := loadOf(t, "borosilicate-33", "rod 10mm x 200mm")
	l.Into = piece.WarmOnly
	rep, err = Plan(context.Background(), l, st, Options{})
	if err != nil || !rep.Notes.Has(finding.SwitchesOff) {
		t.Errorf("%v %v", rep, err)
	}
}
