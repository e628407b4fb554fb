package words

import (
	"fmt"
	"strings"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kilnlog"
	"lehr/glass/unit"
)

// night says what is to be said of a night that was logged.
func (w Words) night(f finding.Finding) string {
	if f.Kind == finding.LogEndsHot {
		return "not judged beyond the last reading, " + w.temp(f.Temp)
	}
	return ""
}

// doorOpened says in a line what opening the hot kiln before the program did.
func (w Words) doorOpened(f finding.Finding) string {
	times, when := fmt.Sprintf("%.0f times", f.Number), "at the start"
	switch f.Number {
	case 1:
		times = "once"
	case 2:
		times = "twice"
	}
	if f.Bears > 0 {
		when = duration(f.Bears) + " before"
		if w.load.Start != nil {
			clock, _ := w.load.Start.Add(-f.Bears)
			when = "at " + clock.Text(w.sys)
		}
	}
	text := fmt.Sprintf("the kiln is opened %s before the program, %s each; the skin of a piece sees it fall by %s from %s (its probe reads %s): at most %s in %s, %s (limit %s)",
		times, duration(f.Time), w.delta(f.Delta), w.temp(f.Temp), w.temp(f.Limit), w.stress(f.Stress), w.name(f.Piece), when, w.stress(f.Most))
	if f.Stress > f.Most {
		text += "; how far a piece sees it fall counts, more than how long: open it less wide, or shield what lies in it"
	}
	return text
}

// Moment is a time of a log: of day where the log tells one, else since its first
// reading.
func (w Words) Moment(l *kilnlog.Log, at time.Duration) string {
	if c, ok := l.Clock(at); ok {
		return c.Text(w.sys)
	}
	if at < 30*time.Second {
		return "the first reading"
	}
	return duration(at.Round(time.Minute)) + " into the log"
}

// Read says in one sentence what was read of a log and what was left out.
func (w Words) Read(l *kilnlog.Log) string {
	a := &l.Account
	text := fmt.Sprintf("%s: %d of %d readings, from %s to %s, one every %s", l.Name, a.Kept(), a.Rows,
		w.Moment(l, 0), w.Moment(l, l.Length()), duration(a.Interval))
	if a.Means > 0 {
		text += fmt.Sprintf(" (%.0f an hour), taken in means of %s", float64(time.Hour)/float64(a.Interval), duration(a.Means))
	}
	if a.Step > 0 {
		text += ", in steps of " + w.delta(a.Step)
	}
	if len(a.Left) == 0 {
		text += "; nothing was left out"
	} else {
		var parts []string
		for _, x := range a.Left {
			parts = append(parts, w.leftOut(x))
		}
		text += "; left out: " + strings.Join(parts, ", ")
	}
	return text + w.gaps(l) + "."
}

// leftOut says what was left out for one reason.
func (w Words) leftOut(x kilnlog.Left) string {
	switch x.Reason {
	case kilnlog.Torn:
		return fmt.Sprintf("the torn last line %d", x.Line)
	case kilnlog.HeaderLine:
		return fmt.Sprintf("%d without readings (line %d)", x.Count, x.Line)
	}
	what := fmt.Sprintf("%d %s (line %d", x.Count, map[kilnlog.Reason]string{
		kilnlog.Missing: "missing", kilnlog.Impossible: "that cannot be true",
		kilnlog.Repeated: "repeated", kilnlog.OutOfOrder: "out of order by less than a minute"}[x.Reason], x.Line)
	if !x.Read.IsZero() {
		what += ": " + w.temp(x.Read)
	}
	return what + ")"
}

// gaps says where nothing was logged.
func (w Words) gaps(l *kilnlog.Log) string {
	a := &l.Account
	if a.GapCount == 0 {
		return ""
	}
	g := a.Gaps[0]
	text := fmt.Sprintf("nothing logged for %s from %s, %s to %s", duration(g.Length().Round(time.Minute)), w.Moment(l, g.From.Time), w.temp(g.From.At), w.temp(g.To.At))
	if a.GapCount > 1 {
		text = fmt.Sprintf("%d gaps, the longest: %s", a.GapCount, text)
	}
	return "; " + text
}

// Soak says how long the kiln was where a glass relaxes.
func (w Words) Soak(l *kilnlog.Log, s kilnlog.Soak, low unit.Temp, glass string) string {
	return fmt.Sprintf("at %s and above, where %s relaxes: %s, until %s; mean %s, from %s to %s",
		w.temp(low), glass, duration(s.Total.Round(time.Minute)), w.Moment(l, s.To), w.temp(s.Mean), w.temp(s.Low), w.temp(s.High))
}

