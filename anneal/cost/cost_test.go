package cost

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lehr/glass/unit"
)

// The cost by windows is the sum over single minutes, each in the price that
// its beginning has.
func TestCost_byMinutes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.IntRange(0, 1439).Draw(t, "a"), rapid.IntRange(0, 1439).Draw(t, "b")
		if a == b {
			return
		}
		x := Tariff{Currency: "EUR", Windows: []Window{{unit.Clock(min(a, b)), 0.4}, {unit.Clock(max(a, b)), 0.22}}}
		start := unit.Clock(rapid.IntRange(0, 1439).Draw(t, "start"))
		var steps []Step
		at, want := int(start), 0.0
		for range rapid.IntRange(1, 5).Draw(t, "steps") {
			n, w := rapid.IntRange(1, 1500).Draw(t, "minutes"), rapid.Float64Range(0, 3000).Draw(t, "watts")
			steps = append(steps, Step{float64(n) * 60, w})
			for range n {
				m := at % 1440
				price := 0.22
				if m >= min(a, b) && m < max(a, b) {
					price = 0.4
				}
				want += w / 1000 / 60 * price
				at++
			}
		}
		if got := x.Cost(start, steps).Amount; math.Abs(got-want) > 1e-9*(1+want) {
			t.Errorf("got %g, want %g", got, want)
		}
	})
}

func TestParse(t *testing.T) {
	for text, want := range map[string]Money{"12.50 EUR": {12.5, "EUR"}, "$3": {3, "$"}, "EUR 0.3": {0.3, "EUR"}, "0.3 €": {0.3, "€"}} {
		if m, err := ParseMoney(text); err != nil || m != want {
			t.Errorf("%s: got %+v, %v", text, m, err)
		}
	}
	for _, text := range []string{"", "12", "EUR", "-3 EUR", "1,5 EUR", "EUR 3 USD", "3 4", "1.2.3 EUR"} {
		m, err := ParseMoney(text)
		var e *TextError
		if !errors.As(err, &e) {
			t.Errorf("%q: read as %+v, %v", text, m, err)
		}
	}
	x := tariff(t, "0.22 EUR from 22:00, 0.40 EUR/kWh from 6:00 as of 2026-10-01")
	if x.AsOf != "2026-10-01" || x.Windows[0].Price != 0.4 || len(x.Windows) != 2 {
		t.Errorf("%+v", x)
	}
	if p := tariff(t, "0.30 USD per kWh").Mean(0, 7200); p != 0.3 {
		t.Errorf("%g", p)
	}
	// Half the time in each window.
	if p := x.Mean(21*60, 2*3600); math.Abs(p-0.31) > 1e-12 {
		t.Errorf("%g", p)
	}
	for want, text := range map[string]string{
		"no currency":        "0.30",
		"from when on":       "0.30 EUR, 0.20 EUR from 22:00",
		"two currencies":     "0.30 EUR from 6:00, 0.20 USD from 22:00",
		"hold from one hour": "0.30 EUR from 6:00, 0.20 EUR from 6:00",
		"no day":             "0.30 EUR as of ",
		"more than 1000":     "3000 EUR",
		"noon":               "0.30 EUR from noonish",
	} {
		if x, err := ParseTariff(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: read as %+v, %v, want %q", text, x, err, want)
		}
	}
}

func TestShares(t *testing.T) {
	got := Shares(10, []int{6, 14}, []float64{4, 1})
	if sum := 6*got[0] + 14*got[1]; math.Abs(sum-10) > 1e-12 || math.Abs(got[0]/got[1]-4) > 1e-12 {
		t.Errorf("%v", got)
	}
}
