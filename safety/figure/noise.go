package figure

import (
	"math"
	"time"

	"lehr/safety/quantity"
)

// NoiseTime returns the daily time at a sound level by the stricter rule:
// 85 dBA for 8 hours, halved for every 3 dB more.
//
//	T = 8 h / 2^((L − 85)/3)
//
// Valid: 80 to 140 dBA.
//
// Source: acgih-noise, in two study texts [corroborated].
//
// Checked: testdata/cases/safety-noise.toml
func NoiseTime(l quantity.Level) (time.Duration, error) {
	if err := refuse(between("sound level", float64(l), "dBA", 80, 140)); err != nil {
		return 0, err
	}
	return seconds(8 * 3600 / math.Exp2((float64(l)-85)/3)), nil
}
