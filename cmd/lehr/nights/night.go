// Package nights is about a night that is past or went wrong: a log of readings in
// the place of a program, and what is left to do after a power failure.
package nights

import (
	"bytes"
	"context"
	"io"
	"time"

	"github.com/spf13/cobra"

	"lehr/anneal/kiln"
	"lehr/anneal/kilnlog"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/report"
	"lehr/glass/unit"
)

// Flags are what a person says of a log that does not say it itself.
type Flags struct {
	program, in string
	dryRun      bool
	*flags.Log
}

// LogHelp is what the help of verify says of logs.
const LogHelp = `In the place of the schedule stands a log of readings, too: what the kiln really did, as loggers and spreadsheets write it (cells between commas, semicolons or tabs, with a header that names times and units; "time,temp_C" will do). Units and columns come from the header or from flags and are never guessed; --dry-run says how each column was understood. A reading more often than every 10 s is taken in means of 10 s, with the extremes where they leave them. All this, and what was left out, is said in one line.

The pieces are then followed through the night, straight lines between readings, with the probe's error of the studio file and without: the real soak, the real rate where the glass sets, and with --program where the kiln left what it was told, which --svg, --png, --pdf and --sheet draw beside what it did. A night that ends in a natural fall gives the lines that tell the studio file how this kiln falls. A log that ends hotter than the reading at which the kiln is opened is judged so far.`

// AddFlags adds the flags about a log.
func AddFlags(c *cobra.Command) *Flags {
	n, f := &Flags{}, c.Flags()
	f.StringVar(&n.program, "program", "", "log: compare it with the program of `schedule.toml`")
	f.StringVar(&n.in, "in", "", "log: `time` at which the pieces went in, of day or since the first reading (default: when the kiln was hot, for a cold kiln the first reading)")
	f.BoolVar(&n.dryRun, "dry-run", false, "log: say how each column was understood, and compute nothing")
	n.Log = flags.AddLog(c)
	return n
}

// Given names the first flag about a log that was given, "" if none was.
func (n *Flags) Given() string {
	names := []string{"program", "in", "dry-run"}
	for _, u := range flags.LogUsage {
		names = append(names, string(u.Option))
	}
	for _, name := range names {
		if n.Changed(name) {
			return "--" + name
		}
	}
	return ""
}

// night is a log that was judged.
type night struct {
	log     *kilnlog.Log
	from    time.Duration  // when the pieces went in
	inGiven bool           // a person gave that
	rep     *verify.Report // with the error of the probe and the places
	exact   *verify.Report // the readings taken as exact, nil if they are
	worst   kilnlog.Way    // the way through the gaps that rep is of
	apart   []wayVerdict   // of each way, where they differ

	program  string     // its name, "" without one
	nominal  kiln.Curve // what it says, in its own time
	followed kilnlog.Followed
	drawn    report.Drawn // what its curve shows
}

// wayVerdict is what one way through the gaps comes to.
type wayVerdict struct {
	way kilnlog.Way
	rep *verify.Report
}

// verdict is what the night comes to: a verdict that depends on what nobody
// logged is none.
func (n *night) verdict() verify.Verdict {
	if len(n.apart) > 0 {
		return verify.NotJudged
	}
	return n.rep.Verdict()
}

