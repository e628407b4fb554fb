package figure

import (
	"lehr/glass/unit"
	"lehr/safety/quantity"
	"lehr/safety/source"
)

// standardBreakers are the US standard ampere ratings of breakers up to 250 A.
//
// Source: nec, article 240, as commonly sold sizes [common practice].
var standardBreakers = []quantity.Current{15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250}

// nextStandard returns the least standard size of at least so many amperes.
func nextStandard(least quantity.Current) (quantity.Current, bool) {
	for _, b := range standardBreakers {
		if b >= least-1e-9 {
			return b, true
		}
	}
	return 0, false
}

// circuitLoad returns the current that the breaker and the wire of a kiln must
// carry at least, and the next standard breaker size, since a kiln runs for
// three hours and more.
//
//	I × 1.25
//
// A listed assembly rated for its full load is an exception, and a licensed
// electrician decides.
//
// Valid: rated current above zero, up to 160 A.
//
// Source: nec, 210.19(A)(1) and 210.20(A) [corroborated]; US practice.
//
// Checked: testdata/cases/safety-circuit.toml
func circuitLoad(rated quantity.Current) (least, breaker quantity.Current, err error) {
	if err := refuse(above("kiln current", float64(rated), "A", 160)); err != nil {
		return 0, 0, err
	}
	least = rated * 1.25
	breaker, _ = nextStandard(least)
	return least, breaker, nil
}

// RatedCurrent returns the current of a single-phase kiln from its power.
//
//	I = P / V
//
// Valid: up to 1 MW, from 1 V to 1000 V.
//
// Source: electric power of a resistance [derived].
//
// Checked: testdata/cases/safety-circuit.toml
func RatedCurrent(p unit.Power, v quantity.Voltage) (quantity.Current, error) {
	err := refuse(above("kiln power", p.Watts(), "W", 1e6), between("kiln voltage", float64(v), "V", 1, 1000))
	if err != nil {
		return 0, err
	}
	return quantity.Current(p.Watts() / float64(v)), nil
}

// Fit is how a breaker fits its kiln.
type Fit string

// The ways a breaker fits.
const (
	NotKnown Fit = "not given"
	Fits     Fit = "fits"
	TooSmall Fit = "too small" // it trips, or it heats
	TooBig   Fit = "too big"   // a fault may burn before it trips
	NoneFits Fit = "none fits" // no standard size is big enough and no bigger than the plate says
)

// An appliance without a motor that takes smallKiln or less, and whose plate
// names no breaker, may stand on smallBreaker: as much as 1.5 times smallKiln.
//
// Source: nec-422, 422.11(E), which says how it was read.
const (
	smallKiln    quantity.Current = 13.3
	smallBreaker quantity.Current = 20
)

// CircuitReport sets the kiln's current against its breaker.
type CircuitReport struct {
	Rated   quantity.Current
	Least   quantity.Current // 1.25 times the rated current
	Next    quantity.Current // next standard breaker size
	Most    quantity.Current // the biggest breaker: the plate's, else 1.5 times the rated current, the next standard size up, or that of a small kiln
	Plate   bool             // Most stands on the kiln's plate
	Small   bool             // Most is that of a small kiln; then Status is that of this number, memory
	Breaker quantity.Current // as given; zero if not known
	Fit     Fit
	Sources []source.Source
	Status  source.Status
	Defer   []source.Deferral
}

// Circuit returns the figures for the kiln's circuit. breaker is zero if it is
// not known, plate if the kiln's plate names no biggest breaker.
//
//	1.25 I ≤ breaker ≤ plate, or the next standard size from 1.5 I up, or 20 A for 13.3 A and less
//
// Errors: as [circuitLoad], and *[InputError] for a breaker below zero or above
// 5000 A, and for a plate that names more than 20 A and three times the current:
// it is another number that was read there.
//
// Source: nec, 210.20(A) [corroborated] and 422.11(E) [quoted].
//
// Checked: testdata/cases/safety-circuit.toml, TestCircuit
func Circuit(rated, breaker, plate quantity.Current) (CircuitReport, error) {
	if err := refuse(between("breaker", float64(breaker), "A", 0, 5000), between("breaker on the plate", float64(plate), "A", 0, max(20, 3*float64(rated)))); err != nil {
		return CircuitReport{}, err
	}
	least, next, err := circuitLoad(rated)
	if err != nil {
		return CircuitReport{}, err
	}
	r := CircuitReport{Rated: rated, Least: least, Next: next, Most: plate, Plate: plate > 0, Breaker: breaker, Fit: Fits,
		Sources: source.Of("nec", "nec-422"), Status: source.Quoted, Defer: []source.Deferral{source.ToElec}}
	if !r.Plate {
		r.Most, _ = nextStandard(1.5 * rated) // up to 240 A, and the list goes to 250 A
		if r.Small = rated <= smallKiln; r.Small {
			r.Most, r.Status = smallBreaker, source.Memory
		}
	}
	const hair = 1e-9
	fits := breaker >= least-hair && breaker <= r.Most+hair
	switch {
	case fits:
	case next > r.Most+hair:
		r.Fit = NoneFits
	case breaker == 0:
		r.Fit = NotKnown
	case breaker < least-hair:
		r.Fit = TooSmall
	default:
		r.Fit = TooBig
	}
	return r, nil
}
