package checklist

import (
	"lehr/safety/figure"
	"lehr/safety/quantity"
)

// AirQuestion returns the question for the air figures that the facts allow,
// with the usual capture velocity for torch work.
func (f Facts) AirQuestion() figure.AirQuestion {
	return figure.AirQuestion{Distance: f.HoodDistance, Opening: f.HoodSize, Exhaust: f.Exhaust, Inlet: f.Inlet,
		Room: f.Room, Ceiling: f.Ceiling, Workers: f.Workers, Fuel: f.Fuel, FuelFlow: f.FuelFlow}
}

// RatedKilnCurrent returns the rated current of the kiln in the facts, given as
// such or from power and voltage; false if neither is known.
func (f Facts) RatedKilnCurrent() (quantity.Current, bool) {
	if f.KilnCurrent > 0 {
		return f.KilnCurrent, true
	}
	if f.KilnPower > 0 && f.KilnVoltage > 0 {
		c, err := figure.RatedCurrent(f.KilnPower, f.KilnVoltage)
		return c, err == nil
	}
	return 0, false
}
