package main

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/kilnlog"
	"lehr/anneal/outage"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/rescue"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/words"

	"github.com/spf13/cobra"

	"lehr/glass/strict"
	"lehr/glass/unit"
)

// outageHelp is what the help of plan says of a power failure.
const outageHelp = `When the power has failed, --now and --was say what the kiln reads and what it read when it failed, each with the hour before it if you know that; --after takes a log in their place. The past is then simulated, and from here on each of the three ways, with its hours and its stress: go on, heat back to the soak as fast as every piece bears, or let it fall. The one to try first stands first.`

// outageFlags say what happened to the load.
type outageFlags struct{ now, was, after string }

func addOutageFlags(c *cobra.Command) *outageFlags {
	f := &outageFlags{}
	c.Flags().StringVar(&f.now, "now", "", "after a power failure: what the kiln `reads`, such as \"310 °C\" or \"04:30 310 °C\"")
	c.Flags().StringVar(&f.was, "was", "", "after a power failure: what it `read` when the power failed, such as \"02:10 560 °C\"")
	c.Flags().StringVar(&f.after, "after", "", "after a power failure: what the kiln did, from the log `night.csv`")
	return f
}

func (f *outageFlags) given() bool { return f.now != "" || f.was != "" || f.after != "" }

// reading is a temperature, with the time of day if that is known.
type reading struct {
	at    unit.Temp
	clock *unit.Clock
}

// parseReading reads "310 °C" or "04:30 310 °C".
func parseReading(flag, text string) (r reading, err error) {
	if text == "" {
		return r, nil
	}
	rest := strings.TrimSpace(text)
	if head, tail, ok := strings.Cut(rest, " "); ok && strings.Contains(head, ":") {
		c, err := unit.ParseClock(head)
		if err != nil {
			return r, asUsage("plan: "+flag, err)
		}
		r.clock, rest = &c, tail
	}
	if r.at, err = unit.ParseTemp(rest); err != nil {
		return r, asUsage("plan: "+flag, err)
	}
	return r, nil
}

// runOutage is lehr plan for a load whose kiln lost its power.
func (a *app) runOutage(ctx context.Context, c *cobra.Command, f *outageFlags, load *piece.Load, st kiln.Studio, o plan.Options, out *outFlag) error {
	for _, x := range a.outs {
		if x.cmd == c && x.given() && x != out {
			return usagef("leave it out", "plan: %s: is not drawn after a power failure", x.Flag)
		}
	}
	for _, name := range []string{"ready-by", "shortest", "chart"} {
		if c.Flags().Changed(name) {
			return usagef("leave it out", "plan: --%s: has no meaning after a power failure", name)
		}
	}
	if load.Into == piece.WarmOnly {
		return usagef("leave them out", "plan: --now and --was are for a load that is annealed, and this one is only warmed")
	}
	now, err := parseReading("--now", f.now)
	if err != nil {
		return err
	}
	was, err := parseReading("--was", f.was)
	if err != nil {
		return err
	}
	rep, err := plan.Plan(ctx, load, st, o)
	if err != nil {
		return explained(err, st.Units)
	}
	oc := outage.Case{Load: load, Studio: st, Limits: o.Limits, Program: rep.Schedule}
	if f.after != "" {
		err = a.loggedPast(&oc, f, &now, was)
	} else {
		err = toldPast(&oc, now, was)
	}
	if err != nil {
		return err
	}
	answer, err := outage.Find(ctx, oc)
	if err != nil {
		return err
	}
	if now.clock != nil {
		copied := *load
		copied.Start = now.clock
		load = &copied
	} else {
		copied := *load
		copied.Start = nil
		load = &copied
	}
	next := programOf(answer.Ways[0], load)
	if out.given() && next == nil {
		return usagef("leave -o out", "plan: %s: the kiln is to be left off, so there is no program to write", out.Flag)
	}
	if next != nil {
		if err := a.saveSchedule(out, next); err != nil {
			return err
		}
	}
	show := a.showOutage
	if a.json {
		show = a.outageJSON
	}
	if err := show(oc, answer, next); err != nil {
		return err
	}
	if answer.Ways[0].Report.Verdict() != verify.WithinLimits {
		return errOverLimit
	}
	return nil
}

