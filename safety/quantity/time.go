package quantity

import (
	"math"
	"time"

	"lehr/glass/unit"
)

// RoughTime rounds a time for a sentence: whole minutes, or five of them from
// an hour up.
func RoughTime(t time.Duration) string {
	step := time.Minute
	switch {
	case t >= time.Hour:
		step = 5 * time.Minute
	case t < 2*time.Minute:
		step = time.Second
	}
	return unit.FormatDuration(time.Duration(math.Floor(float64(t)/float64(step)+1e-9)) * step)
}
