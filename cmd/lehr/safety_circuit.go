package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"lehr/glass/unit"
	"lehr/safety/figure"
	"lehr/safety/source"
)

// circuitFlags are the flags of lehr safety circuit, as typed.
type circuitFlags struct {
	load                             loadFlags
	facts                            []string
	current, power, voltage, breaker string
}

func newSafetyCircuitCommand(a *app) *cobra.Command {
	k := &circuitFlags{}
	c := &cobra.Command{
		Use:   "circuit --current <current> [--breaker <current>]",
		Short: "The kiln's rated current against its breaker",
		Long: `Sets 1.25 times the rated current of the kiln against its breaker, as US practice asks of a load that runs three hours and more. The current comes from --current, or from --power and --voltage of a single-phase kiln; what no flag gives is taken from the facts of the session. A licensed electrician under your local code decides.

Status 3: the breaker is smaller than that.`,
		Example: `lehr safety circuit --current 24A --breaker 30A
lehr safety circuit --power 5760W --voltage 240V --breaker 25A`,
		Args:        noArgs,
		Annotations: withJSON(),
		RunE:        func(*cobra.Command, []string) error { return a.runCircuit(k) },
	}
	f := c.Flags()
	f.StringVar(&k.current, "current", "", "rated `current` of the kiln")
	f.StringVar(&k.power, "power", "", "rated `power` of the kiln")
	f.StringVar(&k.voltage, "voltage", "", "rated `voltage` of the kiln")
	f.StringVar(&k.breaker, "breaker", "", "breaker of its circuit, a `current`")
	f.StringArrayVar(&k.facts, "fact", nil, "a fact of the session as `name=value`, repeatable")
	must(c.RegisterFlagCompletionFunc("fact", completeFact))
	return c
}

func (a *app) runCircuit(k *circuitFlags) error {
	if k.current != "" && k.power+k.voltage != "" {
		return usagef("the current alone will do; or give power and voltage", "circuit: both --current and --power or --voltage")
	}
	facts, _, err := a.factsOf("circuit", &k.load, nil, k.facts)
	if err != nil {
		return err
	}
	typed, err := factsOfFlags("circuit", []factFlag{{"current", "kiln_current", k.current}, {"power", "kiln_power", k.power},
		{"voltage", "kiln_voltage", k.voltage}, {"breaker", "breaker", k.breaker}})
	if err != nil {
		return err
	}
	if k.power != "" || k.voltage != "" {
		facts.KilnCurrent = 0 // what is typed decides
	}
	f := facts.Over(typed)
	rated, ok := f.RatedKilnCurrent()
	if !ok {
		return usagef("write --current 24A, or --power 5760W --voltage 240V", "circuit: the rated current is not known")
	}
	r, err := figure.Circuit(rated, f.Breaker)
	if err != nil {
		return err
	}
	if a.json {
		if err := a.circuitJSON(r); err != nil {
			return err
		}
		return overIf(r.Short)
	}
	a.showCircuit(r, f.Units)
	return overIf(r.Short)
}

func (a *app) showCircuit(r figure.CircuitReport, sys unit.System) {
	sum := fmt.Sprintf("%s × 1.25 = %s", r.Rated.Text(sys), r.Least.Text(sys))
	breaker := ": breaker " + r.Breaker.Text(sys) + "; the kiln asks for " + sum + " at least.\n"
	switch {
	case r.Short:
		a.print(a.style(styleBad, "TOO SMALL") + breaker)
	case r.Breaker > 0:
		a.print(a.style(styleGood, "Within the limit") + breaker)
	default:
		a.print("The kiln asks for " + sum + " of breaker and wire at least.\n")
	}
	a.print("Next standard breaker: " + r.Next.Text(sys) + ". The wire must carry as much as the breaker.\n")
	a.assumed(r.Assumed)
	a.showSources(r.Sources)
	a.showDeferrals(r.Defer)
}

func (a *app) circuitJSON(r figure.CircuitReport) error {
	verdict, breaker := "breaker not given", (*num)(nil)
	if r.Breaker > 0 {
		b := num(r.Breaker)
		breaker, verdict = &b, "within limits"
		if r.Short {
			verdict = "over limit"
		}
	}
	return a.printJSON(struct {
		Verdict string        `json:"verdict"`
		Rated   num           `json:"rated_A"`
		Least   num           `json:"least_A"`
		Next    num           `json:"next_standard_breaker_A"`
		Breaker *num          `json:"breaker_A"`
		Status  source.Status `json:"status"`
		Assumed []string      `json:"assumptions"`
		Sources []string      `json:"sources"`
		Foot    []string      `json:"foot"`
	}{verdict, num(r.Rated), num(r.Least), num(r.Next), breaker, r.Status, r.Assumed, sourceCites(r.Sources), deferralTexts(r.Defer)})
}
