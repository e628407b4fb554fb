package nights

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/outage"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/rescue"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/sharing"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

// programOf is a way as a report of a program; a kiln that is left to fall is one
// that is off.
func programOf(w outage.Way, load *piece.Load, c powerCase) *verify.Report {
	rep := *w.Report
	rep.Studio = c.Nights[0].Studio
	k := rep.Studio.Kiln
	s := w.Schedule
	if len(s.Segments) == 0 {
		to := rep.Studio.Opening
		if c.Found().Less(to) { // it only falls
			to = c.Found()
		}
		s = program.Schedule{From: c.Found(), Segments: []program.Segment{{Purpose: program.PurposeFinal, To: to, Off: true, Full: true, Rate: -k.Fall.Rate(c.Found())}}}
	}
	rep.Load, rep.Schedule, rep.Replayed = load, s, false
	rep.Actual, rep.Nominal = s.As(&k), s.Followed(rep.Studio)
	rep.Notes = slices.DeleteFunc(slices.Clone(rep.Notes), func(f finding.Finding) bool { return f.Kind == finding.LastEven }) // before the power failed
	rep.Kilns = nil
	if w.Latest > w.Earliest || w.Opens.Latest > w.Opens.Earliest { // nobody measured it, and two readings do not
		quick, slow := k.Fall.TimeConstant, k.Fall.TimeConstant
		for _, n := range c.Nights {
			quick, slow = min(quick, n.Studio.Kiln.Fall.TimeConstant), max(slow, n.Studio.Kiln.Fall.TimeConstant)
		}
		rep.Kilns = []verify.InKiln{{TimeConstant: quick, Verdict: rep.Verdict(), Total: w.Earliest}, {TimeConstant: slow, Verdict: rep.Verdict(), Total: w.Latest}}
	}
	return &rep
}

// showOutage prints what to do: the advice, the ways, the program of the first, when
// to open the kiln and what to look at before leaving it.
func showOutage(a *desk.App, c powerCase, x *outage.Answer, next *verify.Report, keyed bool) error {
	sys := c.studio.Units
	first := x.Ways[0]
	say := words.About(next)
	style := term.Good
	if !x.Keeps() {
		style = term.Bad
	}
	head := term.Capital(words.WayOn(first.Way))
	if x.Advice.AtOnce && first.Way == rescue.SoakAgain && !first.BreaksNow() {
		head = "At once: " + words.WayOn(first.Way)
	}
	word, numbers := report.VerdictText(first.Report)
	if over := overNames(first.Report); over != "" {
		a.Lead(style, head, "", ": "+word+": "+over+".")
		a.Prose(0, term.Capital(numbers)+".")
	} else {
		a.Lead(style, head, "", ": "+word+", "+numbers+".")
	}
	for _, s := range c.checkHour(sys) {
		a.Prose(0, s)
	}
	a.Prose(0, term.Capital(words.About(first.Report).Outage(x.Advice.Case, x.Glass.Name, c.Failed, c.Found()))+".")
	if c.Load.Into == piece.ColdKiln && !c.Rising && !c.Logged && (c.long == 0 || c.Load.Start == nil) {
		a.Prose(0, words.AfterSoak)
	}
	for _, s := range c.lengthText(sys, nil) {
		a.Prose(0, s)
	}
	if x.Advice.StopController {
		a.Prose(0, words.StopController)
	}
	if !keyed {
		a.Prose(0, words.StayOff)
	}
	for _, p := range x.Past.Pieces {
		if p.Tension.Use > 1 {
			a.Prose(0, p.Piece.What+" has been over its limit of tension already, "+report.BearsText(p.Tension, sys)+". "+words.LookForCracks(untilText(next, c.studio.Opening)))
		}
	}
	if !x.Keeps() {
		a.Prose(0, whyFirst(x, next))
	}
	if err := showApart(a, c, x); err != nil {
		return err
	}
	a.Print("\n")
	if err := outageWays(a, x, sys); err != nil {
		return err
	}
	for _, w := range x.Ways {
		if w.Way == rescue.SoakAgain && w.BreaksNow() && w.Rate > 0 {
			a.Item("- ", say.NoRate(w.Gentlest))
		}
		opened, named := openedText(w)
		for i, p := range w.Report.Pieces {
			if len(p.Over) > 0 && !(i == named && onlyOpened(p)) {
				a.Item("- ", words.WayOn(w.Way)+": "+p.Piece.What+": "+report.OverText(w.Report, p))
			}
		}
		if opened != "" {
			a.Item("- ", words.WayOn(w.Way)+": "+opened)
		}
	}
	a.Print("\n")
	if keyed {
		if err := a.View().ShowProgram(next); err != nil {
			return err
		}
		a.Print("\n")
	}
	a.Prose(0, openText(first, next, c.studio.Opening)+hotText(next))
	assumed := outageAssumed(c)
	if a.Why {
		assumed = append(assumed, words.About(first.Report).Assumed(first.Report.Assumptions)...)
	}
	a.List("Assumed", assumed)
	if a.Why {
		a.List("Sources", words.Sources(first.Report.Sources))
	}
	return a.View().ShowLeaving(next, keyed)
}

