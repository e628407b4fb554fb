package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/safety/figure"
	"lehr/safety/source"
)

// circuitFlags are the flags of lehr safety circuit, as typed.
type circuitFlags struct {
	load                                    flags.Load
	facts                                   []string
	current, power, voltage, breaker, plate string
}

func newSafetyCircuitCommand(a *app) *cobra.Command {
	k := &circuitFlags{}
	c := &cobra.Command{
		Use:   "circuit --current <current> [--breaker <current>]",
		Short: "The kiln's rated current against its breaker",
		Long: `Sets the breaker against the rated current of the kiln: at least 1.25 times it, as US practice asks of a load that runs three hours and more, and at most what the plate on the kiln names, else 1.5 times it, the next standard size up allowed. A breaker that is too small trips or heats; one that is too big lets a fault burn. The current comes from --current, or from --power and --voltage of a single-phase kiln; what no flag gives is taken from the facts of the session. A licensed electrician under your local code decides.

Status 3: the breaker is smaller or bigger than that.`,
		Example: `lehr safety circuit --current 24A --breaker 30A
lehr safety circuit --current 24A --breaker 50A --plate 40A
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
	f.StringVar(&k.plate, "plate", "", "biggest breaker that the plate on the kiln names, a `current`")
	flags.AddFact(c, &k.facts)
	return c
}

func (a *app) runCircuit(k *circuitFlags) error {
	if k.current != "" && k.power+k.voltage != "" {
		return desk.Usagef("the current alone will do; or give power and voltage", "circuit: both --current and --power or --voltage")
	}
	if stop, err := a.danger("circuit", k.facts); stop {
		return err
	}
	facts, _, err := a.factsOf("circuit", &k.load, nil, k.facts)
	if err != nil {
		return err
	}
	typed, err := factsOfFlags("circuit", []factFlag{{"current", "kiln_current", k.current}, {"power", "kiln_power", k.power},
		{"voltage", "kiln_voltage", k.voltage}, {"breaker", "breaker", k.breaker}, {"plate", "breaker_plate", k.plate}})
	if err != nil {
		return err
	}
	if k.power != "" || k.voltage != "" {
		facts.KilnCurrent = 0 // what is typed decides
	}
	if k.current != "" {
		facts.KilnPower = 0
	}
	f := facts.Over(typed)
	rated, ok := f.KilnRating()
	if !ok {
		return desk.Usagef("write --current 24A, or --power 5760W --voltage 240V", "circuit: the rated current is not known")
	}
	r, err := figure.Circuit(rated, f.Breaker, f.BreakerPlate)
	if err != nil {
		return err
	}
	over := r.Fit == figure.TooSmall || r.Fit == figure.TooBig
	if a.JSON {
		if err := a.circuitJSON(r); err != nil {
			return err
		}
		return desk.OverIf(over)
	}
	a.showCircuit(r)
	return desk.OverIf(over)
}

// circuitAssumed is what the figures of a circuit assume.
var circuitAssumed = []string{
	"a kiln counts as a load of three hours and more; US practice; one phase; the wire must carry as much as the breaker",
}

func (a *app) showCircuit(r figure.CircuitReport) {
	least := fmt.Sprintf("the kiln asks for %s × 1.25 = %s at least", r.Rated.Text(), r.Least.Text())
	most := fmt.Sprintf("bears %s at most", r.Most.Text())
	if r.Plate {
		most += ", says its plate"
	} else {
		most += fmt.Sprintf(" (%s × 1.5, next standard size)", r.Rated.Text())
	}
	breaker := "breaker " + r.Breaker.Text()
	switch r.Fit {
	case figure.TooSmall:
		a.Lead(term.Bad, "TOO SMALL:", " ", breaker+"; "+least+".")
	case figure.TooBig:
		a.Lead(term.Bad, "TOO BIG:", " ", breaker+"; the kiln "+most+". A fault can burn before such a breaker trips: a licensed electrician looks before the kiln runs.")
	case figure.Fits:
		a.Lead(term.Good, "Within the limits:", " ", breaker+"; "+least+" and "+most+".")
	default:
		a.Prose(0, strings.Replace(term.Capital(least), "asks for", "asks for a breaker and wire of", 1)+" and "+most+".")
	}
	if r.Next > 0 {
		a.Prose(0, "Next standard breaker: "+r.Next.Text()+". The wire must carry as much as the breaker.")
	}
	a.Assumed(circuitAssumed)
	a.showSources(r.Sources)
	a.showDeferrals(r.Defer)
}

func (a *app) circuitJSON(r figure.CircuitReport) error {
	verdict := map[figure.Fit]string{figure.NotKnown: "breaker not given", figure.Fits: "within limits", figure.TooSmall: "over limit", figure.TooBig: "over limit"}[r.Fit]
	var breaker *report.Num
	if r.Breaker > 0 {
		b := report.Num(r.Breaker)
		breaker = &b
	}
	return a.PrintJSON(struct {
		Verdict string        `json:"verdict"`
		Fit     figure.Fit    `json:"fit"`
		Rated   report.Num    `json:"rated_A"`
		Least   report.Num    `json:"least_A"`
		Most    report.Num    `json:"most_A"`
		Plate   bool          `json:"most_from_plate"`
		Next    report.Num    `json:"next_standard_breaker_A"`
		Breaker *report.Num   `json:"breaker_A"`
		Status  source.Status `json:"status"`
		Assumed []string      `json:"assumptions"`
		Sources []string      `json:"sources"`
		Foot    []string      `json:"foot"`
	}{verdict, r.Fit, report.Num(r.Rated), report.Num(r.Least), report.Num(r.Most), r.Plate, report.Num(r.Next), breaker, r.Status, circuitAssumed, sourceCites(r.Sources), deferralTexts(r.Defer)})
}
