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
func NoiseTime(l quantity.Level) (time.Duration, error) { return noiseTime(l, 85, 3) }

// NoiseTimeOSHA returns the daily time at a sound level by the US law: 90 dBA
// for 8 hours, halved for every 5 dB more.
//
//	T = 8 h / 2^((L − 90)/5)
//
// Valid: 80 to 140 dBA.
//
// Source: osha-noise, in two study texts [corroborated].
//
// Checked: testdata/cases/safety-noise.toml
func NoiseTimeOSHA(l quantity.Level) (time.Duration, error) { return noiseTime(l, 90, 5) }

func noiseTime(l quantity.Level, base, exchange float64) (time.Duration, error) {
	if err := refuse(between("sound level", float64(l), "dBA", 80, 140)); err != nil {
		return 0, err
	}
	return seconds(8 * 3600 / math.Exp2((float64(l)-base)/exchange)), nil
}

// NoiseSum returns the level of several sounds together.
//
//	L = 10 log₁₀ Σ 10^(Lᵢ/10)
//
// Valid: at least one level, each from 0 to 160 dBA.
//
// Source: definition of the decibel [derived]; a printed example [verified].
//
// Checked: testdata/cases/safety-noise.toml
func NoiseSum(levels ...quantity.Level) (quantity.Level, error) {
	if len(levels) == 0 {
		return 0, &InputError{"sound levels", "none", "must be at least one"}
	}
	var sum float64
	for _, l := range levels {
		if err := refuse(between("sound level", float64(l), "dBA", 0, 160)); err != nil {
			return 0, err
		}
		sum += math.Pow(10, float64(l)/10)
	}
	return quantity.Level(10 * math.Log10(sum)), nil
}
