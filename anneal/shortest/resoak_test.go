package shortest

import (
	"testing"
	"time"

	"lehr/anneal/verify"
)

// TestResoaked: the soaks of programs with another one relax and even out what the limits
// ask, to a fiftieth, and are heated to within the limit of tension.
func TestResoaked(t *testing.T) {
	sv, g := ladderIn(t, 144)
	sv.soaks = g
	s := fahrenheit(sv.frame.From, 137*time.Minute, 187, 977, -143, 929, -23, 923, -9, 910, -11, 901, -23, 865, -55, 796, -96, 451, -98, 109)
	lim, asked := sv.evaluator.Limits(), 0
	for _, other := range sv.resoaked(s) {
		for k := range sv.evaluator.Groups {
			m, err := sv.evaluator.Measure(other, k, verify.Full)
			if err != nil {
				t.Fatal(err)
			}
			if m.Unrelaxed > 1.02*(1-lim.Relaxed) || m.Lag > 1.02*lim.Even || m.Span[0] > 1.02 {
				t.Errorf("soaked at %.0f °C: %.3f unrelaxed, %.2f K uneven, %.3f of the limit of tension", other.Segments[0].To.Celsius(), m.Unrelaxed, float64(m.Lag), m.Span[0])
			}
		}
		asked++
	}
	if asked < 2 {
		t.Errorf("%d other soaks", asked)
	}
}
