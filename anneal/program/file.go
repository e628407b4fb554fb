package program

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"lehr/anneal/kiln"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

type segmentText struct {
	Purpose string         `toml:"purpose"`
	Rate    *unit.Rate     `toml:"rate"`
	Ramp    *unit.Duration `toml:"ramp"`
	Full    bool           `toml:"full"`
	Off     bool           `toml:"off"`
	To      *unit.Temp     `toml:"to"`
	Hold    *unit.Duration `toml:"hold"`
}

type scheduleText struct {
	Name    string        `toml:"name"`
	From    *unit.Temp    `toml:"from"`
	Segment []segmentText `toml:"segment"`
}

// Read reads a schedule file (see DEVELOPERS.md, files). The rate of a
// ramp is written positive or with its sign; its direction follows from the
// temperatures. Instead of a rate a ramp may say how long it takes, as some
// controllers are set: ramp = "114 min". Errors carry file and line.
func Read(r io.Reader, name string) (Schedule, error) {
	var t scheduleText
	f, err := strict.Decode(r, name, &t)
	if err != nil {
		return Schedule{}, err
	}
	if t.From == nil {
		return Schedule{}, f.HintErrorf([]string{"from"}, `write from = "560 °C", the temperature when the program begins`, "is missing")
	}
	s := Schedule{From: *t.From}
	at := s.From
	for i, seg := range t.Segment {
		key := func(k string) []string { return []string{"segment", fmt.Sprint(i), k} }
		out, err := seg.read(f, key, at, i == len(t.Segment)-1)
		if err != nil {
			return s, err
		}
		s.Segments = append(s.Segments, out)
		at = out.To
	}
	if err := s.Check(); err != nil {
		return s, f.Errorf(nil, "%w", err)
	}
	return s, nil
}

// read reads a segment that begins at a temperature.
func (seg segmentText) read(f *strict.File, key func(string) []string, at unit.Temp, last bool) (Segment, error) {
	out := Segment{Purpose: Purpose(seg.Purpose), To: at, Full: seg.Full || seg.Off, Off: seg.Off}
	if seg.To != nil {
		out.To = *seg.To
	}
	d := float64(out.To.Sub(at))
	if seg.Ramp != nil {
		rate, err := rampRate(seg, d)
		if err != nil {
			return out, f.HintErrorf(key("ramp"), `write ramp = "114 min" and to = "480 °C"`, "%w", err)
		}
		seg.Rate = &rate
	}
	switch {
	case seg.Rate != nil && seg.To == nil:
		return out, f.HintErrorf(key("rate"), `write to = "480 °C"`, "a rate without the temperature it goes to")
	case seg.Off && (d >= 0 || seg.Hold != nil || !last):
		return out, f.HintErrorf(key("off"), `write off = true and to = "45 °C" in the last segment, and nothing else`, "with the power off the kiln only falls, and nothing comes after")
	case seg.Rate == nil && d != 0 && !out.Full:
		return out, f.HintErrorf(key("to"), `write rate = "30 °C/h", or full = true for as fast as the kiln can`, "a temperature without the rate that leads there")
	case seg.Rate == nil && seg.Hold == nil && !out.Full:
		return out, f.HintErrorf(key("hold"), `write hold = "75 min", or rate and to`, "a segment without rate or hold")
	case seg.Rate != nil && *seg.Rate == 0 && d != 0:
		return out, f.Errorf(key("rate"), "%s: must not be zero", *seg.Rate)
	}
	if seg.Hold != nil {
		if out.Hold = seg.Hold.Std(); out.Hold < 0 {
			return out, f.Errorf(key("hold"), "must not be negative")
		}
	}
	if d != 0 && seg.Rate != nil {
		rate := *seg.Rate
		if float64(rate)*d < 0 && rate < 0 {
			return out, f.Errorf(key("rate"), "%s: cools, but the segment goes up to %s", unit.AsTyped(rate), unit.AsTyped(out.To))
		}
		out.Rate = unit.Rate(math.Copysign(math.Abs(float64(rate)), d))
	}
	if out.Purpose == "" {
		out.Purpose = purposeOf(d, out.Off)
	}
	return out, nil
}

