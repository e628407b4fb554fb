package bench

import (
	"context"
	"fmt"
	"io"
	"strconv"
	"strings"

	"lehr/anneal/cost"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
)

// CostFlags are the flags of lehr cost, as typed.
type CostFlags struct {
	Load                *flags.Load
	Meter, Duty, Log    string
	Pulses, PerKWh      int
	Price, Start, Hours string
	Power               unit.Power
	Program             string
	Rods, Lines         []string
	Changed             func(string) bool
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

// Cost is lehr cost: what a firing costs, by the hour and by the shelf.
func Cost(ctx context.Context, a *desk.App, n *CostFlags, args []string) error {
	b := &bill{}
	var err error
	if b.studio, err = a.LocalStudio(); err != nil {
		return err
	}
	if !n.Changed("power") {
		n.Power = b.studio.Kiln.Power
	}
	b.studio.Kiln.Power = n.Power
	if len(args) == 1 {
		if b.load, _, err = flags.ReadLoad(a, "cost", n.Load, args); err != nil {
			return err
		}
	}
	if err := b.readPrice(n); err != nil {
		return err
	}
	if err := electricity(ctx, a, n, b); err != nil {
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
		return costJSON(a, b)
	}
	return showBill(a, b)
}

func (b *bill) readPrice(n *CostFlags) (err error) {
	if n.Price != "" {
		if b.tariff, err = cost.ParseTariff(n.Price); err != nil {
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
func electricity(ctx context.Context, a *desk.App, n *CostFlags, b *bill) error {
	var given []string
	for _, f := range []string{"meter", "pulses", "power-log", "duty", "program"} {
		if n.Changed(f) {
			given = append(given, "--"+f)
		}
	}
	switch {
	case len(given) == 0:
		return desk.Usagef(`write --meter "12345.6 to 12363.9", or another way; lehr cost --help lists them`, "cost: nothing says how much electricity")
	case len(given) > 1:
		return desk.Usagef("leave one of them out", "cost: both %s and %s", given[0], given[1])
	}
	if n.Hours != "" {
		d, err := unit.ParseDuration(n.Hours)
		if err != nil {
			return desk.AsUsage("cost: --hours", err)
		}
		b.hours = d.Hours()
	}
	start, hasStart := unit.Clock(0), n.Start != ""
	if hasStart {
		var err error
		if start, err = unit.ParseClock(n.Start); err != nil {
			return desk.AsUsage("cost: --start", err)
		}
	}
	var steps []cost.Step
	b.measured = true
	switch given[0] {
	case "--meter":
		before, after, err := parseMeter(n.Meter)
		if err != nil {
			return desk.AsUsage("cost: --meter", err)
		}
		b.kWh, b.source = after-before, "two readings of the meter"
	case "--pulses":
		if n.Pulses < 1 || n.PerKWh < 1 {
			return desk.Usagef("write --pulses 18342 --per-kwh 1000", "cost: --pulses and --per-kwh: must be above 0")
		}
		b.kWh, b.source = cost.Pulses(float64(n.Pulses), float64(n.PerKWh)), term.Counted(n.Pulses, "pulse")+" of the meter"
	case "--power-log":
		var l cost.Log
		if err := a.Read(n.Log, func(r io.Reader) (err error) {
			l, err = cost.ReadLog(r, desk.ShownName(n.Log), n.Power)
			return err
		}); err != nil {
			return err
		}
		if n.Power > 0 && l.Greatest > 1.1*n.Power.Watts() {
			return term.WithHint(fmt.Errorf("%s: a reading of %s is more than the %s of the kiln", desk.ShownName(n.Log), unit.Power(l.Greatest).Text(b.studio.Units), n.Power.Text(b.studio.Units)), "look at the unit in its heading")
		}
		if !hasStart && l.Timed {
			start, hasStart = l.Start, true
		}
		steps, b.kWh, b.hours = l.Steps, cost.KWh(l.Steps), l.Seconds()/3600
		b.source = fmt.Sprintf("a power log of %d readings", l.Readings)
	case "--duty":
		share, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(n.Duty, "%")), 64)
		switch {
		case err != nil || !strings.HasSuffix(n.Duty, "%") || !(share > 0 && share <= 100):
			return desk.Usagef("write --duty 30%", "cost: --duty %s: must be above 0 %% and at most 100 %%", n.Duty)
		case n.Power <= 0:
			return desk.Usagef("write --power 1.8kW", "cost: --duty needs --power")
		case b.hours <= 0:
			return desk.Usagef("write --hours 10h", "cost: --duty needs --hours")
		}
		b.computed = true
		b.kWh, b.source = cost.Duty(n.Power, share/100, b.hours), fmt.Sprintf("%s, on for %s %% of %s h", n.Power.Text(b.studio.Units), term.Short(share), term.Short(b.hours))
	case "--program":
		b.measured = false
		if err := estimated(ctx, a, n, b); err != nil {
			return err
		}
		if b.load.Start != nil && !hasStart {
			start, hasStart = *b.load.Start, true
		}
	}
	if limit := n.Power.Watts() / 1000 * b.hours; b.measured && limit > 0 && b.kWh > 1.02*limit {
		return term.WithHint(fmt.Errorf("cost: %s kWh: a kiln of %s takes at most %s kWh in %s h", term.Short(b.kWh), n.Power.Text(b.studio.Units), term.Short3(limit), term.Short(b.hours)), "was it Wh, or were several nights between the readings?")
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
func estimated(ctx context.Context, a *desk.App, n *CostFlags, b *bill) error {
	if b.load == nil {
		return desk.Usagef("write: lehr cost LOAD.toml --program "+desk.ShellWord(n.Program), "cost: --program needs a load")
	}
	s, err := flags.ReadProgram(a, "cost", []string{n.Program})
	if err != nil {
		return err
	}
	rep, err := verify.Program(ctx, s, b.load, b.studio, kiln.Limits{})
	if err != nil {
		return err
	}
	if n.Power <= 0 {
		return term.WithHint(fmt.Errorf("cost: the studio file does not say enough to estimate electricity"), "add --power 1.8kW, or give power and fastest_heating, or power, holding and holding_duty, in [kiln]")
	}
	b.source = "ESTIMATE from the program, the kiln taken as one lump"
	e, ok := rep.Energy()
	if k := &rep.Studio.Kiln; !ok {
		k.HeatingGiven = true
		e, _ = rep.Energy()
		b.source += fmt.Sprintf(" that heats at %s at most, for nobody gave fastest_heating", k.HeatRate(k.Fall.Room).Text(b.studio.Units))
		if !k.Measured {
			b.source += fmt.Sprintf(", and falls with a time constant of %s, for it was not measured", unit.FormatDuration(k.Fall.TimeConstant))
		}
	}
	b.kWh = e.KWh()
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
func (b *bill) addLines(n *CostFlags) error {
	b.total = b.power
	add := func(flag, what string, m cost.Money, source string) error {
		if m.Currency != b.total.Currency {
			return desk.Usagef("use one currency", "cost: --%s: %s, and the electricity in %s", flag, m.Currency, b.total.Currency)
		}
		b.lines = append(b.lines, billLine{what, m, source})
		b.total.Amount += m.Amount
		return nil
	}
	for _, text := range n.Rods {
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
	for _, text := range n.Lines {
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
