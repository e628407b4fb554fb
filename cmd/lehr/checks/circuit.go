package checks

import (
	"fmt"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/safety/figure"
	"lehr/safety/source"
)

// CircuitFlags are the flags of lehr safety circuit, as typed.
type CircuitFlags struct {
	load                                    flags.Load
	Facts                                   []string
	Current, Power, Voltage, Breaker, Plate string
}

// Circuit is lehr safety circuit.
func Circuit(a *desk.App, k *CircuitFlags) error {
	if k.Current != "" && k.Power+k.Voltage != "" {
		return desk.Usagef("the current alone will do; or give power and voltage", "circuit: both --current and --power or --voltage")
	}
	if stop, err := Danger(a, "circuit", k.Facts); stop {
		return err
	}
	facts, _, err := factsOf(a, "circuit", &k.load, nil, k.Facts)
	if err != nil {
		return err
	}
	typed, err := factsOfFlags("circuit", []FactFlag{{"current", "kiln_current", k.Current}, {"power", "kiln_power", k.Power},
		{"voltage", "kiln_voltage", k.Voltage}, {"breaker", "breaker", k.Breaker}, {"plate", "breaker_plate", k.Plate}})
	if err != nil {
		return err
	}
	if k.Power != "" || k.Voltage != "" {
		facts.KilnCurrent = 0 // what is typed decides
	}
	if k.Current != "" {
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
	over := r.Fit != figure.Fits && r.Fit != figure.NotKnown
	if a.JSON {
		if err := circuitJSON(a, r); err != nil {
			return err
		}
		return desk.OverIf(over)
	}
	showCircuit(a, r)
	return desk.OverIf(over)
}

// circuitAssumed is what the figures of a circuit assume.
var circuitAssumed = []string{
	"a kiln counts as a load of three hours and more; US practice; one phase; the wire must carry as much as the breaker",
}

func showCircuit(a *desk.App, r figure.CircuitReport) {
	amps := fmt.Sprintf("%s × 1.25 = %s at least", r.Rated.Text(), r.Least.Text())
	least := "the kiln asks for " + amps
	most := fmt.Sprintf("bears %s at most", r.Most.Text())
	switch {
	case r.Plate:
		most += ", says its plate"
	case r.Small:
		most += " (13.3 A or less, none on its plate; from memory)"
	default:
		most += fmt.Sprintf(" (%s × 1.5, next standard size)", r.Rated.Text())
	}
	breaker := "breaker " + r.Breaker.Text()
	switch r.Fit {
	case figure.TooSmall:
		a.Lead(term.Bad, "TOO SMALL:", " ", breaker+"; "+least+".")
	case figure.TooBig:
		a.Lead(term.Bad, "TOO BIG:", " ", breaker+"; the kiln "+most+". A fault can burn before such a breaker trips: a licensed electrician looks before the kiln runs.")
	case figure.NoneFits:
		a.Lead(term.Bad, "NONE FITS:", " ", least+" and "+most+". No standard breaker fits both: ask its maker and a licensed electrician before the kiln runs.")
	case figure.Fits:
		a.Lead(term.Good, "Within the limits:", " ", breaker+"; "+least+" and "+most+".")
	default:
		a.Prose(0, "The kiln asks for a breaker and wire of "+amps+" and "+most+".")
	}
	if r.Fit != figure.NoneFits {
		a.Prose(0, "Next standard breaker: "+r.Next.Text()+". The wire must carry as much as the breaker.")
	}
	a.Assumed(circuitAssumed)
	showSources(a, r.Sources)
	showDeferrals(a, r.Defer)
}

func circuitJSON(a *desk.App, r figure.CircuitReport) error {
	verdict := map[figure.Fit]string{figure.NotKnown: "breaker not given", figure.Fits: "within limits", figure.TooSmall: "over limit", figure.TooBig: "over limit", figure.NoneFits: "over limit"}[r.Fit]
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
