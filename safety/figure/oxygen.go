package figure

import (
	"math"
	"time"

	"lehr/safety/quantity"
)

// oxygenLimit is the oxygen content of air above which it counts as enriched,
// as a fraction by volume.
//
// Source: osha-146; indg459 [corroborated].
const oxygenLimit = 0.235

// oxygenOutdoor is what the balances below take for clean air.
const oxygenOutdoor = 0.209

// enrichmentTime returns how long a leak of oxygen takes to bring a closed,
// well-mixed room to 23.5 %, and how much oxygen that is.
//
//	v = V ln((1 − 0.209)/(1 − 0.235)),  t = v / g
//
// Valid: room 1 m³ to 100 000 m³, leak above zero.
//
// Source: mass balance [derived]; the limit: osha-146 [corroborated].
//
// Checked: testdata/cases/safety-oxygen.toml
func enrichmentTime(room quantity.Volume, leak quantity.Flow) (time.Duration, quantity.Volume, error) {
	err := refuse(
		between("room volume", float64(room), "m³", 1, 1e5),
		between("oxygen leak", float64(leak), "m³/s", 1e-8, 1))
	if err != nil {
		return 0, 0, err
	}
	v := float64(room) * math.Log((1-oxygenOutdoor)/(1-oxygenLimit))
	s := v / float64(leak)
	if s > 3e9 { // about a century
		return 0, 0, &InputError{Quantity: "oxygen leak", value: amount{float64(leak), "m³/s"}, rule: "is too small for this room to time"}
	}
	return seconds(s), quantity.Volume(v), nil
}

// oxygenShare returns the oxygen content (fraction by volume) that a steady
// leak keeps up in a room with a steady supply of fresh air.
//
//	x = (0.209 Q + g) / (Q + g)
//
// Valid: airflow above zero, leak from zero up.
//
// Source: mass balance [derived; see figures_test.go].
//
// Checked: testdata/cases/safety-oxygen.toml
func oxygenShare(fresh, leak quantity.Flow) (float64, error) {
	err := refuse(above("airflow", float64(fresh), "m³/s", 100), between("oxygen leak", float64(leak), "m³/s", 0, 1))
	if err != nil {
		return 0, err
	}
	return (oxygenOutdoor*float64(fresh) + float64(leak)) / float64(fresh+leak), nil
}
