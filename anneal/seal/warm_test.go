package seal

import (
	"math"
	"testing"
	"time"

	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/unit"
)

func TestPlanWarmUp(t *testing.T) {
	f := clear33(t)
	cold, ok := ColdOf(must(f.ParseInside("opal 10mm"))(t))
	if !ok {
		t.Fatal("a stone needs warming")
	}
	w := must(PlanWarmUp([]Cold{cold}, unit.Celsius(500)))(t)
	at := Room()
	for i, s := range w.Stages {
		if s.Rate.KelvinPerHour() > 50.001 || !at.Less(s.To) || len(s.Reasons) == 0 {
			t.Errorf("stage %d: %+v", i, s)
		}
		at = s.To
	}
	for _, c := range []float64{110, 150, 200, 300, 450, 500} {
		found := false
		for _, s := range w.Stages {
			found = found || math.Abs(s.To.Celsius()-c) < 1e-9
		}
		if !found {
			t.Errorf("nothing at %g °C", c)
		}
	}
	if want := time.Duration(475.0/50*float64(time.Hour)).Round(time.Minute) + 8*time.Hour; w.Total.Round(time.Minute) != want {
		t.Errorf("takes %v, want %v", w.Total, want)
	}
	cold.Size *= 3
	if big := must(PlanWarmUp([]Cold{cold}, unit.Celsius(500)))(t); big.Stages[0].Hold != longestDrying {
		t.Errorf("a stone of 30 mm dries %v", big.Stages[0].Hold)
	}
	if _, err := PlanWarmUp([]Cold{cold}, unit.Celsius(300)); err == nil {
		t.Error("a stone may not wait at 300 °C")
	}
	if _, err := PlanWarmUp(nil, unit.Temp{}); err == nil {
		t.Error("nothing to warm is accepted")
	}
	// A thick tube of soft glass bears less than the ordinary rate.
	soft := ColdGlass(must(glass.Find("soda-104"))(t), sim.Slab, 12*unit.Millimeter, true)
	tube := must(PlanWarmUp([]Cold{soft}, unit.Celsius(480)))(t)
	q := 6 * soft.Diffusivity * 3.5e6 * (1 - 0.22) / (69e9 * 10.4e-6 * 12e-3 * 12e-3)
	close(t, "rate of the tube", float64(tube.Rate), q, 1e-9)
	if len(tube.Stages) != 1 || tube.Stages[0].Reasons[0] != ThermalRate {
		t.Errorf("%+v", tube)
	}
	if i, fits := tube.Beside(unit.Celsius(470), unit.Celsius(520)); fits || i != 0 {
		t.Error("a warm-up from cold cannot run beside a hot load")
	}
}
