package report

import (
	"fmt"
	"math"
	"strings"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"

	"lehr/glass/unit"
)

// ShowProgram prints what is keyed in, in the controller's own unit.
func (v *View) ShowProgram(rep *verify.Report) error {
	c := rep.Studio.Controller
	u := c.Units
	deg := "°C"
	if u == unit.US {
		deg = "°F"
	}
	rate := "rate " + deg + "/h"
	if c.Minutes {
		rate = "ramp min"
	}
	waits := ""
	if rep.Notes.Has(finding.WaitsAt) {
		waits = ", where finished pieces wait (holding in [kiln])"
	}
	v.Lead(term.Bold, "Program", " ", "begins at "+rep.Schedule.From.Text(u)+waits)
	cols := []term.Column{term.NumberColumn("#"), term.TextColumn("what"), term.NumberColumn(rate), term.NumberColumn("to " + deg), term.NumberColumn("hold h:min"), term.NumberColumn("takes h:min"), term.NumberColumn("ends")}
	var rows [][]string
	for i, seg := range rep.Schedule.Segments {
		to, _ := seg.To.In(u)
		rows = append(rows, []string{fmt.Sprint(i + 1), PurposeText(rep, i), RateText(rep, i), term.Whole(to), HourMin(seg.Hold),
			TakesText(rep, i), ClockText(rep, rep.Actual.Spans[i].End)})
	}
	if err := v.Table(cols, rows); err != nil {
		return err
	}
	notes := powerNotes(rep)
	if v.Why { // the word says itself what it means
		notes = ProgramNotes(rep)
	}
	for _, s := range notes {
		v.Prose(0, s)
	}
	if f, ok := rep.Notes.Find(finding.SoakRoom); ok {
		v.Prose(0, words.About(rep).SoakRoom(f))
	}
	return nil
}

// PurposeText is what a segment is for; one that heats finished work to its soak
// does both.
func PurposeText(rep *verify.Report, i int) string {
	seg := rep.Schedule.Segments[i]
	if seg.Purpose == program.PurposeSoak && rep.Nominal.Spans[i].From.Less(seg.To) {
		return "heat, then soak"
	}
	return string(seg.Purpose)
}

// ProgramNotes says below the table of a program what is not keyed in.
func ProgramNotes(rep *verify.Report) []string {
	for i := range rep.Schedule.Segments {
		if isThere(rep, i) {
			return append([]string{"any rate: the kiln is there already."}, powerNotes(rep)...)
		}
	}
	return powerNotes(rep)
}

// powerNotes says where the power goes off, and which rates are no whole degrees.
func powerNotes(rep *verify.Report) (out []string) {
	for i, seg := range rep.Schedule.Segments {
		if seg.Off {
			text := "Power off at " + ClockText(rep, rep.Actual.Spans[i].Start)
			if i > 0 {
				text += fmt.Sprintf(", when segment %d ends", i)
			}
			out = append(out, text+fmt.Sprintf(": nothing is keyed in for %d.", i+1))
		}
	}
	if text := notWhole(rep); text != "" {
		out = append(out, text)
	}
	return out
}

// notWhole says what to key in for rates of a program that are no whole degrees of
// the controller, "" where all are.
func notWhole(rep *verify.Report) string {
	c := rep.Studio.Controller
	if c.Minutes || rep.Replayed {
		return ""
	}
	var keyed []string
	for i, seg := range rep.Schedule.Segments {
		rate, err := c.Rate(seg.Rate)
		if seg.Full || seg.Off || seg.Rate == 0 || err != nil || math.Abs(float64(rate/seg.Rate)-1) < 1e-6 {
			continue
		}
		x, _ := rate.In(c.Units)
		keyed = append(keyed, fmt.Sprintf("%s for %s in segment %d", term.Short(math.Abs(x)), RateText(rep, i), i+1))
	}
	if len(keyed) == 0 {
		return ""
	}
	_, deg := unit.Kelvin(300).In(c.Units)
	return fmt.Sprintf("Where whole %s/h are keyed in: %s, which is slower than what was computed.", deg, strings.Join(keyed, ", "))
}

// RateText is the ramp of a segment as the controller wants it.
func RateText(rep *verify.Report, i int) string {
	seg, c := rep.Schedule.Segments[i], rep.Studio.Controller
	span := rep.Nominal.Spans[i]
	switch {
	case seg.To.Sub(span.From) == 0 && c.FullWord != "":
		return c.FullWord
	case isThere(rep, i):
		return "any"
	case seg.Off:
		return "off"
	case seg.Full && c.FullWord != "":
		return c.FullWord
	case c.Minutes:
		m, _ := c.RampMinutes(span.From, seg.To, seg.Rate)
		return fmt.Sprint(m)
	}
	x, _ := seg.Rate.In(c.Units)
	return term.Short(math.Abs(x))
}

// isThere reports whether a segment has no ramp and the controller no word for that.
func isThere(rep *verify.Report, i int) bool {
	return rep.Schedule.Segments[i].To.Sub(rep.Nominal.Spans[i].From) == 0 && rep.Studio.Controller.FullWord == ""
}

// HourMin writes a duration as controllers do, rounded up to the minute.
func HourMin(d time.Duration) string {
	m := int(unit.WholeMinutes(d).Minutes())
	if m == 0 {
		return "-"
	}
	return fmt.Sprintf("%d:%02d", m/60, m%60)
}

// TakesText is how long a segment takes: from one of the whole minutes at which
// segments end to the next, so that they add up.
func TakesText(rep *verify.Report, i int) string {
	whole := func(s float64) time.Duration { return unit.WholeMinutes(unit.Seconds(s)) }
	span := rep.Actual.Spans[i]
	return HourMin(whole(span.End) - whole(span.Start))
}

// ClockText is the clock time at a moment of the program, or the time since its
// start when the load has none.
func ClockText(rep *verify.Report, at float64) string {
	if rep.Load.Start == nil {
		return "+" + HourMin(unit.Seconds(at))
	}
	end, days := clockAt(rep, at)
	text := end.Text(rep.Studio.Units)
	if days > 0 {
		text += fmt.Sprintf(" +%dd", days)
	}
	return text
}

// clockAt is the time of day, and of which day, at a moment of a program whose load
// says when it starts.
func clockAt(rep *verify.Report, at float64) (clock unit.Clock, days int) {
	return rep.Load.Start.Add(unit.WholeMinutes(unit.Seconds(at)))
}
