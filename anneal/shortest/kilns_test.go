package shortest

import (
	"testing"
	"time"

	"lehr/anneal/plan"
	"lehr/anneal/program"
	"lehr/glass/unit"
)

// fahrenheit is a program of one soak and cooling ramps, as it is keyed in in °F: pairs of
// a rate and where it leads.
func fahrenheit(from unit.Temp, hold time.Duration, ramps ...float64) program.Schedule {
	s := program.Schedule{From: from}
	for i := 0; i < len(ramps); i += 2 {
		s.Segments = append(s.Segments, program.Segment{Rate: unit.FahrenheitPerHour(ramps[i]), To: unit.Fahrenheit(ramps[i+1])})
	}
	s.Segments[0].Hold, s.Segments[0].Purpose = hold, program.PurposeSoak
	if s.Segments[0].To == from {
		s.Segments[0].Rate = 0
	}
	name(s.Segments)
	return s
}

// TestLeftToKiln: of two programs the one that ends sooner with its ramps slowed to what
// the kiln can do is the answer, though as it was searched for the other was shorter.
func TestLeftToKiln(t *testing.T) {
	sv := solverOf(t, 144)
	short := fahrenheit(sv.frame.From, 184*time.Minute, 195, 968, -175, 922, -11, 901, -17, 892, -27, 862, -57, 806, -97, 486, -67, 109)
	even := fahrenheit(sv.frame.From, 137*time.Minute, 187, 977, -143, 929, -23, 923, -9, 910, -11, 901, -23, 865, -55, 796, -96, 451, -98, 109)
	if a, b := hours(short, sv.st.Kiln), hours(even, sv.st.Kiln); a >= b {
		t.Fatalf("the shorter takes %g s, the other %g s", a, b)
	}
	left := map[string]time.Duration{}
	for _, s := range []program.Schedule{short, even} {
		rep, err := sv.judged(t.Context(), s, 0)
		if err != nil {
			t.Fatal(err)
		}
		if !rep.Within {
			t.Fatalf("a program of %v is over a limit: %.4f", rep.Nominal.Total(), rep.Use())
		}
		sv.offer(s)
		sv.keeper.offer(s, hours(s, sv.st.Kiln))
		if rep, err = plan.LeaveToKiln(t.Context(), rep); err != nil {
			t.Fatal(err)
		}
		left[key(s)] = rep.Actual.Total()
		if got := plan.LeftToKiln(s, sv.st); got != rep.Actual.Total() {
			t.Errorf("left to the kiln it takes %v, foretold were %v", rep.Actual.Total(), got)
		}
	}
	rep, err := sv.judged(t.Context(), short, 0)
	if err != nil {
		t.Fatal(err)
	}
	if rep, err = sv.leftToKiln(t.Context(), rep); err != nil {
		t.Fatal(err)
	}
	if got, want := rep.Actual.Total(), min(left[key(short)], left[key(even)]); got != want || left[key(short)] <= want {
		t.Errorf("the answer takes %v, left to the kiln they take %v", got, left)
	}
}
