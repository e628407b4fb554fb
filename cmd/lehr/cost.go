package main

import (
	"context"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"lehr/anneal/cost"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
)

// costFlags are the flags of lehr cost, as typed.
type costFlags struct {
	load                *flags.Load
	meter, duty, log    string
	pulses, perKWh      int
	price, start, hours string
	power               unit.Power
	program             string
	rods, lines         []string
	changed             func(string) bool
}

func newCostCommand(a *app) *cobra.Command {
	n := &costFlags{}
	c := &cobra.Command{
		Use:   "cost [<load.toml>] [--meter <readings> | --power-log <file> | ...] [flags]",
		Short: "What a firing costs, and one piece of it",
		Long: `Adds up what a firing costs. Electricity is measured: by two readings of a meter, its pulses, or a log of the power, in the price of each hour; or computed from power and duty. With a program and a load and nothing measured it is estimated, and stays an estimate. Rod goes by grams, with what was lost; everything else is a line of its own.

With a load the sum is shared among its pieces by the shelf that they cover: all lie for the same hours, and the heat in the glass is a few per cent.

A price keeps its currency as typed: --price "0.30 EUR", or by the hour, "0.40 EUR from 6:00, 0.22 EUR from 22:00 as of 2026-10-01". A power log is CSV with a heading: time,power_W (or kW, or duty_% with --power); times with their offset, or elapsed as time_min or time_h.`,
		Example: `lehr cost --meter "12345.6 to 12363.9" --price "0.30 EUR" --hours 13h
lehr cost mixed.toml --pulses 18342 --per-kwh 1000 --price "0.30 EUR"
lehr cost --power-log day.csv --price "0.4 EUR from 6:00, 0.2 EUR from 22:00"
lehr cost mixed.toml --meter "12345.6 to 12363.9" --line "oxygen: 12 USD"
lehr cost --duty 30% --power 1.8kW --hours 10h --price "0.30 EUR"
lehr cost mixed.toml --program tonight.toml --price "0.30 EUR"`,
		Args:        atMost(1),
		Annotations: withJSON(),
	}
	n.load = &flags.Load{Changed: c.Flags().Changed}
	c.RunE = func(c *cobra.Command, args []string) error {
		ctx, stop := desk.Interruptible(c.Context())
		defer stop()
		return a.runCost(ctx, n, args)
	}
	f := c.Flags()
	n.changed = f.Changed
	f.StringVar(&n.meter, "meter", "", "two `readings` of the kiln's meter in kWh: \"12345.6 to 12363.9\"")
	f.IntVar(&n.pulses, "pulses", 0, "pulses that the meter counted")
	f.IntVar(&n.perKWh, "per-kwh", 1000, "pulses for one kWh, as the meter says (default: 1000)")
	f.StringVar(&n.log, "power-log", "", "power against time, `night.csv`")
	f.StringVar(&n.duty, "duty", "", "`share` of the hours in which the elements are on, such as 30%")
	f.Var(&n.power, "power", "power of the elements (default: the studio file's)")
	f.StringVar(&n.hours, "hours", "", "how `long` it took, such as 13h (default: the log's)")
	f.StringVar(&n.start, "start", "", "clock `time` at which it began, for a price by the hour (default: the log's)")
	f.StringVar(&n.program, "program", "", "estimate the electricity of this `schedule.toml` with the load")
	f.StringVar(&n.price, "price", "", "`price` of one kWh, or several by the hour (default: the studio file's)")
	f.StringArrayVar(&n.rods, "rod", nil, "`rod` by grams, with what was lost, repeatable: \"2100g at 45 EUR/kg\"")
	f.StringArrayVar(&n.lines, "line", nil, "anything else, repeatable: \"oxygen: 12 EUR\"")
	f.StringVar(&n.load.Glass, "glass", "", "`name` of the glass of the load, if it names none")
	f.StringVar(&n.load.GlassFile, "glass-file", "", "find glasses in `my-glass.toml` too")
	return c
}

// bill is what a firing costs.
type bill struct {
	kWh      float64
	source   string // of the electricity
	measured bool
	computed bool // from power and duty as given
	power    cost.Money
	tariff   cost.Tariff
	hours    float64 // 0 if not known
	lines    []billLine
	total    cost.Money
	load     *piece.Load
	each     []float64 // of the total, for one piece of each kind
	studio   kiln.Studio
}

type billLine struct {
	what   string
	amount cost.Money
	source string
}

func (a *app) runCost(ctx context.Context, n *costFlags, args []string) error {
	b := &bill{}
	var err error
	if b.studio, err = a.LocalStudio(); err != nil {
		return err
	}
	if !n.changed("power") {
		n.power = b.studio.Kiln.Power
	}
	if len(args) == 1 {
		if b.load, _, err = flags.ReadLoad(a.App, "cost", n.load, args); err != nil {
			return err
		}
	}
	if err := b.readPrice(n); err != nil {
		return err
	}
	if err := a.electricity(ctx, n, b); err != nil {
		return err
	}
	if err := b.addLines(n); err != nil {
		return err
	}
	if b.load != nil {
		if err := b.share(); err != nil {
			return err
		}
	}
	if a.JSON {
		return a.costJSON(b)
	}
	return a.showBill(b)
}

