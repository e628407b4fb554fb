package program

import (
	"math"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// lag is how far the kiln is above the set point at most, each segment beginning
// when the kiln has reached the end of the one before.
func lag(s Schedule, k kiln.Kiln) (most float64) {
	tl := s.As(&k)
	for i, span := range tl.Spans {
		seg := s.Segments[i]
		for j := 0; j <= 200; j++ {
			at := span.Start + (span.RampEnds-span.Start)*float64(j)/200
			set := math.Max(span.From.Kelvin()+float64(seg.Rate)*(at-span.Start), seg.To.Kelvin())
			most = math.Max(most, tl.At(at)-set)
		}
	}
	return most
}

// TestEased_keepsUp: a kiln that falls by Newton's law lags hundreds of kelvin
// behind a ramp to the opening that it cannot follow, and no more than a few behind
// the parts at what it can do less the margin, also when it falls a tenth slower
// than measured, as it does with a fuller load.
func TestEased_keepsUp(t *testing.T) {
	for _, hours := range []float64{1.5, 3, 6} {
		st := kiln.DefaultStudio()
		st.Kiln.Measured, st.Kiln.Fall.TimeConstant = true, time.Duration(hours*float64(time.Hour))
		s := Schedule{From: unit.Celsius(560), Segments: []Segment{
			{Purpose: PurposeSoak, To: unit.Celsius(560), Hold: time.Hour},
			{Purpose: PurposeCool, To: unit.Celsius(430), Rate: unit.KelvinPerHour(-40)},
			{Purpose: PurposeFinal, To: unit.Celsius(43), Rate: unit.KelvinPerHour(-999)},
		}}
		eased := s.Eased(st, true)
		if n := len(eased.Segments); n != st.Controller.Segments {
			t.Errorf("%g h: %d segments", hours, n)
		}
		slower := st.Kiln
		slower.Fall = slower.Fall.Faster(kiln.Followed)
		for _, k := range []kiln.Kiln{st.Kiln, slower} {
			if was, is := lag(s, k), lag(eased, k); was < 200 || is > 12 {
				t.Errorf("%g h: lag %.0f K as asked, %.1f K eased", hours, was, is)
			}
		}
		if was, is := s.As(&st.Kiln).Total().Hours(), eased.As(&st.Kiln).Total().Hours(); is > was*1.25 || is < was {
			t.Errorf("%g h: takes %.1f h, left to itself %.1f h", hours, is, was)
		}
		// One segment: as fast as the kiln falls at the top, less the margin.
		// Newton's law there: (430 - 20)/τ.
		one := s.Eased(st, false).Segments[2]
		if want := math.Floor(0.9 * 410 / hours); math.Abs(math.Abs(one.Rate.KelvinPerHour())-want) > 1e-6 {
			t.Errorf("%g h: %s, want %g", hours, one.Rate, want)
		}
		st.Kiln.Measured = false
		if got := s.Eased(st, true); len(got.Segments) != 3 || got.Segments[2] != s.Segments[2] {
			t.Error("a kiln that nobody measured is asked for something else")
		}
	}
}
