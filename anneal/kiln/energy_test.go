package kiln

import (
	"math"
	"testing"
	"time"

	"lehr/glass/unit"
)

// TestEnergy_handCalculation: τ = 3.5 h toward 20 °C, 2 kW, heats at 400 K/h at
// 520 °C. There it falls at 500/3.5 = 142.857 K/h, so C = 2000 W / 542.857 K/h
// = 3.684211 Wh/K and the loss at 520 °C is C · 142.857 K/h = 526.3158 W.
func TestEnergy_handCalculation(t *testing.T) {
	k := Default()
	k.HeatingGiven, k.Holding, k.Power = true, unit.Celsius(520), 2*unit.Kilowatt
	k.Price, k.Currency = 0.30, "EUR"
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-4*math.Abs(want)+1e-12 {
			t.Errorf("%s %.6g, want %.6g", what, got, want)
		}
	}
	c, at, byDuty, ok := k.capacity()
	if !ok || byDuty || at != k.Holding {
		t.Fatalf("capacity at %s, by duty %v, ok %v", at, byDuty, ok)
	}
	near("capacity [Wh/K]", c/3600, 3.684211)

	hot := unit.Celsius(520).Kelvin()
	e, _ := k.Energy([]Moment{{0, hot}, {7200, hot}})
	near("two hours at 520 °C [kWh]", e.KWh(), 1.0526316)
	near("cost", e.Cost, 0.3157895)

	// Heating from 20 °C at 200 K/h for 2.5 h: C·(500 K + ∫ θ/τ dt), ∫ θ dt = 500·2.5/2
	// = 625 Kh, so C·(500 + 178.5714) K = 2.5 kWh.
	e, _ = k.Energy([]Moment{{0, unit.Celsius(20).Kelvin()}, {9000, hot}})
	near("heating [kWh]", e.KWh(), 2.5)
	if e.Short {
		t.Error("200 K/h is said to need more power than there is")
	}

	// Cooling from 520 °C at 50 K/h for two hours: loss 142.857 to 114.286 K/h less
	// 50 K/h, mean 78.571 K/h · 2 h · C = 578.947 Wh.
	e, _ = k.Energy([]Moment{{0, hot}, {7200, hot - 100}})
	near("slow cooling [kWh]", e.KWh(), 0.5789474)

	// Left to itself it draws nothing.
	e, ok = k.Energy([]Moment{{0, hot}, {k.Fall.Time(unit.Kelvin(hot), unit.Kelvin(hot-20), unit.Rate(math.Inf(1))), hot - 20}})
	if e.Joules != 0 || !ok {
		t.Errorf("falling by itself takes %g J", e.Joules)
	}

	// Faster than the elements can: capped at the power, and said.
	e, _ = k.Energy([]Moment{{0, hot - 100}, {360, hot}})
	near("capped [kWh]", e.KWh(), 0.2)
	if !e.Short {
		t.Error("1000 K/h is not said to need more power than there is")
	}

	// A duty of 30 % at 520 °C: the loss is 600 W, C = 4.2 Wh/K.
	k.HoldingDuty = 0.3
	c, _, byDuty, _ = k.capacity()
	near("capacity by duty [Wh/K]", c/3600, 4.2)
	e, _ = k.Energy([]Moment{{0, hot}, {7200, hot}})
	near("two hours by duty [kWh]", e.KWh(), 1.2)
	if !byDuty || !e.ByDuty {
		t.Error("duty not used")
	}

	k.HeatingGiven, k.HoldingDuty = false, 0
	if _, ok := k.Energy([]Moment{{0, hot}, {1, hot}}); ok {
		t.Error("an estimate without heating or duty")
	}
	k.HeatingGiven, k.Power = true, 0
	if _, ok := k.Energy([]Moment{{0, hot}, {1, hot}}); ok {
		t.Error("an estimate without power")
	}
}

func TestEmptier_fallsATenthFaster(t *testing.T) {
	k := Default()
	a, b := float64(k.Fall.Rate(unit.Celsius(300))), float64(k.Emptier().Fall.Rate(unit.Celsius(300)))
	if math.Abs(b/a-1.1) > 1e-9 {
		t.Errorf("falls %g times as fast", b/a)
	}
	if k.Fall.TimeConstant != 3*time.Hour+30*time.Minute {
		t.Error("changed the kiln")
	}
}
