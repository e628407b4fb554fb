package figure

import (
	"lehr/glass/unit"
	"lehr/safety/quantity"
	"lehr/safety/source"
)

// standardBreakers are the US standard ampere ratings of breakers up to 200 A.
//
// Source: nec, article 240, as commonly sold sizes [common practice].
var standardBreakers = []quantity.Current{15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200}

// CircuitLoad returns the current that the breaker and the wire of a kiln must
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
func CircuitLoad(rated quantity.Current) (least, breaker quantity.Current, err error) {
	if err := refuse(above("kiln current", float64(rated), "A", 160)); err != nil {
		return 0, 0, err
	}
	least = rated * 1.25
	for _, b := range standardBreakers {
		if b >= least-1e-9 {
			return least, b, nil
		}
	}
	return least, 0, &InputError{"kiln current", rated.Text(0), "is beyond the standard breakers listed here"}
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

// CircuitReport sets the kiln's current against its breaker.
type CircuitReport struct {
	Rated   quantity.Current
	Least   quantity.Current // 1.25 times the rated current
	Next    quantity.Current // next standard breaker size
	Breaker quantity.Current // as given; zero if not known
	Short   bool             // the breaker is known and below Least
	Assumed []string
	Sources []source.Source
	Status  source.Status
	Defer   []source.Deferral
}

// Circuit returns the figures for the kiln's circuit. breaker may be zero if it
// is not known.
//
// Errors: as [CircuitLoad], and *[InputError] for a breaker below zero or
// above 5000 A.
//
// Source: nec [corroborated]. Checked: testdata/cases/safety-circuit.toml
func Circuit(rated, breaker quantity.Current) (CircuitReport, error) {
	if err := refuse(between("breaker", float64(breaker), "A", 0, 5000)); err != nil {
		return CircuitReport{}, err
	}
	least, next, err := CircuitLoad(rated)
	if err != nil {
		return CircuitReport{}, err
	}
	return CircuitReport{Rated: rated, Least: least, Next: next, Breaker: breaker, Short: breaker > 0 && breaker+1e-9 < least,
		Assumed: []string{"a kiln counts as a load of three hours and more; US practice; the wire must carry as much as the breaker"},
		Sources: source.Of("nec"), Status: source.Corroborated, Defer: []source.Deferral{source.ToElec}}, nil
}
