package cost

import (
	"math"
	"strings"
	"testing"
)

// FuzzText: no tariff and no log makes a parser panic, and what is read gives
// a finite cost.
func FuzzText(f *testing.F) {
	for _, s := range []string{"0.30 EUR", "0.40 EUR from 6:00, 0.22 EUR from 22:00 as of 2026-10-01", "$3", "time,W\n2026-11-25T20:00:00Z,5\n2026-11-25T21:00:00Z,5\n", "time_h;duty_%\n0;1\n1;2\n"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		finite := func(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) && x >= 0 }
		if x, err := ParseTariff(text); err == nil {
			if m := x.Cost(1300, []Step{{90000, 1000}}); !finite(m.Amount) {
				t.Errorf("%q: %+v", text, m)
			}
		}
		if l, err := ReadLog(strings.NewReader(text), "x", 1800); err == nil && !finite(KWh(l.Steps)) {
			t.Errorf("%q: %+v", text, l)
		}
	})
}
