package nights

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/kilnlog"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// curve is the picture of the night: what the kiln did, what it was told, and the
// tension in the piece that comes nearest to a limit.
func (n *night) curve() (*picture.Curve, error) {
	nominal := report.Nominal{Verdict: nightWord(n), Begins: n.followed.Shift - n.from, Drawn: n.drawn}
	if n.program != "" {
		nominal.Name, nominal.As = n.program, n.nominal.Points()
	}
	if c, ok := n.log.Clock(n.from); ok {
		nominal.Clock = &c
	}
	return report.NewNightCurve(n.rep, nominal)
}

// otherDegrees is the error of a log that is far from a program and would fit it
// in the other scale; by the unit of a flag, or that of its header. instead is
// what to do if the log is right.
func otherDegrees(l *kilnlog.Log, s program.Schedule, name string, other kilnlog.Unit, byFlag bool, st kiln.Studio, instead string) error {
	hint := fmt.Sprintf("write %s into its header", other)
	if byFlag {
		hint = fmt.Sprintf("give --%s %s", kilnlog.OptTempUnit, strings.TrimPrefix(other.String(), "°"))
	}
	return term.WithHint(fmt.Errorf("%s: its hottest reading, %s, is far from the %s of %s, and would fit it in %s",
		l.Name, hottest(l).Text(st.Units), s.Hottest().Text(st.Units), name, other),
		fmt.Sprintf("%s if the log is in %s, or %s", hint, other, instead))
}

func hottest(l *kilnlog.Log) unit.Temp {
	return slices.MaxFunc(l.Readings, func(a, b kiln.Reading) int { return a.At.Compare(b.At) }).At
}

// wentIn is when the pieces went in: as told, or when the kiln was hot.
func (f *Flags) wentIn(l *kilnlog.Log, load *piece.Load) (time.Duration, error) {
	if f.in != "" {
		return f.toldIn(l)
	}
	if load.Into != piece.HotKiln {
		return 0, nil
	}
	low, cold := math.Inf(1), math.Inf(1)
	for _, p := range load.Pieces {
		if t, _, err := piece.SoakRange(p.Glass); err == nil {
			low = math.Min(low, t.Kelvin())
		}
		cold = math.Min(cold, piece.SetPoint(p.Glass).Kelvin())
	}
	if math.IsInf(low, 1) {
		return 0, nil
	}
	s, ok := l.Above(unit.Kelvin(low))
	if !ok {
		return 0, nil
	}
	for _, r := range l.Readings {
		if r.Time <= s.From && r.At.Kelvin() < cold {
			return s.From, nil // it was heated up first, empty
		}
	}
	return 0, nil
}

// toldIn reads --in: a time of day, or one since the first reading.
func (f *Flags) toldIn(l *kilnlog.Log) (time.Duration, error) {
	at, err := unit.ParseDuration(f.in)
	if clock, noClock := unit.ParseClock(f.in); noClock == nil {
		began, ok := l.Clock(0)
		if !ok {
			return 0, desk.Usagef(`give it since the first reading, such as --in "2 h"`, "verify: --in %s: the log tells no time of day", strict.Visible(f.in))
		}
		at = time.Duration(clock-began) * time.Minute
		if at < 0 {
			at += 24 * time.Hour
		}
	} else if err != nil || strings.Contains(f.in, ":") {
		return 0, desk.AsUsage("verify: --in", noClock)
	}
	if at < 0 {
		return 0, desk.Usagef("give a time within the log", "verify: --in %s: is before the first reading", strict.Visible(f.in))
	}
	if at >= l.Length()-time.Minute {
		return 0, desk.Usagef("give a time within the log", "verify: --in %s: is after the last reading, %s after the first", strict.Visible(f.in), unit.FormatDuration(l.Length().Round(time.Minute)))
	}
	return at, nil
}
