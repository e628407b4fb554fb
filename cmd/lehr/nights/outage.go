package nights

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"lehr/anneal/kiln"
	"lehr/anneal/kilnlog"
	"lehr/anneal/outage"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/rescue"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/web"
	"lehr/cmd/lehr/words"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// OutageHelp is what the help of plan says of a power failure.
const OutageHelp = `When the power has failed, --now and --was say what the kiln reads and what it read when it failed, each with the hour before it if you know that; --after takes a log in their place, and with it the flags by which lehr verify reads one. The past is then simulated, and from here on each of the three ways, with its hours and its stress: go on, heat back to the soak as fast as every piece bears (or the word that no rate is borne), or let it fall. Each counts at its worst in the kilns that this one may be: one that fell for hours between the two readings falls on as it did, or slower. A way that exceeds the limit of tension stands behind one that keeps it. Where opening the kiln at the end of a way exceeds a limit, it says until what reading the kiln stays closed. Of a load that cannot share one program it says what the first way does to which piece. The program of the first is what is written.`

// OutageFlags say what happened to the load.
type OutageFlags struct {
	cmd             string // that has the flags
	now, was, after string
	log             *flags.Log
}

// AddOutageFlags adds the flags that say how the power failed.
func AddOutageFlags(c *cobra.Command) *OutageFlags {
	f := &OutageFlags{cmd: c.Name()}
	c.Flags().StringVar(&f.now, "now", "", "after a power failure: what the kiln `reads`, such as \"490 °C\" or \"00:15 490 °C\"")
	c.Flags().StringVar(&f.was, "was", "", "after a power failure: what it `read` when the power failed, such as \"23:45 530 °C\"")
	c.Flags().StringVar(&f.after, "after", "", "after a power failure: what the kiln did, from the log `night.csv`")
	f.log = flags.AddLog(c)
	for _, u := range flags.LogUsage {
		desk.Must(c.Flags().MarkHidden(string(u.Option))) // verify lists them
	}
	return f
}

// Given reports whether the power failed.
func (f *OutageFlags) Given() bool { return f.now != "" || f.was != "" || f.after != "" }

// powerCase is a case with what its report says of the power.
type powerCase struct {
	outage.Case
	cmd      string
	studio   kiln.Studio
	from, to *unit.Clock   // when it failed, and now, where that is known
	days     int           // midnights between the start of the load, or from, and to
	late     int           // midnights between the start of the load and from
	long     time.Duration // how long it has been off, 0 where nobody knows
	apart    *apart        // nil for a load that can share
	other    *outage.Hour  // what the program reads at that hour, where that is not what was read
}

// parseReading reads what a flag says of the kiln, if it is given.
func parseReading(cmd, flag, text string) (r outage.Reading, err error) {
	if text == "" {
		return r, nil
	}
	if r, err = outage.ParseReading(text); err != nil {
		if r.Clock != nil || strings.Contains(text, ":") {
			err = term.WithHint(err, fmt.Sprintf("write hour and reading: %s \"4:30 am 590 °F\" or \"04:30 310 °C\"", flag))
		}
		return r, desk.FlagUsage(cmd, flag, err)
	}
	return r, nil
}

// Outage is lehr plan for a load whose kiln lost its power.
func Outage(ctx context.Context, a *desk.App, c *cobra.Command, f *OutageFlags, load *piece.Load, st kiln.Studio, o plan.Options, out *desk.OutFlag, v *flags.Views) error {
	for _, x := range a.Outs {
		if x.Cmd == c && x.Given() && x != out && x != v.Sheet {
			return desk.Usagef("leave it out", "%s: %s: is not drawn after a power failure", f.cmd, x.Flag)
		}
	}
	for _, name := range []string{"ready-by", "shortest", "chart", "draw", "over"} {
		if c.Flags().Changed(name) {
			return desk.Usagef("leave it out", "%s: --%s: has no meaning after a power failure", f.cmd, name)
		}
	}
	if load.Into == piece.WarmOnly {
		return desk.Usagef("leave them out", "%s: --now and --was are for a load that is annealed, and this one is only warmed", f.cmd)
	}
	now, err := parseReading(f.cmd, "--now", f.now)
	if err != nil {
		return err
	}
	was, err := parseReading(f.cmd, "--was", f.was)
	if err != nil {
		return err
	}
	oc, err := underWay(ctx, f.cmd, load, st, o)
	if err != nil {
		return flags.Explained(err, st.Units)
	}
	if f.after != "" {
		err = loggedPast(a, &oc, f, &now, was)
	} else {
		err = readPast(&oc, now, was)
	}
	if err != nil {
		return err
	}
	answer, next, keyed, err := oc.goesOn(ctx, now.Clock)
	if err != nil {
		return err
	}
	if keyed {
		if err := flags.SaveProgram(a, out, next); err != nil {
			return err
		}
	}
	if err := flags.SaveSheet(a, v, next, outagePast(oc, answer, next, keyed)); err != nil {
		return err
	}
	switch {
	case a.JSON:
		err = outageJSON(a, oc, answer, next, keyed)
	case f.cmd == "sheet": // that is the answer
	default:
		err = showOutage(a, oc, answer, next, keyed)
	}
	if err != nil {
		return err
	}
	if out.Given() && !keyed && !a.JSON {
		a.Print("\n")
		a.Prose(0, fmt.Sprintf("%s is not written: there is nothing to key in.", desk.ShownName(out.Name)))
	}
	broken, err := report.Broken(next)
	if err != nil {
		return err
	}
	return desk.OverIf(!answer.Keeps() || len(broken) > 0)
}