// purposeOf is the purpose of a segment over d kelvin that says none.
func purposeOf(d float64, off bool) Purpose {
	switch {
	case off:
		return PurposeOff
	case d > 0:
		return PurposeHeat
	case d < 0:
		return PurposeCool
	}
	return PurposeHold
}

// rampRate is the rate of a ramp of d kelvin that is given by its length.
func rampRate(seg segmentText, d float64) (unit.Rate, error) {
	took := seg.Ramp.Std()
	switch {
	case seg.Rate != nil:
		return 0, fmt.Errorf("rate is given too; one says how fast the ramp is")
	case seg.Full || seg.Off:
		return 0, fmt.Errorf("the segment leaves the ramp to the kiln")
	case seg.To == nil || d == 0:
		return 0, fmt.Errorf("a ramp without another temperature that it goes to")
	case took <= 0:
		return 0, fmt.Errorf("%s: must be above 0", seg.Ramp)
	}
	return unit.Rate(d / took.Seconds()), nil
}

// WriteFor writes a schedule file that [Read] reads back to the same numbers, in
// the way a controller is keyed in: its units, and ramps in minutes where it
// takes those.
func WriteFor(w io.Writer, s Schedule, name string, c kiln.Controller) error {
	sys := c.Units
	_, err := fmt.Fprintf(w, "# written by lehr; verify it with: lehr verify THIS_FILE LOAD_FILE\n")
	if err == nil && name != "" {
		_, err = fmt.Fprintf(w, "name = %s\n", quoted(name))
	}
	if err == nil {
		_, err = fmt.Fprintf(w, "from = %q\n", exactTemp(s.From, sys))
	}
	at := s.From
	for _, seg := range s.Segments {
		if err == nil {
			_, err = fmt.Fprintf(w, "\n[[segment]]\npurpose = %s\n", quoted(string(seg.Purpose)))
		}
		if err == nil && seg.To.Sub(at) != 0 {
			switch m := math.Abs(float64(seg.To.Sub(at)) / float64(seg.Rate) / 60); {
			case seg.Rate == 0:
			case c.Minutes && !seg.Full && math.Abs(m-math.Round(m)) < 1e-6:
				_, err = fmt.Fprintf(w, "ramp = \"%.0f min\"\n", m)
			default:
				_, err = fmt.Fprintf(w, "rate = %q\n", exactRate(seg.Rate, sys))
			}
			if err == nil {
				_, err = fmt.Fprintf(w, "to   = %q\n", exactTemp(seg.To, sys))
			}
		}
		for _, mark := range []struct {
			word string
			on   bool
		}{{"full", seg.Full && !seg.Off}, {"off ", seg.Off}} {
			if err == nil && mark.on {
				_, err = fmt.Fprintf(w, "%s = true\n", mark.word)
			}
		}
		if err == nil && (seg.Hold > 0 || seg.To.Sub(at) == 0 && !seg.Full) {
			_, err = fmt.Fprintf(w, "hold = %q\n", unit.FormatDuration(seg.Hold))
		}
		at = seg.To
	}
	return err
}

// exactTemp and exactRate print controller numbers, whole in their own unit.
func exactTemp(t unit.Temp, sys unit.System) string {
	if sys == unit.US {
		return fmt.Sprintf("%g °F", round6(t.Fahrenheit()))
	}
	return fmt.Sprintf("%g °C", round6(t.Celsius()))
}

func exactRate(r unit.Rate, sys unit.System) string {
	if sys == unit.US {
		return fmt.Sprintf("%.9g °F/h", math.Abs(r.FahrenheitPerHour()))
	}
	return fmt.Sprintf("%.9g °C/h", math.Abs(r.KelvinPerHour()))
}

// quoted writes a basic string of TOML; what is no text becomes a space.
func quoted(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == utf8.RuneError {
			return ' '
		}
		return r
	}, s)
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}

func round6(x float64) float64 { return math.Round(x*1e6) / 1e6 }

// ScheduleKeys lists every key of a schedule file, those of a segment without
// its name. A test elsewhere holds help against it: what a file takes is known
// here alone.
func ScheduleKeys() []string {
	return slices.Concat(strict.Keys[scheduleText]("", "segment"), strict.Keys[segmentText](""))
}