// toldPast is the past of a load of which two readings are known.
func toldPast(c *outage.Case, now, was reading) (err error) {
	switch {
	case now.at.IsZero():
		return usagef(`write what the kiln reads: --now "310 °C"`, "plan: --was without --now")
	case was.at.IsZero():
		return usagef(`write what it read when the power failed: --was "02:10 560 °C"`, "plan: --now without --was")
	}
	var after time.Duration
	if now.clock != nil && was.clock != nil {
		if after = time.Duration(*now.clock-*was.clock) * time.Minute; after < 0 {
			after += 24 * time.Hour
		}
		if after == 0 && now.at.Less(was.at) {
			return usagef("give both hours, or none", "plan: --now and --was name the same hour, %s", now.clock.Text(c.Studio.Units))
		}
	}
	c.Failed = was.at
	c.Past, err = outage.Past(c.Program, c.Studio, was.at, now.at, after)
	return asTold(err)
}

// asTold makes readings that do not go together a fault of the command line.
func asTold(err error) error {
	var state *rescue.StateError
	if errors.As(err, &state) {
		return asUsage("plan: --was, --now", err)
	}
	return err
}

// loggedPast is the past of a load whose kiln was logged.
func (a *app) loggedPast(c *outage.Case, f *outageFlags, now *reading, was reading) error {
	l, err := a.readLog(f.after, kilnlog.Options{})
	if err != nil {
		return err
	}
	curve, err := l.Curve()
	if err != nil {
		return err
	}
	from, err := (&nightFlags{}).wentIn(l, c.Load)
	if err != nil {
		return err
	}
	c.Past = curve.From(from)
	last := c.Past.Temp(c.Past.End())
	if c.Failed = was.at; c.Failed.IsZero() {
		fall, err := l.Fall(c.Studio.Kiln.Fall.Room, unit.Temp{})
		if err != nil {
			return withHint(fmt.Errorf("%s: does not show when the power failed: %w", l.Name, err), `give --was too, such as --was "560 °C"`)
		}
		c.Failed = fall.From.At
	}
	if now.at.IsZero() {
		if clock, ok := l.Clock(l.Length()); ok {
			now.clock = &clock
		}
	} else {
		if last.Less(now.at) {
			return usagef("leave --now out, or give the log up to now", "plan: --now %s: is above the last reading of %s, %s", strict.Visible(f.now), l.Name, last.Text(c.Studio.Units))
		}
		long := unit.Seconds(c.Studio.Kiln.Fall.Time(last, now.at, -1e9))
		if long >= time.Second {
			c.Past = c.Past.Then(c.Studio.Kiln.Fall.Curve(last, long))
		}
	}
	return nil
}

// programOf is a way as a report of a program, nil if nothing is keyed in.
func programOf(w outage.Way, load *piece.Load) *verify.Report {
	if len(w.Schedule.Segments) == 0 {
		return nil
	}
	rep := *w.Report
	k := rep.Studio.Kiln
	rep.Load, rep.Schedule, rep.Replayed = load, w.Schedule, false
	rep.Actual, rep.Nominal = w.Schedule.As(&k), w.Schedule.Followed(rep.Studio)
	return &rep
}

// showOutage prints what to do: the advice, the ways, the program of the first.
func (a *app) showOutage(c outage.Case, x *outage.Answer, next *verify.Report) error {
	sys := c.Studio.Units
	first := x.Ways[0]
	say := words.About(first.Report)
	style := styleGood
	if first.Report.Verdict() != verify.WithinLimits {
		style = styleBad
	}
	head := capital(words.WayOn(first.Way))
	if x.Advice.AtOnce && first.Way == rescue.SoakAgain {
		head = "At once: " + words.WayOn(first.Way)
	}
	a.lead(style, head, "", ": "+first.Report.Verdict().String()+", "+verdictNumbers(first.Report)+".")
	a.prose(0, capital(say.Outage(x.Advice.Case, x.Glass.Name, c.Failed, c.Past.Temp(c.Past.End())))+".")
	if x.Advice.StopController {
		a.prose(0, words.StopController)
	}
	for _, p := range x.Past.Pieces {
		if p.Tension.Use > 1 {
			a.prose(0, fmt.Sprintf("%s may be over its limit of tension already, %s: look for a crack before anything else; no program repairs one.", p.Piece.What, bearsText(p.Tension, sys)))
		}
	}
	a.print("\n")
	if err := a.outageWays(x, sys); err != nil {
		return err
	}
	if next != nil {
		a.print("\n")
		if err := a.showProgram(next); err != nil {
			return err
		}
	}
	for _, w := range x.Ways {
		for _, p := range w.Report.Pieces {
			if len(p.Over) > 0 {
				a.item("- ", words.WayOn(w.Way)+": "+p.Piece.What+": "+overText(w.Report, p))
			}
		}
	}
	a.list("Assumed", append(outageAssumed(c), say.Assumed(first.Report.Assumptions)...))
	a.list("Sources", words.Sources(first.Report.Sources))
	return nil
}