// OnPage is the program of the way on that comes first, and what its page says before
// it: [Outage] for a form. Both readings are given.
//
// Errors: those of plan.Plan and outage.Nights.
func OnPage(ctx context.Context, load *piece.Load, st kiln.Studio, o plan.Options, was, now outage.Reading) (*verify.Report, *web.Past, error) {
	oc, err := underWay(ctx, "serve", load, st, o)
	if err != nil {
		return nil, nil, err
	}
	if err := readPast(&oc, now, was); err != nil {
		return nil, nil, err
	}
	answer, next, keyed, err := oc.goesOn(ctx, now.Clock)
	if err != nil {
		return nil, nil, err
	}
	return next, outagePast(oc, answer, next, keyed), nil
}

// underWay is the case of a load under the program of [underPlan].
func underWay(ctx context.Context, cmd string, load *piece.Load, st kiln.Studio, o plan.Options) (powerCase, error) {
	s, apart, err := underPlan(ctx, load, st, o)
	if err != nil {
		return powerCase{}, err
	}
	return powerCase{Case: outage.Case{Load: load, Limits: o.Limits, Program: s}, cmd: cmd, studio: st, apart: apart}, nil
}

// goesOn finds the ways on, and the program of the first from now; keyed is false
// where nothing of it is keyed in.
func (c powerCase) goesOn(ctx context.Context, now *unit.Clock) (answer *outage.Answer, next *verify.Report, keyed bool, err error) {
	if answer, err = c.find(ctx); err != nil {
		return nil, nil, false, err
	}
	from := *c.Load
	from.Start = now // the program goes on from now, whenever the load began
	next = programOf(answer.Ways[0], &from, c)
	segments := answer.Ways[0].Schedule.Segments
	return answer, next, len(segments) > 0 && !segments[0].Off, nil
}

// readPast is the past of a load of which two readings are known.
func readPast(c *powerCase, now, was outage.Reading) (err error) {
	switch {
	case now.At.IsZero():
		return desk.Usagef(`write what the kiln reads: --now "310 °C"`, "%s: --was without --now", c.cmd)
	case was.At.IsZero():
		return desk.Usagef(`write what it read when the power failed: --was "02:10 560 °C"`, "%s: --now without --was", c.cmd)
	}
	var after time.Duration
	if now.Clock != nil && was.Clock != nil {
		if after = between(*was.Clock, *now.Clock); after == 0 && now.At.Less(was.At) {
			return desk.Usagef("give both hours, or none", "%s: --now and --was name the same hour, %s", c.cmd, now.Clock.Text(c.studio.Units))
		}
	}
	var ran time.Duration
	if start := c.Load.Start; start != nil && was.Clock != nil {
		if ran, err = c.hourOf(*start, was); err != nil {
			return err
		}
	}
	c.Failed, c.long = was.At, after
	if after > 0 {
		c.hours(*was.Clock, ran)
	}
	c.Rising = outage.Rising(c.Program, c.studio, was.At, ran)
	c.Nights, err = outage.Nights(c.Program, c.studio, was.At, now.At, ran, after)
	return asTold(c.cmd, err)
}

// hourOf is how long the program had run at the hour of a reading. One that is none
// of that hour is noted. Errors: the program is over by then.
func (c *powerCase) hourOf(start unit.Clock, was outage.Reading) (time.Duration, error) {
	h := outage.HourOf(c.Program, c.studio, between(start, *was.Clock), was.At)
	sys := c.studio.Units
	if !h.Doubts(was.At, c.studio.Kiln.ProbeError) {
		return h.Ran, nil
	}
	if h.Over() {
		say := words.AboutLoad(c.Load, sys)
		wrong := fmt.Errorf("%s is outside the program, which runs from %s to %s", was.Clock.Text(sys), start.Text(sys), say.ClockAfter(start, h.Ends))
		return 0, desk.FlagUsage(c.cmd, "--was", term.WithAdvice(wrong, "correct the hour, or {--start} if the load began at another"))
	}
	c.other = &h
	return h.Ran, nil
}

// between is the time from one time of day to the next other one.
func between(from, to unit.Clock) time.Duration {
	const day = 24 * time.Hour
	return (time.Duration(to-from)*time.Minute + day) % day
}