// overNames names what a report exceeds, piece by piece.
func overNames(rep *verify.Report) string {
	var out []string
	for _, p := range rep.Pieces {
		if len(p.Over) > 0 {
			out = append(out, p.Piece.What+": "+words.About(rep).OverBrief(p.Over))
		}
	}
	return strings.Join(out, "; ")
}

// checkHour says where what was read is not what the program reads at that hour.
func (c powerCase) checkHour(sys unit.System) []string {
	if c.other == nil {
		return nil
	}
	at, _ := c.Load.Start.Add(c.other.Ran)
	return []string{words.AboutLoad(c.Load, sys).OtherReading(c.other.Reads, c.Failed, at)}
}

// lengthText says how long the power was off, and doubts it where no kiln falls so.
func (c powerCase) lengthText(sys unit.System, of words.Fields) []string {
	say := words.AboutLoad(c.Load, sys).For(of)
	if c.long == 0 {
		shortest, longest := time.Duration(math.MaxInt64), time.Duration(0)
		for _, n := range c.Nights {
			d := n.Studio.Kiln.Fall.Alone(c.Failed, c.Found())
			shortest, longest = min(shortest, d), max(longest, d)
		}
		if c.Logged || longest < time.Minute {
			return nil
		}
		return []string{say.OffBetween(shortest, longest)}
	}
	out := []string{say.OffFor(c.long, c.from, c.to, c.late, c.days)}
	if tau, ok := c.fell(); ok && (tau < oddFall || tau > 12*time.Hour) {
		out = append(out, say.OddFall(tau))
	}
	return out
}

// oddFall is the time constant under which a kiln was hardly closed.
const oddFall = 45 * time.Minute

// fell is the time constant by which the kiln fell without power, where the hours
// are known and it fell far enough to tell.
func (c powerCase) fell() (time.Duration, bool) {
	if c.long == 0 || c.Failed.Sub(c.Found()) < 20 || !c.studio.Kiln.Fall.Room.Less(c.Found()) {
		return 0, false
	}
	return kiln.FallBetween(c.studio.Kiln.Fall.Room, c.Failed, c.Found(), c.long).TimeConstant, true
}

// nearest are the tension and what is left, each of the piece nearest to its limit.
func nearest(rep *verify.Report) (tension, left verify.Tension) {
	for _, p := range rep.Pieces {
		tension = report.Nearer(tension, p.Tension)
		if p.ResidualJudged {
			left = report.Nearer(left, p.ResidualTension)
		}
	}
	return tension, left
}

// outageWays prints the three ways beside each other.
func outageWays(a *desk.App, x *outage.Answer, sys unit.System) error {
	_, u := unit.Stress(0).In(sys)
	cols := []term.Column{term.LongColumn("way"), term.TextColumn("takes\nh:min"), term.NumberColumn("tension\n" + u), term.NumberColumn("% of\nlimit"), term.NumberColumn("locked in\n" + u), term.NumberColumn("% of\nlimit"), term.LongColumn("verdict")}
	var rows [][]string
	for _, w := range x.Ways {
		tension, left := nearest(w.Report)
		name, verdict := words.WayOn(w.Way), words.Verdict(w.Report.Verdict())
		if w.Way == rescue.SoakAgain && w.Rate > 0 {
			name += ", at " + w.Rate.Text(sys)
		}
		if w.Ruled {
			verdict = "ruled out"
		}
		takes := report.HourMin(w.Lasts)
		if w.Latest-w.Earliest >= 10*time.Minute {
			takes = report.HourMin(w.Earliest) + " to " + report.HourMin(w.Latest)
		}
		rows = append(rows, []string{name, takes, report.StressCell(max(tension.Worst, 0), sys), report.Used(tension), report.StressCell(max(left.Worst, 0), sys), report.Used(left), verdict})
	}
	return a.Table(cols, rows)
}

