package picture

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"lehr/glass/unit"
)

// minuteSteps are the distances between marks of the time axis [min].
var minuteSteps = []int{5, 10, 15, 30, 60, 120, 180, 240, 360, 720, 1440, 2 * 1440, 5 * 1440, 10 * 1440, 20 * 1440, 50 * 1440, 100 * 1440}

// timeTick is one mark of the time axis.
type timeTick struct {
	at    float64 // [s]
	label string  // "02:00", "2 am", "+1d"
	day   string  // under it, at the first mark of a later day
}

// timeTicks returns marks at round times, as many as fit when a label and its
// gap take the share of the axis that room gives.
func (c *Curve) timeTicks(room float64) []timeTick {
	minutes := c.Length / 60
	step := minuteSteps[len(minuteSteps)-1]
	for _, s := range minuteSteps {
		if minutes/float64(s) <= 1/room {
			step = s
			break
		}
	}
	offset := 0
	if c.Start != nil {
		offset = int(*c.Start)
	}
	var ticks []timeTick
	first := (offset + step - 1) / step * step
	if c.Start == nil {
		first = 0
	}
	today := 0
	for m := first; float64(m-offset) <= minutes+1e-9; m += step {
		t := timeTick{at: float64(m-offset) * 60}
		days := m / 1440
		switch {
		case c.Start == nil && step >= 1440:
			t.label = strconv.Itoa(days) + " d"
		case c.Start == nil:
			t.label = fmt.Sprintf("%d:%02d", m/60, m%60)
		case step >= 1440:
			t.label = fmt.Sprintf("+%dd", days)
		default:
			clock, _ := unit.Clock(0).Add(time.Duration(m%1440) * time.Minute)
			t.label = strings.Replace(clock.Text(c.System), ":00 ", " ", 1)
			if days > today {
				t.day = fmt.Sprintf("+%dd", days)
			}
		}
		today = days
		ticks = append(ticks, t)
	}
	return ticks
}

// timeTitle names the time axis.
func (c *Curve) timeTitle() string {
	switch {
	case c.Start != nil && c.Length > 86400:
		return "clock time, days since the start"
	case c.Start != nil:
		return "clock time"
	case c.Length > 4*86400:
		return "days since the start"
	}
	return "hours since the start"
}

// valueTicks returns round values from 0 or low to high, at most most of them.
func valueTicks(low, high float64, most int) []float64 {
	step := niceStep((high - low) / float64(most))
	var out []float64
	for i := math.Ceil(low/step - 1e-9); i*step <= high*(1+1e-9); i++ {
		out = append(out, i*step)
	}
	return out
}

// niceStep returns the smallest of 1, 2, 5 times a power of ten that is at
// least x.
func niceStep(x float64) float64 {
	if !(x > 0) {
		return 1
	}
	p := math.Pow(10, math.Floor(math.Log10(x)))
	for _, n := range []float64{1, 2, 5} {
		if n*p >= x*(1-1e-9) {
			return n * p
		}
	}
	return 10 * p
}

// valueLabel writes a value of an axis with the decimals its step needs.
func valueLabel(x, step float64) string {
	places := max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
	return strconv.FormatFloat(x+0, 'f', places, 64)
}
