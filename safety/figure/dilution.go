package figure

import (
	"math"
	"time"

	"lehr/safety/quantity"
)

// OpeningVelocity returns the mean air velocity through an opening, such as
// the inlet for fresh air: what leaves by the exhaust must come in by it.
//
//	V = Q / A
//
// Valid: flow up to 100 m³/s, opening up to 100 m².
//
// Source: conservation of volume [derived]; a printed practice answer agrees
// [verified].
//
// Checked: testdata/cases/safety-air.toml
func OpeningVelocity(q quantity.Flow, opening quantity.Area) (quantity.Speed, error) {
	err := refuse(above("airflow", float64(q), "m³/s", 100), above("opening", float64(opening), "m²", 100))
	if err != nil {
		return 0, err
	}
	return quantity.Speed(float64(q) / float64(opening)), nil
}

// DuctVelocity returns the air velocity in a duct from its velocity pressure
// in inches of water.
//
//	V = 4005 √VP (ft/min, standard air)
//
// Valid: 0.0001 to 20 inches of water.
//
// Source: acgih-iv, in two study texts [corroborated].
//
// Checked: testdata/cases/safety-air.toml
func DuctVelocity(inchesOfWater float64) (quantity.Speed, error) {
	if err := refuse(between("velocity pressure", inchesOfWater, "in of water", 1e-4, 20)); err != nil {
		return 0, err
	}
	return quantity.FeetPerMinute(4005 * math.Sqrt(inchesOfWater)), nil
}

// refuseMixing checks the mixing factor, from 1 (ideal) to 10 (poor).
func refuseMixing(k float64) error { return refuse(between("mixing factor", k, "", 1, 10)) }

// DilutionFlow returns the fresh air that keeps a gas, given off steadily, at
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
func DilutionFlow(gas quantity.Flow, concentration, k float64) (quantity.Flow, error) {
	if err := refuse(above("gas given off", float64(gas), "m³/s", 100), above("concentration", concentration, "", 1)); err != nil {
		return 0, err
	}
	if err := refuseMixing(k); err != nil {
		return 0, err
	}
	return quantity.Flow(k * float64(gas) / concentration), nil
}

// PurgeTime returns how long fresh air takes to bring a gas in a room from one
// concentration down to another, with no more given off.
//
//	t = −K (V/Q) ln(C₂/C₁)
//
// Valid: both in the same unit, the second below the first, K from 1 to 10.
//
// Source: one study text and one encyclopedia [verified].
//
// Checked: testdata/cases/safety-air.toml
func PurgeTime(room quantity.Volume, q quantity.Flow, from, to, k float64) (time.Duration, error) {
	err := refuse(
		above("room volume", float64(room), "m³", 1e5),
		between("airflow", float64(q), "m³/s", 1e-4, 100),
		above("concentration at the start", from, "", 1e9),
		above("concentration at the end", to, "", 1e9))
	if err != nil {
		return 0, err
	}
	if to >= from {
		return 0, &InputError{"concentration at the end", quantity.Digits(to, 4), "must be below that at the start, " + quantity.Digits(from, 4)}
	}
	if err := refuseMixing(k); err != nil {
		return 0, err
	}
	return seconds(k * float64(room) / float64(q) * math.Log(from/to)), nil
}

// BuildUp returns by how much a gas, given off steadily, has risen in a room
// after a time, as a fraction by volume.
//
//	ΔC = (G/Q′)(1 − e^(−Q′t/V)),  Q′ = Q/K
//
// With no airflow at all it returns G t / V. The rise is a bound above 1.
//
// Valid: room 1 m³ to 100 000 m³, time up to 30 days, K from 1 to 10.
//
// Source: one study text [verified]; also the solution of the mass balance
// [derived].
//
// Checked: testdata/cases/safety-air.toml
func BuildUp(gas, q quantity.Flow, room quantity.Volume, after time.Duration, k float64) (float64, error) {
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

// AirChanges returns the air changes per hour of a room.
//
//	ACH = Q / V
//
// Valid: room 1 m³ to 100 000 m³.
//
// Source: one study text [verified].
//
// Checked: testdata/cases/safety-air.toml
func AirChanges(q quantity.Flow, room quantity.Volume) (float64, error) {
	err := refuse(above("airflow", float64(q), "m³/s", 100), between("room volume", float64(room), "m³", 1, 1e5))
	if err != nil {
		return 0, err
	}
	return q.CubicMetersPerHour() / float64(room), nil
}

// seconds turns a number of seconds into a duration.
func seconds(s float64) time.Duration { return time.Duration(math.Round(s * 1e9)) }
