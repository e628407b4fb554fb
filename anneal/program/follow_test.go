package program

import (
	"testing"
	"time"

	"gonum.org/v1/gonum/floats/scalar"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// TestSchedule_followed: each half of what is known of a kiln counts by itself.
func TestSchedule_followed(t *testing.T) {
	s := Schedule{From: unit.Celsius(20), Segments: []Segment{
		{Rate: unit.KelvinPerHour(1000), To: unit.Celsius(520)},
		{Rate: unit.KelvinPerHour(-5000), To: unit.Celsius(120)},
	}}
	st := kiln.DefaultStudio()
	hours := func() (up, down float64) {
		sp := s.Followed(st).Spans
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