// Log is lehr verify for a log in the place of a program.
func Log(a *desk.App, c *cobra.Command, l *flags.Load, f *Flags, csv *desk.OutFlag, v *flags.Views, args []string) error {
	st, err := a.LocalStudio()
	if err != nil {
		return err
	}
	o, err := f.Options("verify", st)
	if err != nil {
		return err
	}
	log, err := flags.ReadLog(a, args[0], o)
	if err != nil {
		return err
	}
	if f.dryRun {
		return showColumns(a, log, st.Units)
	}
	load, st, err := flags.ReadLoad(a, "verify", l, args[1:])
	if err != nil {
		return err
	}
	limits, err := l.Options("verify")
	if err != nil {
		return err
	}
	n := &night{log: log, inGiven: f.in != ""}
	if n.drawn, err = flags.ReadDrawn(a, "verify", v, load); err != nil {
		return err
	}
	if err := compareNight(a, n, f, st); err != nil {
		return err
	}
	if n.from, err = f.wentIn(log, load); err != nil {
		return err
	}
	if err := a.Claim(c); err != nil {
		return err
	}
	if err := n.judge(c.Context(), load, st, limits.Limits); err != nil {
		return err
	}
	err = a.Put(csv, func() ([]byte, error) {
		var buf bytes.Buffer
		err := n.rep.WriteHistory(&buf)
		return buf.Bytes(), err
	})
	if err != nil {
		return err
	}
	if err := flags.SaveCurve(a, v, n.curve); err != nil {
		return err
	}
	if err := flags.SaveSheet(a, v, n.rep, n.past()); err != nil {
		return err
	}
	if a.JSON {
		err = printJSON(a, n)
	} else {
		err = showLogged(a, n)
	}
	if err != nil {
		return err
	}
	return desk.OverIf(n.verdict() != verify.WithinLimits)
}

// compareNight holds the log against the program that it was to follow.
func compareNight(a *desk.App, n *night, f *Flags, st kiln.Studio) error {
	if f.program == "" {
		return nil
	}
	if flags.IsLog(a, f.program) {
		return desk.Usagef("write: lehr verify "+desk.ShellWord(n.log.Name)+" LOAD.toml --program SCHEDULE.toml", "verify: --program: %s is a log of readings, not a schedule", desk.ShownName(f.program))
	}
	var s program.Schedule
	err := a.ReadAs("verify", desk.ScheduleFile, f.program, func(r io.Reader) (err error) {
		s, err = program.Read(r, desk.ShownName(f.program))
		return err
	})
	if err != nil {
		return err
	}
	nominal, err := flags.NominalCurve(s)
	if err != nil {
		return err
	}
	n.program, n.nominal, n.followed = desk.ShownName(f.program), nominal, n.log.Compare(nominal, 0)
	if other := n.followed.OtherScale; other != kilnlog.NoUnit {
		return otherDegrees(n.log, s, n.program, other, f.Changed(string(kilnlog.OptTempUnit)), st, "leave --program out")
	}
	return nil
}

// openedMore is how far above the opening temperature a log may end and still be
// taken for a whole night.
const openedMore unit.Delta = 5

// judge simulates what the kiln did in every piece: through each gap that decides
// in every way that the kiln can have gone.
func (n *night) judge(ctx context.Context, load *piece.Load, st kiln.Studio, limits kiln.Limits) error {
	last := n.log.Readings[len(n.log.Readings)-1].At
	load = n.byItsClock(load)
	ended := !st.Opening.Add(openedMore).Less(last) || load.Into == piece.WarmOnly
	replay := func(way kilnlog.Way, st kiln.Studio) (*verify.Report, error) {
		c, err := n.log.CurveBy(way, st.Kiln)
		if err != nil {
			return nil, err
		}
		return verify.Replay(ctx, c.From(n.from), load, st, limits, ended)
	}
	ways := kilnlog.Ways[:1]
	if len(n.log.Decisive()) > 0 {
		ways = kilnlog.Ways
	}
	var all []wayVerdict
	differ := false
	for _, way := range ways {
		rep, err := replay(way, st)
		if err != nil {
			return err
		}
		all = append(all, wayVerdict{way, rep})
		if n.rep == nil || rep.Verdict() > n.rep.Verdict() {
			n.rep, n.worst = rep, way
		}
		differ = differ || rep.Verdict() != all[0].rep.Verdict()
	}
	if differ {
		n.apart = all
	}
	if st.Kiln.ProbeError == 0 {
		return nil
	}
	st.Kiln.ProbeError = 0
	exact, err := replay(n.worst, st)
	n.exact = exact
	return err
}
