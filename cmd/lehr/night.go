package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/kilnlog"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/report"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// nightFlags are what a person says of a log that does not say it itself.
type nightFlags struct {
	program, in string
	dryRun      bool
	*logFlags
}

// logFlags say how a log is written where it does not say so itself.
type logFlags struct {
	text    map[kilnlog.Option]*string
	changed func(string) bool
}

// logUsage is one line for each flag about how a log is written.
var logUsage = []struct {
	option kilnlog.Option
	usage  string
}{
	{kilnlog.OptTime, "log: `column` of the times, by its name or its number from 1"},
	{kilnlog.OptTemp, "log: `column` of the readings, by its name or its number from 1"},
	{kilnlog.OptTempUnit, "log: `unit` of the readings, C, F, K or mV"},
	{kilnlog.OptTimeUnit, "log: `unit` of the times, s, min, h, d or h:min:s"},
	{kilnlog.OptDates, "log: `order` of dates such as 03/04/2026, day-first or month-first"},
	{kilnlog.OptDecimal, "log: the `mark` of decimals, \".\" or \",\""},
	{kilnlog.OptCouple, "log in mV: `type` of the thermocouple, K, N, R or S"},
	{kilnlog.OptJunction, "log in mV: `temperature` where the wires of the thermocouple end, such as \"25 °C\""},
}

// nightHelp is what the help of verify says of logs.
const nightHelp = `In the place of the schedule stands a log of readings, too: what the kiln really did, as loggers and spreadsheets write it (cells between commas, semicolons or tabs, with a header that names times and units; "time,temp_C" will do). Units and columns come from the header or from flags and are never guessed; --dry-run says how each column was understood. What was left out is said in one line.

The pieces are then followed through the night, straight lines between readings, with the probe's error of the studio file and without: the real soak, the real rate where the glass sets, and with --program where the kiln left what it was told, which --svg, --png, --pdf and --sheet draw beside what it did. A night that ends in a natural fall gives the lines that tell the studio file how this kiln falls. A log that ends hotter than the reading at which the kiln is opened is judged so far.`

// addNightFlags adds the flags about a log.
func addNightFlags(c *cobra.Command) *nightFlags {
	n, f := &nightFlags{}, c.Flags()
	f.StringVar(&n.program, "program", "", "log: compare it with the program of `schedule.toml`")
	f.StringVar(&n.in, "in", "", "log: `time` at which the pieces went in, of day or since the first reading (default: when the kiln was hot, for a cold kiln the first reading)")
	f.BoolVar(&n.dryRun, "dry-run", false, "log: say how each column was understood, and compute nothing")
	n.logFlags = addLogFlags(c)
	return n
}

// addLogFlags adds the flags about how a log is written.
func addLogFlags(c *cobra.Command) *logFlags {
	n := &logFlags{text: map[kilnlog.Option]*string{}, changed: c.Flags().Changed}
	for _, u := range logUsage {
		n.text[u.option] = c.Flags().String(string(u.option), "", u.usage)
	}
	return n
}

// given names the first flag about a log that was given, "" if none was.
func (n *nightFlags) given() string {
	names := []string{"program", "in", "dry-run"}
	for _, u := range logUsage {
		names = append(names, string(u.option))
	}
	for _, name := range names {
		if n.changed(name) {
			return "--" + name
		}
	}
	return ""
}

// options turns the flags into what the reader of logs takes.
func (n *logFlags) options(cmd string, st kiln.Studio) (o kilnlog.Options, err error) {
	o.TimeColumn, o.TempColumn = *n.text[kilnlog.OptTime], *n.text[kilnlog.OptTemp]
	if st.Kiln.HeatingGiven {
		o.Heating = max(unit.KelvinPerHour(1200), 2*st.Kiln.Heating)
	}
	for _, set := range []struct {
		option kilnlog.Option
		parse  func(string) error
	}{
		{kilnlog.OptTempUnit, func(s string) (err error) { o.TempUnit, err = kilnlog.ParseUnit(s); return err }},
		{kilnlog.OptTimeUnit, func(s string) (err error) { o.TimeUnit, err = kilnlog.ParseUnit(s); return err }},
		{kilnlog.OptDates, func(s string) (err error) { o.Dates, err = kilnlog.ParseDateOrder(s); return err }},
		{kilnlog.OptCouple, func(s string) (err error) { o.Couple, err = kilnlog.ParseCouple(s); return err }},
		{kilnlog.OptJunction, func(s string) (err error) { o.Junction, err = unit.ParseTemp(s); return err }},
		{kilnlog.OptDecimal, func(s string) error {
			if s != "." && s != "," {
				return fmt.Errorf("%q: must be . or ,", strict.Visible(s))
			}
			o.Decimal = s[0]
			return nil
		}},
	} {
		if n.changed(string(set.option)) {
			if err := set.parse(*n.text[set.option]); err != nil {
				return o, asUsage(cmd+": --"+string(set.option), err)
			}
		}
	}
	return o, nil
}