// outageWays prints the three ways beside each other.
func (a *app) outageWays(x *outage.Answer, sys unit.System) error {
	_, u := unit.Stress(0).In(sys)
	cols := []column{longColumn("way"), numberColumn("takes\nh:min"), numberColumn("tension\n" + u), numberColumn("of limit\n%"), numberColumn("locked in\n" + u), numberColumn("of limit\n%"), longColumn("verdict")}
	var rows [][]string
	for _, w := range x.Ways {
		var tension, left verify.Bears
		for _, p := range w.Report.Pieces {
			tension, left = nearer(tension, p.Tension), nearer(left, p.Left)
		}
		number := func(s unit.Stress) string {
			v, _ := max(s, 0).In(sys)
			if sys == unit.US {
				return whole(v)
			}
			return fmt.Sprintf("%.2f", v)
		}
		name, verdict := words.WayOn(w.Way), w.Report.Verdict().String()
		if w.Way == rescue.SoakAgain && w.Rate > 0 {
			name += ", at " + w.Rate.Text(sys)
		}
		if w.Ruled {
			verdict = "ruled out"
		}
		rows = append(rows, []string{name, hourMin(w.Lasts), number(tension.Worst), used(tension), number(left.Worst), used(left), verdict})
	}
	return a.table(cols, rows)
}

// outageAssumed is what the answer rests on beside its report.
func outageAssumed(c outage.Case) []string {
	out := []string{"the numbers of each way are those of past and way together; the kiln stays closed"}
	if !c.Studio.Kiln.Measured {
		out = append(out, "this kiln was not measured: it is taken to fall with a time constant of "+unit.FormatDuration(c.Studio.Kiln.Fall.TimeConstant))
	}
	return out
}

// outageJSON prints what to do as JSON.
func (a *app) outageJSON(c outage.Case, x *outage.Answer, next *verify.Report) error {
	type wayOnJSON struct {
		Way     string      `json:"way"`
		LastsH  num         `json:"lasts_h"`
		RateK   num         `json:"heating_K_per_h"`
		Ruled   bool        `json:"ruled_out"`
		Verdict string      `json:"verdict"`
		Pieces  []pieceJSON `json:"pieces"`
	}
	type answerJSON struct {
		Case     string        `json:"case"`
		AtOnce   bool          `json:"at_once"`
		Stop     bool          `json:"stop_controller"`
		PastOver []string      `json:"over_already"`
		Ways     []wayOnJSON   `json:"ways"`
		Schedule *scheduleJSON `json:"schedule"`
	}
	v := answerJSON{Case: x.Advice.Case.String(), AtOnce: x.Advice.AtOnce, Stop: x.Advice.StopController, PastOver: []string{}}
	for _, p := range x.Past.Pieces {
		if p.Tension.Use > 1 {
			v.PastOver = append(v.PastOver, p.Piece.What)
		}
	}
	for _, w := range x.Ways {
		rep, err := newReportJSON(w.Report)
		if err != nil {
			return err
		}
		v.Ways = append(v.Ways, wayOnJSON{w.Way.String(), hoursJSON(w.Lasts), num(w.Rate.KelvinPerHour()), w.Ruled, rep.Verdict, rep.Pieces})
	}
	if next != nil {
		s := newScheduleJSON(next)
		v.Schedule = &s
	}
	return a.printJSON(v)
}
