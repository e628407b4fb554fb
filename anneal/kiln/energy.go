package kiln

import (
	"math"

	"lehr/glass/unit"
)

// Moment is one knot of the kiln's temperature in time; between two it is
// linear.
type Moment struct {
	Seconds, Kelvin float64
}

// Energy is the electricity that a program is estimated to take.
type Energy struct {
	Joules   float64
	Capacity float64 // heat capacity that the estimate rests on [J/K]
	ByDuty   bool    // it was inferred from the holding duty, else from the fastest heating
	At       unit.Temp
	Short    bool    // somewhere the program needs more power than there is
	Cost     float64 // in Currency, 0 if no price was given
	Currency string
}

// KWh returns the electricity in kilowatt-hours.
func (e Energy) KWh() float64 { return e.Joules / 3.6e6 }

// heatingHolds is where a single fastest heating is taken to hold when no
// holding temperature is given.
func (k Kiln) heatingHolds() unit.Temp {
	switch {
	case len(k.HeatingAt) > 0:
		return k.HeatingAt[len(k.HeatingAt)-1].At
	case !k.Holding.IsZero():
		return k.Holding
	}
	return unit.Celsius(500)
}

// capacity returns the heat capacity of kiln and load [J/K] that agrees with
// the power and with natural cooling:
//
//	at holding:           duty · P = C · fall(T)
//	at fastest heating:   P = C · (fall(T) + heating(T))
//
// The duty is preferred, since it needs no rate. ok is false when neither the
// duty with its holding temperature nor the heating is given, or no power.
func (k Kiln) capacity() (c float64, at unit.Temp, byDuty, ok bool) {
	if k.Power <= 0 {
		return 0, at, false, false
	}
	if k.HoldingDuty > 0 && !k.Holding.IsZero() {
		if fall := float64(k.Fall.Rate(k.Holding)); fall > 0 {
			return k.HoldingDuty * k.Power.Watts() / fall, k.Holding, true, true
		}
	}
	if !k.HeatingGiven {
		return 0, at, false, false
	}
	at = k.heatingHolds()
	return k.Power.Watts() / float64(k.Fall.Rate(at)+k.HeatRate(at)), at, false, true
}

// Energy estimates the electricity of a program from the heat balance of the
// kiln as one lump of heat capacity C that loses heat as it falls by itself:
//
//	P(t) = C · (fall(T) + dT/dt), from 0 to the power of the elements
//
// Assumed: losses depend on the kiln's temperature alone; walls and glass are
// as warm as the reading; what the load adds is part of C; nothing is drawn
// but by the elements. ok is false when Capacity has no answer. It is an
// estimate: a kiln whose walls are not warmed through takes more on the way up.
func (k Kiln) Energy(path []Moment) (e Energy, ok bool) {
	c, at, byDuty, ok := k.capacity()
	if !ok {
		return e, false
	}
	e = Energy{Capacity: c, At: at, ByDuty: byDuty, Currency: k.Currency}
	for i := 1; i < len(path); i++ {
		a, b := path[i-1], path[i]
		dt := b.Seconds - a.Seconds
		if dt <= 0 {
			continue
		}
		rate := (b.Kelvin - a.Kelvin) / dt
		middle := float64(k.Fall.Rate(unit.Kelvin((a.Kelvin + b.Kelvin) / 2)))
		if -rate > 0.95*middle { // it falls by itself, up to how the path is drawn
			continue
		}
		// Simpson's rule on parts short enough for a law that bends.
		const parts = 8
		h := dt / parts
		power := func(s float64) float64 {
			p := c * (float64(k.Fall.Rate(unit.Kelvin(a.Kelvin+rate*s))) + rate)
			if p > k.Power.Watts()*1.02 {
				e.Short = true
			}
			return math.Min(math.Max(p, 0), k.Power.Watts())
		}
		for j := range parts {
			s := float64(j) * h
			e.Joules += h / 6 * (power(s) + 4*power(s+h/2) + power(s+h))
		}
	}
	e.Cost = e.KWh() * k.Price
	return e, true
}
