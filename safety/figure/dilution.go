package figure

import (
	"math"
	"time"

	"lehr/safety/quantity"
)

// openingVelocity returns the mean air velocity through an opening, such as
// the inlet for fresh air: what leaves by the exhaust must come in by it.
//
//	V = Q / A
//
// Valid: flow up to 100 m³/s, opening up to 100 m².
//
// Source: conservation of volume [derived]; a printed practice answer agrees
// [quoted].
//
// Checked: testdata/cases/safety-air.toml
func openingVelocity(q quantity.Flow, opening quantity.Area) (quantity.Speed, error) {
	err := refuse(above("airflow", float64(q), "m³/s", 100), above("opening", float64(opening), "m²", 100))
	if err != nil {
		return 0, err
	}
	return quantity.Speed(float64(q) / float64(opening)), nil
}

// refuseMixing checks the mixing factor, from 1 (ideal) to 10 (poor).
func refuseMixing(k float64) error { return refuse(between("mixing factor", k, "", 1, 10)) }

// dilutionFlow returns the fresh air that keeps a gas, given off steadily, at
// or below a concentration (a fraction by volume). Not for metal fume.
//
// k is the mixing factor: 1 ideal, 10 poor.
//
//	Q = K G / C
//
// Valid: concentration above 0 and at most 1, K from 1 to 10.
//
// Source: two independent study texts [corroborated].
//
// Checked: testdata/cases/safety-air.toml
func dilutionFlow(gas quantity.Flow, concentration, k float64) (quantity.Flow, error) {
	if err := refuse(above("gas given off", float64(gas), "m³/s", 100), above("concentration", concentration, "", 1)); err != nil {
		return 0, err
	}
	if err := refuseMixing(k); err != nil {
		return 0, err
	}
	return quantity.Flow(k * float64(gas) / concentration), nil
}

// buildUp returns by how much a gas, given off steadily, has risen in a room
// after a time, as a fraction by volume.
//
//	ΔC = (G/Q′)(1 − e^(−Q′t/V)),  Q′ = Q/K
//
// With no airflow at all it returns G t / V. The rise is a bound above 1.
//
// Valid: room 1 m³ to 100 000 m³, time up to 30 days, K from 1 to 10.
//
// Source: one study text [quoted]; also the solution of the mass balance
// [derived].
//
// Checked: testdata/cases/safety-air.toml
func buildUp(gas, q quantity.Flow, room quantity.Volume, after time.Duration, k float64) (float64, error) {
	err := refuse(
		above("gas given off", float64(gas), "m³/s", 100),
		between("airflow", float64(q), "m³/s", 0, 100),
		between("room volume", float64(room), "m³", 1, 1e5),
		above("time", after.Seconds(), "s", 30*86400))
	if err != nil {
		return 0, err
	}
	if err := refuseMixing(k); err != nil {
		return 0, err
	}
	if q == 0 {
		return float64(gas) * after.Seconds() / float64(room), nil
	}
	qe := float64(q) / k
	return float64(gas) / qe * -math.Expm1(-qe*after.Seconds()/float64(room)), nil
}

// airChanges returns the air changes per hour of a room.
//
//	ACH = Q / V
//
// Valid: room 1 m³ to 100 000 m³.
//
// Source: definition [derived]; one study text agrees [quoted].
//
// Checked: testdata/cases/safety-air.toml
func airChanges(q quantity.Flow, room quantity.Volume) (float64, error) {
	err := refuse(above("airflow", float64(q), "m³/s", 100), between("room volume", float64(room), "m³", 1, 1e5))
	if err != nil {
		return 0, err
	}
	return q.CubicMetersPerHour() / float64(room), nil
}

// seconds turns a number of seconds into a duration.
func seconds(s float64) time.Duration { return time.Duration(math.Round(s * 1e9)) }