// Passage says how the kiln went through the temperatures at which a glass sets.
func (w Words) Passage(l *kilnlog.Log, p kilnlog.Passage, high, low unit.Temp, glass string) string {
	x, u := p.Rate.Rate.In(w.sys)
	e, _ := p.Rate.Error.In(w.sys)
	text := fmt.Sprintf("down through %s to %s, where %s sets: %.1f ± %.1f %s from %s on, at most %s over half an hour",
		w.temp(high), w.temp(low), glass, x, max(e, 0.05), u, w.Moment(l, p.From), w.rate(p.Fastest.Rate))
	if p.Gap > 30*time.Minute {
		text += "; but nothing was logged for " + duration(p.Gap.Round(time.Minute)) + " of it"
	}
	return text
}

// Followed says how the kiln followed a program, a sentence each.
func (w Words) Followed(l *kilnlog.Log, f kilnlog.Followed, program string) []string {
	how := "by its first ramp"
	if !f.Aligned {
		how = "with the log, which shows no ramp to align by"
	}
	out := []string{fmt.Sprintf("%s began at %s (%s)", program, w.Moment(l, f.Shift), how)}
	apart := func(a kilnlog.Apart) string {
		return fmt.Sprintf("at %s: %s, told %s", w.Moment(l, a.At), w.temp(a.Read), w.temp(a.Nominal))
	}
	if f.Hottest.By() > 0 {
		out = append(out, fmt.Sprintf("furthest above it, by %s, %s", w.delta(f.Hottest.By()), apart(f.Hottest)))
	}
	if f.Coldest.By() < 0 {
		out = append(out, fmt.Sprintf("furthest below it, by %s, %s", w.delta(-f.Coldest.By()), apart(f.Coldest)))
	}
	late, early := kilnlog.Arrival{}, kilnlog.Arrival{}
	for _, a := range f.Arrivals {
		if a.Reached && a.Late > late.Late {
			late = a
		}
		if a.Reached && a.Late < early.Late {
			early = a
		}
	}
	if late.Late >= time.Minute {
		out = append(out, fmt.Sprintf("largest lag: %s reached %s late", w.temp(late.To), duration(late.Late.Round(time.Minute))))
	}
	if early.Late <= -time.Minute {
		out = append(out, fmt.Sprintf("largest lead: %s reached %s early", w.temp(early.To), duration((-early.Late).Round(time.Minute))))
	}
	if f.Left.Nominal.IsZero() {
		return append(out, "it never left the program for ten minutes by more than "+w.delta(5))
	}
	return append(out, "it left the program "+apart(f.Left))
}

// Natural says how a kiln falls by itself.
func (w Words) Natural(n kilnlog.Natural) string {
	return fmt.Sprintf("this kiln falls by itself with a time constant of %s ± %s, fitted to %d readings from %s down to %s",
		duration(n.Fall.TimeConstant.Round(time.Minute)), duration(max(n.Error, 30*time.Second).Round(time.Second*30)), n.Readings, w.temp(n.From.At), w.temp(n.To.At))
}

// GapDecides says that what nobody logged decides the verdict.
func (w Words) GapDecides(l *kilnlog.Log, g kilnlog.Gap) string {
	return fmt.Sprintf("nothing was logged from %s to %s, %s to %s", w.Moment(l, g.From.Time), w.Moment(l, g.To.Time), w.temp(g.From.At), w.temp(g.To.At))
}

// Way names a way through a gap.
func Way(x kilnlog.Way) string {
	return [...]string{kilnlog.Even: "evenly", kilnlog.HeldThenFell: "held, then fell", kilnlog.FellThenHeated: "fell, then heated"}[x]
}

// keepClosed says until when a kiln stays closed that would be opened too hot.
func (w Words) keepClosed(f finding.Finding) string {
	switch {
	case f.Temp.IsZero() && f.Limit.IsZero():
		return "keep the kiln closed until it is as cool as the room: " + w.name(f.Piece) + " may crack or have cracked, and can burst at the opening"
	case f.Temp.IsZero():
		return fmt.Sprintf("keep the kiln closed until it is as cool as the room: opening it exceeds a limit at every reading computed, down to %s", w.temp(f.Limit))
	}
	return fmt.Sprintf("keep the kiln closed until it reads %s, %s: the highest round reading at which opening it keeps every limit; %s",
		w.temp(f.Temp), AfterEnd(f), w.fields.giveOpening())
}

// AfterEnd says how long after the program a kiln reads that at which it may be opened.
func AfterEnd(f finding.Finding) string {
	about := ""
	if !f.Yes { // nobody has measured this kiln
		about = "about "
	}
	return about + duration(f.Time) + " after the program"
}

// Closed says until when a kiln stays closed that would be opened too hot, for the
// line that a person acts by: of says a temperature.
func Closed(f finding.Finding, of func(unit.Temp) string) string {
	if f.Temp.IsZero() {
		return "until it is as cool as the room"
	}
	return "until it reads " + of(f.Temp)
}
