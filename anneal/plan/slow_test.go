package plan

import (
	"context"
	"math"
	"testing"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
)

// TestSlowing_numbers: to which share of a limit rates are slowed changes no hours,
// since what is slowed too much is taken back; with eight lengthenings of its soak the
// load that needs most ends over a limit.
func TestSlowing_numbers(t *testing.T) {
	needLong(t)
	share, most := slowedTo, lengthenings
	defer func() { slowedTo, lengthenings = share, most }()
	planned := func(glass, what string, into piece.Into) (hours float64, within bool) {
		l := loadOf(t, glass, what)
		l.Into = into
		rep, err := Plan(context.Background(), l, kiln.DefaultStudio(), hoursOnly)
		if err != nil {
			t.Fatal(err)
		}
		return rep.Actual.Total().Hours(), rep.Within
	}
	var hours []float64
	for _, slowedTo = range []float64{0.9, share, 0.999} {
		sum := 0.0
		for _, what := range []string{"sphere 63.5mm", "tube 60mm wall 12mm"} {
			h, within := planned("borosilicate-33", what, piece.ColdKiln)
			if sum += h; !within {
				t.Errorf("%s, slowed to %g: over a limit", what, slowedTo)
			}
		}
		hours = append(hours, sum)
	}
	slowedTo = share
	for _, h := range hours {
		if math.Abs(h-hours[1]) > 0.01*hours[1] {
			t.Errorf("%.2f h", hours)
		}
	}
	const slab = "slab 200mm x 150mm x 20mm"
	if _, within := planned("borosilicate-33", slab, piece.HotKiln); !within {
		t.Errorf("%s: over a limit with %d lengthenings", slab, most)
	}
	lengthenings = most / 2
	if _, within := planned("borosilicate-33", slab, piece.HotKiln); within {
		t.Errorf("%s: within limits with %d lengthenings: fewer may do", slab, lengthenings)
	}
}
