package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

const day = 24 * time.Hour

// maxDuration is the longest time ParseDuration reads.
const (
	maxDuration   = 400 * day
	aboveDuration = "is above 400 days"
)

// Duration is a [time.Duration] that reads and writes itself, for files and
// command-line flags.
type Duration time.Duration

// Std returns the same length of time as the type of the standard library.
func (d Duration) Std() time.Duration { return time.Duration(d) }

// Text returns FormatDuration; it is the same in both systems.
func (d Duration) Text(System) string { return FormatDuration(time.Duration(d)) }

// String returns FormatDuration.
func (d Duration) String() string { return FormatDuration(time.Duration(d)) }

// MarshalText returns String.
func (d Duration) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what ParseDuration reads.
func (d *Duration) UnmarshalText(text []byte) error {
	return parsed((*time.Duration)(d), text, ParseDuration)
}

// Set reads the value of a command-line flag.
func (d *Duration) Set(text string) error { return d.UnmarshalText([]byte(text)) }

// Type names the value in the help of a flag.
func (d Duration) Type() string { return "duration" }

var duration = quantity{"time", "min", "h", [2]string{"75 min", "1 h 15 min"}, 0, 9000,
	func(u string) bool { return timeUnit(u) > 0 && timeUnit(u) < day }}

// timeUnit returns the time a unit names, or 0.
func timeUnit(u string) time.Duration {
	switch strings.ToLower(u) {
	case "d", "day", "days":
		return day
	case "h", "hr", "hr.", "hrs", "hour", "hours":
		return time.Hour
	case "m", "min", "min.", "mins", "minute", "minutes":
		return time.Minute
	case "s", "sec", "sec.", "secs", "second", "seconds":
		return time.Second
	}
	return 0
}

// ParseDuration reads a length of time: "75 min", "3h", "1h30m",
// "1 h 30 min", "90 s", "2 d", or "1:30" and "1:30:00", which are hours,
// minutes and seconds. Here m is a minute. Several units stand from the
// largest to the smallest; only the last number may have decimals.
//
// Errors: *ParseError for a missing or unknown unit, a negative time, units
// out of order, above 400 days, and what every parser refuses.
func ParseDuration(s string) (time.Duration, error) {
	text, err := duration.clean(s)
	if err != nil {
		return 0, err
	}
	if strings.Contains(text, ":") {
		return colonDuration(s, text)
	}
	var total time.Duration
	last := 1000 * day
	whole := true
	for rest := text; rest != ""; {
		n, lit, tail, err := duration.number(s, rest)
		if err != nil {
			return 0, err
		}
		if strings.HasPrefix(lit, "-") {
			return 0, duration.fail(s, "is negative", -n, lit[1:])
		}
		end := strings.IndexAny(tail, "0123456789+-")
		if end < 0 {
			end = len(tail)
		}
		word := strings.TrimSpace(tail[:end])
		size := timeUnit(word)
		switch {
		case word == "" && rest == text && end == len(tail):
			return 0, duration.bare(s, n, lit)
		case word == "" && end == len(tail):
			e := duration.fail(s, "has no unit at its end", 0, "")
			size, name := nextUnit(last)
			if whole && size > 0 && float64(total)+n*float64(size) <= float64(maxDuration) && len(text) <= shownInput {
				before := strings.TrimSpace(text[:len(text)-len(rest)])
				e.Hints = []string{before + " " + lit + " " + name}
			}
			return 0, e
		case size == 0:
			return 0, duration.unknown(s, word, n, lit)
		case size >= last:
			return 0, duration.fail(s, "has its units out of order", 0, "")
		case !whole:
			return 0, duration.fail(s, "has decimals before its last unit", 0, "")
		}
		part, err := duration.limit(s, n*float64(size), 0, float64(maxDuration), "is negative", aboveDuration)
		if err != nil {
			return 0, err
		}
		total += time.Duration(math.Round(part)) // in whole ns, so that no digit is lost
		last, whole, rest = size, n == math.Trunc(n), tail[end:]
	}
	if total > maxDuration {
		return 0, duration.fail(s, aboveDuration, 0, "")
	}
	return total, nil
}

// nextUnit is the unit likely forgotten behind a number that follows last.
func nextUnit(last time.Duration) (time.Duration, string) {
	switch last {
	case day:
		return time.Hour, "h"
	case time.Hour:
		return time.Minute, "min"
	case time.Minute:
		return time.Second, "s"
	}
	return 0, ""
}

// colonDuration reads h:mm and h:mm:ss.
func colonDuration(input, text string) (time.Duration, error) {
	bad := func(reason string) (time.Duration, error) {
		e := duration.fail(input, reason, 0, "")
		e.Hints = []string{"1:30", "1 h 30 min"}
		return 0, e
	}
	parts := strings.Split(text, ":")
	if len(parts) > 3 {
		return bad("is not hours:minutes")
	}
	var total time.Duration
	size := time.Hour
	for i, p := range parts {
		if p == "" || digits(p) != p || len(p) > 4 || i > 0 && len(p) != 2 {
			return bad("is not hours:minutes")
		}
		n, _ := strconv.Atoi(p)
		if i > 0 && n > 59 {
			return bad(fmt.Sprintf("has %d behind a colon, at most 59", n))
		}
		total += time.Duration(n) * size
		size /= 60
	}
	if total > maxDuration {
		return 0, duration.fail(input, aboveDuration, 0, "")
	}
	return total, nil
}

// FormatDuration writes a length of time in days, hours, minutes and seconds,
// without those that are zero: "1 h 30 min", "45 min", "20 s", "3 d 4 h",
// and "0 min". Up to 400 days ParseDuration reads back the same time; a
// negative time has a minus sign, which it refuses.
func FormatDuration(d time.Duration) string {
	if d == 0 {
		return "0 min"
	}
	sign, left := "", uint64(d)
	if d < 0 {
		sign, left = "-", -left
	}
	var parts []string
	for _, u := range []struct {
		size time.Duration
		name string
	}{{day, "d"}, {time.Hour, "h"}, {time.Minute, "min"}} {
		if n := left / uint64(u.size); n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, u.name))
			left %= uint64(u.size)
		}
	}
	if left > 0 {
		s := fmt.Sprintf("%d.%09d", left/uint64(time.Second), left%uint64(time.Second))
		parts = append(parts, trimZeros(s)+" s")
	}
	return sign + strings.Join(parts, " ")
}

// WholeMinutes rounds up to whole minutes, so that an end is never announced
// early.
func WholeMinutes(d time.Duration) time.Duration {
	return time.Duration(math.Ceil(d.Minutes()-1e-9)) * time.Minute
}

// Seconds returns a duration, at most the longest there is.
func Seconds(s float64) time.Duration {
	if s >= math.MaxInt64/float64(time.Second) {
		return math.MaxInt64
	}
	return time.Duration(s * float64(time.Second))
}
