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
// one ends the log.
//
// Errors: *[LogError].
func ReadLog(r io.Reader, name string, power unit.Power) (Log, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxLog+1))
	if err != nil {
		return Log{}, err
	}
	f := faults{name}
	if len(text) > maxLog {
		return Log{}, f.at(0, "", "is larger than %d MiB, the most that is read", maxLog>>20)
	}
	c := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
	c.TrimLeadingSpace = true
	if first, _, _ := bytes.Cut(text, []byte("\n")); bytes.Count(first, []byte(";")) > bytes.Count(first, []byte(",")) {
		c.Comma = ';'
	}
	head, err := c.Read()
	if err != nil {
		return Log{}, f.at(1, headingHint, "has no heading")
	}
	cols, err := f.columns(head, power)
	if err != nil {
		return Log{}, err
	}
	var l Log
	var before reading
	for {
		row, line, err := f.next(c)
		if err == io.EOF {
			break
		}
		if err != nil {
			return Log{}, err
		}
		now, err := f.reading(row, line, cols)
		if err != nil {
			return Log{}, err
		}
		switch past := now.seconds - before.seconds; {
		case l.Readings == 0:
			l.Timed, l.Start = cols.elapsed == 0, now.day
		case now.seconds <= before.seconds:
			return Log{}, f.at(line, "", "the time does not go on")
		case past > longestGap:
			return Log{}, f.at(line, "", "more than a week lies between two readings")
		default:
			l.Steps = append(l.Steps, Step{past, before.watts})
		}
		before = now
		l.Greatest = max(l.Greatest, now.watts)
		l.Readings++
	}
	if len(l.Steps) == 0 {
		return Log{}, f.at(0, "", "has not two readings")
	}
	return l, nil
}

const headingHint = "write a heading such as: time,power_W"

// faults tells what is wrong with the log of a name.
type faults struct{ name string }

func (f faults) at(line int, hint, format string, args ...any) error {
	return &LogError{f.name, line, fmt.Sprintf(format, args...), hint}
}

// columns is what the heading of a log says.
type columns struct {
	time, power int
	elapsed     float64 // [s] to one of the time column; 0 if it has times of the day
	scale       float64 // [W] to one of the power column
	percent     bool
}

// columns reads the heading.
func (f faults) columns(head []string, full unit.Power) (columns, error) {
	c := columns{time: -1, power: -1}
	for i, h := range head {
		u := lastWord(h)
		switch {
		case u == "kw" || u == "w" || u == "%" || u == "percent":
			if c.power >= 0 {
				return c, f.at(1, "leave one of them out", "has two columns of power")
			}
			c.power, c.percent = i, u == "%" || u == "percent"
			c.scale = map[string]float64{"kw": 1000, "w": 1}[u]
			if c.percent {
				if full <= 0 {
					return c, f.at(1, "write --power 1.8kW", "is in %% of full power, which is not given")
				}
				c.scale = full.Watts() / 100
			}
		case strings.HasPrefix(strings.ToLower(h), "time") || u == "s" || u == "min" || u == "h":
			if c.time >= 0 {
				return c, f.at(1, "leave one of them out", "has two columns of time")
			}
			c.time = i
			c.elapsed = map[string]float64{"s": 1, "min": 60, "h": 3600}[u]
		}
	}
	if c.time < 0 || c.power < 0 {
		return c, f.at(1, headingHint, "the heading %q names no time and power", strings.Join(head, ","))
	}
	return c, nil
}

// next returns the next row and its line, or io.EOF.
func (f faults) next(c *csv.Reader) (row []string, line int, err error) {
	row, err = c.Read()
	var bad *csv.ParseError
	switch {
	case errors.As(err, &bad) && errors.Is(err, csv.ErrFieldCount):
		return nil, 0, f.at(bad.Line, "", "has not as many fields as the heading")
	case errors.As(err, &bad):
		return nil, 0, f.at(bad.Line, "", "is no CSV: %s", bad.Err)
	case err != nil:
		return nil, 0, err
	}
	line, _ = c.FieldPos(0)
	return row, line, nil
}

// reading is one row of a log.
type reading struct {
	seconds float64
	day     unit.Clock // if the log has times of the day
	watts   float64
}

// reading reads a row.
func (f faults) reading(row []string, line int, c columns) (r reading, err error) {
	if text := row[c.time]; c.elapsed > 0 {
		x, err := strconv.ParseFloat(text, 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return r, f.at(line, "", "%s: is no time", text)
		}
		r.seconds = x * c.elapsed
	} else {
		t, err := time.Parse(time.RFC3339, text)
		if err != nil {
			return r, f.at(line, `write 2026-11-25T22:15:00-05:00, or elapsed minutes under the heading time_min`, "%s: is no time with its offset", text)
		}
		r.seconds, r.day = float64(t.UnixNano())/1e9, unit.ClockOf(t)
	}
	x, err := strconv.ParseFloat(row[c.power], 64)
	if err != nil || !(x >= 0 && x <= 1e9) {
		return r, f.at(line, "", "%s: is no power", row[c.power])
	}
	if c.percent && x > 100 {
		return r, f.at(line, "", "%s: is more than 100 %%", row[c.power])
	}
	r.watts = x * c.scale
	return r, nil
}

// lastWord is the unit of a heading: "power_W" and "power [W]" give "w".
func lastWord(h string) string {
	words := strings.FieldsFunc(strings.ToLower(h), func(r rune) bool { return strings.ContainsRune(" _[]()/", r) })
	if len(words) == 0 {
		return ""
	}
	return words[len(words)-1]
}