// isLog reports whether a file is a log of readings and no program: by what it
// holds, where that can be told, else by its name.
func (a *app) isLog(name string) bool {
	if name == "-" {
		return false
	}
	var text []byte
	if err := a.read(name, func(r io.Reader) (err error) {
		text, err = io.ReadAll(io.LimitReader(r, strict.MaxBytes))
		return err
	}); err != nil {
		return false
	}
	var table map[string]any
	if _, err := strict.Decode(bytes.NewReader(text), "", &table); err == nil && len(table) > 0 {
		return false
	}
	if slices.Contains([]string{".csv", ".tsv", ".log"}, strings.ToLower(filepath.Ext(name))) {
		return true
	}
	// A spoiled program has keys, a log has cells.
	rows, keys := 0, 0
	for i, line := range bytes.Split(text, []byte("\n")) {
		switch line = bytes.TrimSpace(line); {
		case i > 50:
			return rows > keys && rows > 2
		case bytes.ContainsAny(line, "=[#"):
			keys++
		case bytes.ContainsAny(line, ",;\t"):
			rows++
		}
	}
	return rows > keys && rows > 2
}

// readLog reads a log of readings.
func (a *app) readLog(name string, o kilnlog.Options) (l *kilnlog.Log, err error) {
	err = a.read(name, func(r io.Reader) (err error) {
		l, err = kilnlog.Read(r, shownName(name), o)
		return err
	})
	return l, err
}

// night is a log that was judged.
type night struct {
	log   *kilnlog.Log
	from  time.Duration  // when the pieces went in
	told  bool           // a person gave that
	rep   *verify.Report // with the error of the probe and the places
	exact *verify.Report // the readings taken as exact, nil if they are
	worst kilnlog.Way    // the way through the gaps that rep is of
	apart []wayVerdict   // of each way, where they differ

	program  string     // its name, "" without one
	toldAs   kiln.Curve // what it says, in its own time
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

// runVerifyLog is lehr verify for a log in the place of a program.
func (a *app) runVerifyLog(c *cobra.Command, l *loadFlags, f *nightFlags, csv *outFlag, v *viewFlags, args []string) error {
	st, err := a.readStudio()
	if err != nil {
		return err
	}
	if a.units.set {
		st = st.In(a.units.system)
	}
	o, err := f.options("verify", st)
	if err != nil {
		return err
	}
	log, err := a.readLog(args[0], o)
	if err != nil {
		return err
	}
	if f.dryRun {
		return a.showColumns(log, st.Units)
	}
	load, st, err := a.readLoad("verify", l, args[1:])
	if err != nil {
		return err
	}
	limits, err := l.options("verify")
	if err != nil {
		return err
	}
	n := &night{log: log, told: f.in != ""}
	if n.drawn, err = a.drawn("verify", v, load); err != nil {
		return err
	}
	if err := a.compareNight(n, f, st); err != nil {
		return err
	}
	if n.from, err = f.wentIn(log, load); err != nil {
		return err
	}
	if err := a.claim(c); err != nil {
		return err
	}
	if err := n.judge(c.Context(), load, st, limits.Limits); err != nil {
		return err
	}
	err = a.put(csv, func() ([]byte, error) {
		var buf bytes.Buffer
		err := verify.WriteHistory(&buf, n.rep)
		return buf.Bytes(), err
	})
	if err != nil {
		return err
	}
	if err := a.saveCurve(v, n.curve); err != nil {
		return err
	}
	if err := a.saveSheet(v, n.rep, n.past()); err != nil {
		return err
	}
	show := a.showLogged
	if a.json {
		show = a.loggedJSON
	}
	if err := show(n); err != nil {
		return err
	}
	if n.verdict() != verify.WithinLimits {
		return errOverLimit
	}
	return nil
}

// compareNight holds the log against the program that it was to follow.
func (a *app) compareNight(n *night, f *nightFlags, st kiln.Studio) error {
	if f.program == "" {
		return nil
	}
	if a.isLog(f.program) {
		return usagef("write: lehr verify "+shellWord(n.log.Name)+" LOAD.toml --program SCHEDULE.toml", "verify: --program: %s is a log of readings, not a schedule", shownName(f.program))
	}
	var s program.Schedule
	err := a.readAs("verify", scheduleFile, f.program, func(r io.Reader) (err error) {
		s, err = program.Read(r, shownName(f.program))
		return err
	})
	if err != nil {
		return err
	}
	told, err := toldCurve(s)
	if err != nil {
		return err
	}
	n.program, n.toldAs, n.followed = shownName(f.program), told, n.log.Compare(told, 0)
	if other := n.followed.OtherScale; other != kilnlog.NoUnit {
		return otherDegrees(n.log, s, n.program, other, f.changed(string(kilnlog.OptTempUnit)), st, "leave --program out")
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
