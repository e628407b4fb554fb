package cost

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"lehr/glass/unit"
)

// maxLog is the largest log that is read.
const maxLog = 32 << 20

// longestGap is the longest time between two readings [s].
const longestGap = 7 * 24 * 3600

// Log is what a logger of power has written.
type Log struct {
	Steps    []Step
	Start    unit.Clock // of the day; only if Timed
	Timed    bool       // the log has times of the day, not only elapsed ones
	Readings int
	Greatest float64 // [W]
}

// Seconds returns how long the log is.
func (l Log) Seconds() (sum float64) {
	for _, s := range l.Steps {
		sum += s.Seconds
	}
	return sum
}

// LogError is a log that cannot be read, at a line if that is above zero.
type LogError struct {
	Name   string
	Line   int
	Reason string
	hint   string
}

func (e *LogError) Error() string {
	if e.Line == 0 {
		return e.Name + ": " + e.Reason
	}
	return fmt.Sprintf("%s:%d: %s", e.Name, e.Line, e.Reason)
}

// Hint returns one thing to do.
func (e *LogError) Hint() string { return e.hint }

// ReadLog reads a CSV of power against time. The heading names the columns:
// time (RFC 3339, or elapsed as s, min or h) and power (W, kW, or % of full
// power, for which power is given). A reading holds until the next; the last
// one ends the log. Its branches are the faults of a row, each told with its
// line.
//
// Errors: *[LogError].
func ReadLog(r io.Reader, name string, power unit.Power) (Log, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxLog+1))
	fail := func(line int, hint, format string, args ...any) (Log, error) {
		return Log{}, &LogError{name, line, fmt.Sprintf(format, args...), hint}
	}
	if err != nil {
		return Log{}, err
	}
	if len(text) > maxLog {
		return fail(0, "", "is larger than %d MiB, the most that is read", maxLog>>20)
	}
	c := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
	c.TrimLeadingSpace = true
	if first, _, _ := bytes.Cut(text, []byte("\n")); bytes.Count(first, []byte(";")) > bytes.Count(first, []byte(",")) {
		c.Comma = ';'
	}
	const hint = "write a heading such as: time,power_W"
	head, err := c.Read()
	if err != nil {
		return fail(1, hint, "has no heading")
	}
	at, col, scale, elapsed := -1, -1, 0.0, 0.0
	for i, h := range head {
		u := lastWord(h)
		switch {
		case u == "kw" || u == "w" || u == "%" || u == "percent":
			if col >= 0 {
				return fail(1, "leave one of them out", "has two columns of power")
			}
			col = i
			switch u {
			case "kw":
				scale = 1000
			case "w":
				scale = 1
			default:
				if power <= 0 {
					return fail(1, "write --power 1.8kW", "is in %% of full power, which is not given")
				}
				scale = power.Watts() / 100
			}
		case strings.HasPrefix(strings.ToLower(h), "time") || u == "s" || u == "min" || u == "h":
			if at >= 0 {
				return fail(1, "leave one of them out", "has two columns of time")
			}
			at = i
			elapsed = map[string]float64{"s": 1, "min": 60, "h": 3600}[u]
		}
	}
	if at < 0 || col < 0 {
		return fail(1, hint, "the heading %q names no time and power", strings.Join(head, ","))
	}
	var l Log
	var before, watts float64
	for {
		row, err := c.Read()
		if err == io.EOF {
			break
		}
		var bad *csv.ParseError
		switch {
		case errors.As(err, &bad) && errors.Is(err, csv.ErrFieldCount):
			return fail(bad.Line, "", "has not as many fields as the heading")
		case errors.As(err, &bad):
			return fail(bad.Line, "", "is no CSV: %s", bad.Err)
		case err != nil:
			return Log{}, err
		}
		line, _ := c.FieldPos(0)
		var now float64
		if elapsed > 0 {
			x, err := strconv.ParseFloat(row[at], 64)
			if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
				return fail(line, "", "%s: is no time", row[at])
			}
			now = x * elapsed
		} else {
			t, err := time.Parse(time.RFC3339, row[at])
			if err != nil {
				return fail(line, `write 2026-11-25T22:15:00-05:00, or elapsed minutes under the heading time_min`, "%s: is no time with its offset", row[at])
			}
			now = float64(t.UnixNano()) / 1e9
			if l.Readings == 0 {
				l.Timed, l.Start = true, unit.Clock(t.Hour()*60+t.Minute())
			}
		}
		x, err := strconv.ParseFloat(row[col], 64)
		if err != nil || !(x >= 0 && x <= 1e9) {
			return fail(line, "", "%s: is no power", row[col])
		}
		if scale != 1 && scale != 1000 && x > 100 {
			return fail(line, "", "%s: is more than 100 %%", row[col])
		}
		if l.Readings > 0 {
			if now <= before {
				return fail(line, "", "the time does not go on")
			}
			if now-before > longestGap {
				return fail(line, "", "more than a week lies between two readings")
			}
			l.Steps = append(l.Steps, Step{now - before, watts})
		}
		before, watts = now, x*scale
		l.Greatest = max(l.Greatest, watts)
		l.Readings++
	}
	if len(l.Steps) == 0 {
		return fail(0, "", "has not two readings")
	}
	return l, nil
}

// lastWord is the unit of a heading: "power_W" and "power [W]" give "w".
func lastWord(h string) string {
	words := strings.FieldsFunc(strings.ToLower(h), func(r rune) bool { return strings.ContainsRune(" _[]()/", r) })
	if len(words) == 0 {
		return ""
	}
	return words[len(words)-1]
}