// hours notes from when to when the power was off, the days counted from the start
// of the load, which ran until then, if it says when it started.
func (c *powerCase) hours(from unit.Clock, ran time.Duration) {
	first := from
	if c.Load.Start != nil {
		first = *c.Load.Start
		_, c.late = first.Add(ran)
	} else {
		ran = 0
	}
	to, days := first.Add(ran + c.long)
	c.from, c.to, c.days = &from, &to, days
}

// asTold makes readings that do not go together a fault of the command line.
func asTold(cmd string, err error) error {
	var state *rescue.StateError
	if errors.As(err, &state) {
		return desk.FlagUsage(cmd, "--was, --now", err)
	}
	return err
}

// checkDegrees refuses a log whose degrees are those of the other scale: it is far
// from the program, and would fit it. Who names the unit by a flag is believed,
// and a cold kiln may have failed while it was heated.
func checkDegrees(l *kilnlog.Log, c *powerCase, o kilnlog.Options) error {
	nominal, err := flags.NominalCurve(c.Program)
	if err != nil || o.TempUnit != kilnlog.NoUnit {
		return err
	}
	other := l.Compare(nominal, 0).OtherScale
	if other == kilnlog.NoUnit || other == kilnlog.Celsius && c.Load.Into != piece.HotKiln {
		return nil
	}
	has := map[kilnlog.Unit]string{kilnlog.Celsius: "F", kilnlog.Fahrenheit: "C"}[other]
	return otherDegrees(l, c.Program, "the program", other, false, c.studio, fmt.Sprintf("give --%s %s if it is not", kilnlog.OptTempUnit, has))
}

// loggedPast is the past of a load whose kiln was logged.
func loggedPast(a *desk.App, c *powerCase, f *OutageFlags, now *outage.Reading, was outage.Reading) error {
	o, err := f.log.Options(c.cmd, c.studio)
	if err != nil {
		return err
	}
	l, err := flags.ReadLog(a, f.after, o)
	if err != nil {
		return err
	}
	if err := checkDegrees(l, c, o); err != nil {
		return err
	}
	curve, err := l.Curve()
	if err != nil {
		return err
	}
	from, err := (&Flags{}).wentIn(l, c.Load)
	if err != nil {
		return err
	}
	c.Logged = true
	past := curve.From(from)
	var fell []kiln.Fall
	fall, err := l.Fall(c.studio.Kiln.Fall.Room, unit.Temp{})
	if err == nil {
		fell = append(fell, fall.Fall)
		c.long = l.Length() - fall.From.Time
	}
	if c.Failed = was.At; c.Failed.IsZero() {
		if err != nil {
			return term.WithHint(fmt.Errorf("%s: does not show when the power failed: %w", l.Name, err), `give --was too, such as --was "560 °C"`)
		}
		c.Failed = fall.From.At
		for i, r := range l.Readings { // it failed between the reading before and this one
			if i > 0 && r.Time == fall.From.Time && c.Failed.Less(l.Readings[i-1].At) {
				c.Failed = l.Readings[i-1].At
			}
		}
	}
	if now.At.IsZero() {
		if clock, ok := l.Clock(l.Length()); ok {
			now.Clock = &clock
		}
	} else if past, err = c.upToNow(l, past, fell, f, now); err != nil {
		return err
	}
	c.Rising = outage.NeverSoaked(past, c.Program)
	c.Nights = outage.Logged(past, c.studio, fell...)
	return nil
}

// upToNow takes the past on from the end of its log to what the kiln reads now.
func (c *powerCase) upToNow(l *kilnlog.Log, past kiln.Curve, fell []kiln.Fall, f *OutageFlags, now *outage.Reading) (kiln.Curve, error) {
	last := past.Temp(past.End())
	if last.Less(now.At) {
		return past, desk.Usagef("leave --now out, or give the log up to now", "%s: --now %s: is above the last reading of %s, %s", c.cmd, strict.Visible(f.now), l.Name, last.Text(c.studio.Units))
	}
	as := c.studio.Kiln.Fall
	if len(fell) > 0 && !c.studio.Kiln.Measured {
		as = fell[0]
	}
	if !as.Room.Less(now.At) {
		return past, desk.Usagef("treat the pieces as finished work that was not annealed", "%s: --now %s: is the room or below", c.cmd, strict.Visible(f.now))
	}
	long := unit.Seconds(as.Time(last, now.At, -1e9))
	if ended, ok := l.Clock(l.Length()); ok && now.Clock != nil {
		if since := between(ended, *now.Clock); since > 0 && now.At.Less(last) {
			as, long = kiln.FallBetween(as.Room, last, now.At, since), since
		}
	}
	if long >= time.Second {
		past = past.Then(as.Curve(last, long))
		if c.long > 0 {
			c.long += long
		}
	}
	return past, nil
}
