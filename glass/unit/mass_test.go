package unit_test

import (
	"math"
	"testing"

	"lehr/glass/unit"
)

func TestParseMass(t *testing.T) {
	for text, grams := range map[string]float64{
		"299 g": 299, "0.3kg": 300, "1 lb": 453.59237, "16oz": 453.59237, "12 grams": 12, "0 g": 0,
	} {
		m, err := unit.ParseMass(text)
		if err != nil || math.Abs(m.Grams()-grams) > 1e-9 {
			t.Errorf("%s: got %v, %v, want %g g", text, m, err, grams)
		}
		if back, err := unit.ParseMass(m.String()); err != nil || math.Abs(float64(back-m)) > 1e-12 {
			t.Errorf("%s: comes back as %v, %v", text, back, err)
		}
	}
	for _, text := range []string{"", "299", "-3 g", "299 mm", "2000 kg", "nan g", "1,040 g"} {
		if m, err := unit.ParseMass(text); err == nil {
			t.Errorf("%q: read as %v", text, m)
		}
	}
}

func TestMass_Text(t *testing.T) {
	for _, c := range []struct {
		m      unit.Mass
		metric string
		us     string
	}{
		{298.968 * unit.Gram, "299 g", "10.5 oz"},
		{3.531 * unit.Gram, "3.5 g", "0.12 oz"},
		{4132.93 * unit.Gram, "4133 g", "145.8 oz"},
	} {
		if got := c.m.Text(unit.Metric); got != c.metric {
			t.Errorf("got %s, want %s", got, c.metric)
		}
		if got := c.m.Text(unit.US); got != c.us {
			t.Errorf("got %s, want %s", got, c.us)
		}
	}
}