// outageAssumed is what the answer rests on beside its report.
func outageAssumed(c powerCase) []string {
	whose := "the program of this load"
	if c.apart != nil {
		whose = "the best single program for this load"
	}
	out := []string{"stresses are those of the past and of the way together; the kiln stays closed, and until the power failed it did what " + whose + " says"}
	if c.other != nil {
		out[0] += ", up to where that reads what you read, whatever the hour"
	}
	if c.Logged {
		out[0] = "stresses are those of the past, as the log has it, and of the way together; the kiln stays closed"
	}
	say := words.AboutLoad(c.Load, c.studio.Units)
	now := c.Nights[0].Studio.Kiln
	switch {
	case c.studio.Kiln.Measured:
	case now.Measured:
		out = append(out, say.FellSo(now.Fall.TimeConstant, c.Nights[1].Studio.Kiln.Fall.TimeConstant))
	default:
		out = append(out, fmt.Sprintf("this kiln was not measured: hours are shown for a time constant of %s, stresses are the worst from %s to %s",
			unit.FormatDuration(now.Fall.TimeConstant), unit.FormatDuration(kiln.QuickestFall), unit.FormatDuration(kiln.SlowestFall)))
	}
	return out
}

// outageJSON prints what to do as JSON.
func outageJSON(a *desk.App, c powerCase, x *outage.Answer, next *verify.Report, keyed bool) error {
	type wayOnJSON struct {
		Way     string             `json:"way"`
		TotalH  report.Num         `json:"total_h"`
		FirstH  report.Num         `json:"earliest_h"`
		LastH   report.Num         `json:"latest_h"`
		Rate    report.Num         `json:"heating_K_per_h"`
		Peak    report.Num         `json:"peak_tension_MPa"`
		Left    report.Num         `json:"left_max_tension_MPa"`
		Breaks  bool               `json:"breaks_now"`
		Ruled   bool               `json:"ruled_out"`
		Verdict string             `json:"verdict"`
		Pieces  []report.PieceJSON `json:"pieces"`
		Closed  *report.ClosedJSON `json:"keep_closed,omitempty"`
	}
	type answerJSON struct {
		Verdict  string               `json:"verdict"`
		Case     string               `json:"case"`
		Why      string               `json:"why"`
		FailedC  report.Num           `json:"failed_C"`
		FoundC   report.Num           `json:"found_C"`
		FellH    report.Num           `json:"past_h"`
		OffH     *report.Num          `json:"power_off_h"` // null where nobody knows
		AtOnce   bool                 `json:"at_once"`
		Stop     bool                 `json:"stop_controller"`
		PastOver []string             `json:"over_already"`
		Ways     []wayOnJSON          `json:"ways"`
		Schedule *report.ScheduleJSON `json:"schedule"`
		Closed   *report.ClosedJSON   `json:"keep_closed,omitempty"` // after the first way
		Cautions []report.CautionJSON `json:"cautions"`
		NotKept  []string             `json:"not_kept"`
		Assumed  []string             `json:"assumptions"`
		Sources  []string             `json:"sources"`
		Apart    []string             `json:"cannot_share"` // null where the load can
		Does     []sharing.HarmJSON   `json:"first_does"`   // then null, too
	}
	first := x.Ways[0].Report
	say, found := words.About(first), c.Found()
	v := answerJSON{Verdict: words.Verdict(first.Verdict()), Case: x.Advice.Case.String(), Why: say.Outage(x.Advice.Case, x.Glass.Name, c.Failed, found),
		FailedC: report.Num(c.Failed.Celsius()), FoundC: report.Num(found.Celsius()), FellH: hoursJSON(c.Nights[0].Past.End()), AtOnce: x.Advice.AtOnce, Stop: x.Advice.StopController,
		PastOver: []string{}, Assumed: append(outageAssumed(c), say.Assumed(first.Assumptions)...), Sources: words.Sources(first.Sources)}
	var err error
	if v.Cautions, err = report.CautionsJSON(next); err != nil {
		return err
	}
	if v.NotKept, err = report.Broken(next); err != nil {
		return err
	}
	if c.long > 0 {
		off := hoursJSON(c.long)
		v.OffH = &off
	}
	for _, p := range x.Past.Pieces {
		if p.Tension.Use > 1 {
			v.PastOver = append(v.PastOver, p.Piece.What)
		}
	}
	for _, w := range x.Ways {
		rep, err := report.NewJSON(w.Report)
		if err != nil {
			return err
		}
		tension, left := nearest(w.Report)
		v.Ways = append(v.Ways, wayOnJSON{w.Way.String(), hoursJSON(w.Lasts), hoursJSON(w.Earliest), hoursJSON(w.Latest), report.Num(w.Rate.KelvinPerHour()), report.MPa(tension.Worst), report.MPa(left.Worst), w.BreaksNow(), w.Ruled, rep.Verdict, rep.Pieces, rep.Closed})
	}
	v.Closed = v.Ways[0].Closed
	if one := c.harm(x); one != nil {
		v.Apart, v.Does = c.apart.reasons, sharing.NewHarmsJSON(one)
	}
	if keyed {
		s := report.NewScheduleJSON(next)
		v.Schedule = &s
	}
	return a.PrintJSON(v)
}