func (b *bill) readPrice(n *costFlags) (err error) {
	if n.price != "" {
		if b.tariff, err = cost.ParseTariff(n.price); err != nil {
			return desk.AsUsage("cost: --price", err)
		}
		return nil
	}
	if k := b.studio.Kiln; k.Price > 0 {
		b.tariff = cost.Even(cost.Money{Amount: k.Price, Currency: k.Currency})
		return nil
	}
	return desk.Usagef(`write --price "0.30 EUR"`, "cost: needs --price, of one kWh")
}

// electricity finds what was taken, and its price. It is long because each of
// the ways to know what was taken has its own refusals.
func (a *app) electricity(ctx context.Context, n *costFlags, b *bill) error {
	var given []string
	for _, f := range []string{"meter", "pulses", "power-log", "duty", "program"} {
		if n.changed(f) {
			given = append(given, "--"+f)
		}
	}
	switch {
	case len(given) == 0:
		return desk.Usagef(`write --meter "12345.6 to 12363.9", or another way; lehr cost --help lists them`, "cost: nothing says how much electricity")
	case len(given) > 1:
		return desk.Usagef("leave one of them out", "cost: both %s and %s", given[0], given[1])
	}
	if n.hours != "" {
		d, err := unit.ParseDuration(n.hours)
		if err != nil {
			return desk.AsUsage("cost: --hours", err)
		}
		b.hours = d.Hours()
	}
	start, hasStart := unit.Clock(0), n.start != ""
	if hasStart {
		var err error
		if start, err = unit.ParseClock(n.start); err != nil {
			return desk.AsUsage("cost: --start", err)
		}
	}
	var steps []cost.Step
	b.measured = true
	switch given[0] {
	case "--meter":
		before, after, err := parseMeter(n.meter)
		if err != nil {
			return desk.AsUsage("cost: --meter", err)
		}
		b.kWh, b.source = after-before, "two readings of the meter"
	case "--pulses":
		if n.pulses < 1 || n.perKWh < 1 {
			return desk.Usagef("write --pulses 18342 --per-kwh 1000", "cost: --pulses and --per-kwh: must be above 0")
		}
		b.kWh, b.source = cost.Pulses(float64(n.pulses), float64(n.perKWh)), term.Counted(n.pulses, "pulse")+" of the meter"
	case "--power-log":
		var l cost.Log
		if err := a.Read(n.log, func(r io.Reader) (err error) {
			l, err = cost.ReadLog(r, desk.ShownName(n.log), n.power)
			return err
		}); err != nil {
			return err
		}
		if n.power > 0 && l.Greatest > 1.1*n.power.Watts() {
			return term.WithHint(fmt.Errorf("%s: a reading of %s is more than the %s of the kiln", desk.ShownName(n.log), unit.Power(l.Greatest).Text(b.studio.Units), n.power.Text(b.studio.Units)), "look at the unit in its heading")
		}
		if !hasStart && l.Timed {
			start, hasStart = l.Start, true
		}
		steps, b.kWh, b.hours = l.Steps, cost.KWh(l.Steps), l.Seconds()/3600
		b.source = fmt.Sprintf("a power log of %d readings", l.Readings)
	case "--duty":
		share, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(n.duty, "%")), 64)
		switch {
		case err != nil || !strings.HasSuffix(n.duty, "%") || !(share > 0 && share <= 100):
			return desk.Usagef("write --duty 30%", "cost: --duty %s: must be above 0 %% and at most 100 %%", n.duty)
		case n.power <= 0:
			return desk.Usagef("write --power 1.8kW", "cost: --duty needs --power")
		case b.hours <= 0:
			return desk.Usagef("write --hours 10h", "cost: --duty needs --hours")
		}
		b.computed = true
		b.kWh, b.source = cost.Duty(n.power, share/100, b.hours), fmt.Sprintf("%s, on for %s %% of %s h", n.power.Text(b.studio.Units), term.Short(share), term.Short(b.hours))
	case "--program":
		b.measured = false
		if err := a.estimated(ctx, n, b); err != nil {
			return err
		}
		if b.load.Start != nil && !hasStart {
			start, hasStart = *b.load.Start, true
		}
	}
	if limit := n.power.Watts() / 1000 * b.hours; b.measured && limit > 0 && b.kWh > 1.02*limit {
		return term.WithHint(fmt.Errorf("cost: %s kWh: a kiln of %s takes at most %s kWh in %s h", term.Short(b.kWh), n.power.Text(b.studio.Units), round3Text(limit), term.Short(b.hours)), "was it Wh, or were several nights between the readings?")
	}
	return b.priced(start, hasStart, steps)
}

