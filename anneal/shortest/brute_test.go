package shortest

import (
	"context"
	"math"
	"testing"
	"time"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"

	"lehr/glass/unit"
)

// TestBruteForce tries every program of a coarse grid, soak, two breaks and
// three rates, for three loads, and wants none within the limits to be shorter
// than what the search finds with the same four segments. The rates of each
// grid point are scaled to the limit of tension left by bisection, so that the
// grid need not be fine to be near the best.
func TestBruteForce(t *testing.T) {
	tried := []example{
		{"sphere, quick kiln", "borosilicate-33", []string{"sphere 2.5in"}, piece.HotKiln, time.Hour},
		{"disc, quick kiln", "borosilicate-33", []string{"disc 80mm x 25mm"}, piece.HotKiln, time.Hour},
		{"soft sphere", "soda-104", []string{"sphere 2in"}, piece.HotKiln, 90 * time.Minute},
	}
	switch {
	case campaign():
	case long():
		tried = tried[:1]
	default:
		t.Skip("takes a second; LEHR_LONG=1 runs it")
	}
	for _, e := range tried {
		l, st := e.load(t)
		st.Controller.Segments = 4
		res := shortest(t, l, st, plan.Options{})
		judge, err := verify.NewEvaluator(l, st, kiln.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		frame, err := plan.NewFrame(l, st, plan.Options{})
		if err != nil {
			t.Fatal(err)
		}
		// The coarse simulation is several per cent off for some pieces, a disc among
		// them: what it finds is corrected by what it is off for the answer.
		full, err := judge.Calibrate(res.Report.Schedule, 0)
		if err != nil {
			t.Fatal(err)
		}
		coarse, err := judge.Measure(res.Report.Schedule, 0, verify.Coarse)
		if err != nil {
			t.Fatal(err)
		}
		bias := full.Residual / coarse.Residual
		hold := res.Report.Schedule.Segments[0].Hold.Seconds()
		soak := frame.Soak.Kelvin()
		type point struct{ first, second, a, c float64 }
		var points []point
		for _, first := range []float64{14, 22, 32} { // below the soak [K]
			for _, second := range []float64{75, 92, 115} {
				for _, a := range []float64{1, 4, 10, 25} { // rates over that between the breaks
					for _, c := range []float64{3, 8, 14} {
						points = append(points, point{first, second, a, c})
					}
				}
			}
		}
		if !long() { // every other point
			for i := range len(points) / 2 {
				points[i] = points[2*i]
			}
			points = points[:len(points)/2]
		}
		best := make([]float64, len(points))
		err = parallel.Each(t.Context(), len(points), func(i int) error {
			p := points[i]
			best[i] = math.Inf(1)
			lo, hi := 4.0/3600, 80.0/3600
			for hi > 1.03*lo {
				slow := math.Sqrt(lo * hi)
				s := draft{from: soak, soak: soak, hold: hold, cools: []ramp{
					{soak - p.first, slow * p.a}, {soak - p.second, slow}, {st.Opening.Kelvin(), slow * p.c}}}.exact()
				m, err := judge.Measure(s, 0, verify.Coarse)
				if err != nil {
					return err
				}
				if m.Residual*bias <= 0.995 && m.Tension() <= 0.995 {
					lo = slow
					best[i] = math.Min(best[i], hours(s, st.Kiln))
				} else {
					hi = slow
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		least := math.Inf(1)
		for _, b := range best {
			least = math.Min(least, b)
		}
		found := res.Report.Actual.Total().Seconds()
		t.Logf("%s: %d programs of the grid, the best %.2f h; found %.2f h, floor %.2f h, rule %.2f h; the coarse simulation is off by %+.1f %%", e.name, len(points), least/3600, found/3600,
			res.Floor.Total.Hours(), res.Rule.Actual.Total().Hours(), 100*(1/bias-1))
		if least < found*0.99 {
			t.Errorf("%s: the grid has a program of %.2f h, the search found %.2f h", e.name, least/3600, found/3600)
		}
	}
}

// TestFloorParts checks the floor against what is known without it: a kiln
// alone, and a piece so thin that the kiln decides.
func TestFloorParts(t *testing.T) {
	st := kiln.DefaultStudio()
	l := load(t, "borosilicate-33", "sphere 8mm")
	floorOf := func(l *piece.Load, o plan.Options) Floor {
		sv, err := newSolver(context.Background(), l, st, Options{Options: o})
		if err != nil {
			t.Fatal(err)
		}
		return sv.floor()
	}
	thin := floorOf(l, plan.Options{})
	// 560 °C to 43 °C with the room at 20 °C: τ ln(540/23).
	want := 3.5 * math.Log(540.0/23)
	if got := thin.Kiln.Hours(); math.Abs(got/want-1) > 0.002 {
		t.Errorf("the kiln alone takes %.3f h, τ ln(540/23) is %.3f h", got, want)
	}
	if got := thin.Total.Hours(); got < want || got > want+0.5 {
		t.Errorf("floor of a thin piece %.3f h, the kiln takes %.3f h", got, want)
	}
	// A quick kiln leaves the glass alone to decide: halving the limit of
	// tension left lengthens the floor, and no more than twice.
	st.Kiln.Measured, st.Kiln.Fall.TimeConstant = true, 10*time.Minute
	floor := func(residual float64) float64 {
		o := plan.Options{Limits: kiln.Limits{Residual: unit.Stress(residual) * unit.Megapascal}}
		return floorOf(load(t, "borosilicate-33", "sphere 4in"), o).Total.Hours()
	}
	if a, b := floor(1), floor(0.5); b < 1.3*a || b > 2*a {
		t.Errorf("floor %.2f h, with half the limit %.2f h", a, b)
	}
}