// priced puts the electricity into money.
func (b *bill) priced(start unit.Clock, hasStart bool, steps []cost.Step) error {
	if len(b.tariff.Windows) > 1 && !hasStart {
		return desk.Usagef("write --start 20:00", "cost: a price by the hour needs to know when it began")
	}
	switch {
	case steps != nil:
		b.power = b.tariff.Cost(start, steps)
	case len(b.tariff.Windows) > 1 && b.hours == 0:
		return desk.Usagef("write --hours 13h", "cost: a price by the hour needs to know how long it took")
	default:
		b.power = cost.Money{Amount: b.kWh * b.tariff.Mean(start, b.hours*3600), Currency: b.tariff.Currency}
		if len(b.tariff.Windows) > 1 {
			b.source += ", taken evenly over the hours"
		}
	}
	return nil
}

// estimated computes what a program should take.
func (a *app) estimated(ctx context.Context, n *costFlags, b *bill) error {
	if b.load == nil {
		return desk.Usagef("write: lehr cost LOAD.toml --program "+desk.ShellWord(n.program), "cost: --program needs a load")
	}
	s, err := flags.ReadProgram(a.App, "cost", []string{n.program})
	if err != nil {
		return err
	}
	rep, err := verify.Program(ctx, s, b.load, b.studio, kiln.Limits{})
	if err != nil {
		return err
	}
	e, ok := rep.Energy()
	if !ok {
		return term.WithHint(fmt.Errorf("cost: the studio file does not say enough to estimate electricity"), "give power and fastest_heating, or power, holding and holding_duty, in [kiln]")
	}
	b.kWh, b.source = e.KWh(), "ESTIMATE from the program, the kiln taken as one lump"
	if b.hours == 0 {
		b.hours = rep.Actual.Total().Hours()
	}
	return nil
}

// parseMeter reads "12345.6 to 12363.9".
func parseMeter(text string) (before, after float64, err error) {
	hint := `write "12345.6 to 12363.9", in kWh`
	x, y, ok := strings.Cut(text, " to ")
	if !ok {
		return 0, 0, term.WithHint(fmt.Errorf("%s: has no two readings", text), hint)
	}
	read := func(s string) float64 {
		v, e := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(s), "kWh")), 64)
		if e != nil || !(v >= 0 && v < 1e9) {
			err = term.WithHint(fmt.Errorf("%s: is no reading in kWh", strings.TrimSpace(s)), hint)
		}
		return v
	}
	before, after = read(x), read(y)
	if err == nil && after <= before {
		err = term.WithHint(fmt.Errorf("%s: the meter did not go on", text), "the earlier reading comes first; if it went over its end, add the turn to the second")
	}
	return before, after, err
}

// addLines reads rod and everything else, and sums up.
func (b *bill) addLines(n *costFlags) error {
	b.total = b.power
	add := func(flag, what string, m cost.Money, source string) error {
		if m.Currency != b.total.Currency {
			return desk.Usagef("use one currency", "cost: --%s: %s, and the electricity in %s", flag, m.Currency, b.total.Currency)
		}
		b.lines = append(b.lines, billLine{what, m, source})
		b.total.Amount += m.Amount
		return nil
	}
	for _, text := range n.rods {
		amount, per, ok := strings.Cut(text, " at ")
		m, err := unit.ParseMass(amount)
		if err != nil || !ok {
			return desk.Usagef(`write --rod "2100g at 45 EUR/kg"`, "cost: --rod %s: is no mass and price", text)
		}
		money, by, ok := strings.Cut(per, "/")
		one, err := unit.ParseMass("1 " + strings.TrimSpace(by))
		if err != nil || !ok {
			return desk.Usagef(`write --rod "2100g at 45 EUR/kg"`, "cost: --rod %s: the price is of no mass", text)
		}
		price, err := cost.ParseMoney(money)
		if err != nil {
			return desk.AsUsage("cost: --rod", err)
		}
		price.Amount *= float64(m / one)
		if err := add("rod", "rod, "+desk.GramsText(m), price, strings.TrimSpace(per)); err != nil {
			return err
		}
	}
	for _, text := range n.lines {
		what, money, ok := strings.Cut(text, ":")
		if what = strings.TrimSpace(what); !ok || what == "" {
			return desk.Usagef(`write --line "oxygen: 12 EUR"`, "cost: --line %s: has no name and amount", text)
		}
		m, err := cost.ParseMoney(money)
		if err != nil {
			return desk.AsUsage("cost: --line", err)
		}
		if err := add("line", what, m, "as given"); err != nil {
			return err
		}
	}
	return nil
}

// share gives each piece its part by the shelf that it covers.
func (b *bill) share() error {
	var counts []int
	var areas []float64
	for _, p := range b.load.Pieces {
		foot, _, err := footOf(p)
		if err != nil {
			return fmt.Errorf("cost: %w", err)
		}
		counts = append(counts, p.Count)
		areas = append(areas, float64(foot.Across)*float64(foot.Along))
	}
	b.each = cost.Shares(b.total.Amount, counts, areas)
	return nil
}
