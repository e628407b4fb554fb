package main

import (
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
	"lehr/safety/figure"
	"lehr/safety/quantity"
	"lehr/safety/source"
)

// airFlags are the flags of lehr safety air, as typed.
type airFlags struct {
	load                     flags.Load
	facts                    []string
	capture, slot, perimeter string
	session                  string
	given                    []*factFlag
}

func newSafetyAirCommand(a *app) *cobra.Command {
	r := &airFlags{}
	c := &cobra.Command{
		Use:   "air [<load.toml>] [--distance <length> --hood <opening>] [--fuel <gas> --fuel-flow <mass per time>]",
		Short: "Estimate hood airflow, make-up air and the gases of the torch",
		Long: `Estimates how much air kinds of hoods need to draw fume in from the far edge of the work, the air that must come in for it, and what the torch gives off: carbon dioxide, water and heat, and what they do to the room. Airflows stand in m³/h and cfm.

All are estimates to talk over with a ventilation engineer, never a design. Carbon monoxide and nitrogen dioxide are not computed; they must be measured.

What no flag gives is taken from the facts of the session; what cannot be computed is named with the fact it needs.

Status 3: what was stated does not keep a limit: an exhaust below what carbon dioxide alone asks, below what the studio's own hood needs or, without a hood, below what the welding rules ask of the room; air slower at the work than 0.51 m/s or --capture; carbon dioxide above 5000 ppm or oxygen above 23.5 % in the room.`,
		Example: `lehr safety air --distance 250mm --hood "300mm x 200mm"
lehr safety air --fuel propane --fuel-flow 200g/h --room 76m3 --exhaust 500cfm
lehr safety air --distance 10in --hood "12in x 8in" --units f`,
		Args:        atMost(1),
		Annotations: withJSON(),
		RunE:        func(_ *cobra.Command, args []string) error { return a.runAir(r, args) },
	}
	f := c.Flags()
	fact := func(flag, fact, usage string) {
		x := &factFlag{flag: flag, fact: fact}
		r.given = append(r.given, x)
		f.StringVar(&x.value, flag, "", usage)
	}
	f.StringVar(&r.capture, "capture", "", "air `velocity` wanted at the far edge of the work (default: 0.51 m/s, 100 ft/min)")
	fact("measured", "capture_speed", "air `velocity` at the far edge of the work, as measured")
	fact("vent", "vent", "`kind` of hood: plain, flanged, slot, booth, canopy, fan, windows or none")
	fact("distance", "hood_distance", "`length` from the hood's opening to the far edge of the work")
	fact("hood", "hood_size", "`opening` of the hood, such as \"300mm x 200mm\"")
	f.StringVar(&r.slot, "slot", "", "`length` of a slot hood (default: five times its width, with the area of the hood)")
	f.StringVar(&r.perimeter, "perimeter", "", "`length` around an overhead canopy (default: a square with the area of the hood)")
	fact("exhaust", "exhaust", "`airflow` of the exhaust, as measured")
	fact("inlet", "inlet", "`opening` through which fresh air comes in")
	fact("room", "room", "`volume` of the room, or its three sides")
	fact("ceiling", "ceiling", "`height` of the lowest ceiling")
	fact("workers", "workers", "`number` of people at a torch in the room")
	fact("fuel", "fuel", "fuel `gas`: propane or \"natural gas\"")
	fact("fuel-flow", "fuel_flow", "fuel burned by one torch, `mass per time`, such as 0.2kg/h")
	fact("oxygen-flow", "oxygen_flow", "oxygen that goes on coming with the torch out, an `airflow` such as 5L/min")
	f.StringVar(&r.session, "session", "1h", "how `long` the torch burns, for the build-up in the room")
	a.addFactFlags(c, &r.facts, &r.load)
	return c
}

func (a *app) runAir(r *airFlags, args []string) error {
	if stop, err := a.danger("air", r.facts); stop {
		return err
	}
	facts, _, err := a.factsOf("air", &r.load, args, r.facts)
	if err != nil {
		return err
	}
	var flags []factFlag
	for _, x := range r.given {
		flags = append(flags, *x)
	}
	typed, err := factsOfFlags("air", flags)
	if err != nil {
		return err
	}
	f := facts.Over(typed)
	q := f.AirQuestion()
	if err := r.fill(&q); err != nil {
		return err
	}
	rep, err := figure.Ventilation(q)
	if err != nil {
		return localError(err, f.Units)
	}
	if len(rep.Hoods)+len(rep.Room)+len(rep.Torch)+len(rep.Passed) == 0 {
		return desk.Usagef(`write --distance 250mm --hood "300mm x 200mm", or --fuel propane --fuel-flow 0.2kg/h`, "air: nothing to compute from")
	}
	if a.JSON {
		err = a.airJSON(rep)
	} else {
		err = a.showAir(rep, f.Units)
	}
	if err != nil {
		return err
	}
	return desk.OverIf(len(rep.Passed) > 0)
}

// fill puts the flags that are no facts into the question.
func (r *airFlags) fill(q *figure.AirQuestion) (err error) {
	if r.capture != "" {
		if q.Capture, err = quantity.Speeds.Parse(r.capture); err != nil {
			return desk.AsUsage("air: --capture", err)
		}
	}
	for _, x := range []struct {
		flag, value string
		into        *unit.Length
	}{{"slot", r.slot, &q.Slot}, {"perimeter", r.perimeter, &q.CanopyPerimeter}} {
		if x.value == "" {
			continue
		}
		if *x.into, err = unit.ParseLength(x.value); err != nil {
			return desk.AsUsage("air: --"+x.flag, err)
		}
		if *x.into <= 0 {
			return desk.Usagef("", "air: --%s %s: must be above zero", x.flag, x.value)
		}
	}
	if q.Session, err = unit.ParseDuration(r.session); err != nil {
		return desk.AsUsage("air: --session", err)
	}
	if q.Session <= 0 {
		return desk.Usagef("write --session 1h", "air: --session %s: must be above zero", r.session)
	}
	return nil
}

func (a *app) showAir(r figure.AirReport, sys unit.System) error {
	var sources []source.Source
	part := func(head string, list []figure.AirFigure, what string) error {
		if len(list) == 0 {
			return nil
		}
		if len(sources) > 0 || what == "" {
			a.Print("\n")
		}
		a.Print(a.Style(term.Bold, head) + "\n")
		var rows [][]string
		for _, x := range list {
			rows = append(rows, []string{x.What, airAmount(x.Amount, sys), x.Note, string(x.Status)})
			sources = append(sources, x.Sources...)
		}
		return a.Table([]term.Column{term.LongColumn("what"), term.LongColumn("figure"), term.LongColumn("note"), term.TextColumn("status")}, rows)
	}
	for _, p := range r.Passed {
		bound := "at least "
		if p.Kind == "co2" || p.Kind == "oxygen" {
			bound = "at most "
		}
		a.Lead(term.Bad, "NOT KEPT:", " ", p.What+" "+airAmount(p.Have, sys)+", "+bound+airAmount(p.Limit, sys)+".")
	}
	a.Prose(0, "Estimates only, to talk over with a ventilation engineer.")
	if err := part("Airflow of a hood, for "+quantity.Speeds.Text(r.Capture, sys)+" at the far edge of the work", r.Hoods, ""); err != nil {
		return err
	}
	if err := part("Room", r.Room, ""); err != nil {
		return err
	}
	if err := part("Torch", r.Torch, ""); err != nil {
		return err
	}
	if len(r.LeftOut) > 0 {
		a.Print("\n" + a.Style(term.Bold, "Not computed") + "\n")
		for _, s := range r.LeftOut {
			a.Item("- ", s)
		}
	}
	a.Assumed(r.Assumed)
	a.showSources(sources)
	a.showDeferrals(r.Defer)
	return nil
}

// btuPerKWh is how many BTU of the International Table are one kilowatt-hour.
const btuPerKWh = 3412.14

// poundKg is one pound in kilograms, exact.
const poundKg = 0.45359237

// airAmount writes an amount with its unit.
func airAmount(x figure.Amount, sys unit.System) string {
	if x.Unit == "" {
		return x.Flow.Text(sys)
	}
	switch {
	case x.Unit == "m/s":
		return quantity.Speeds.Text(quantity.Speed(x.Number), sys)
	case x.Unit == "K" && sys == unit.US:
		return term.Short(term.Round3(unit.Delta(x.Number).Fahrenheit())) + " °F"
	}
	u := x.Unit
	if sys == unit.US {
		switch u {
		case "kg/h":
			return quantity.GasFlows.Text(quantity.KilogramsPerHour(x.Number), sys)
		case "kg":
			return term.Short(term.Round3(x.Number/poundKg)) + " lb"
		case "kW":
			return term.Short(term.Round3(x.Number*btuPerKWh)) + " BTU/h"
		}
	}
	if u == "1/h" {
		u = "per hour"
	}
	return term.Short(term.Round3(x.Number)) + " " + u
}

// airFigureJSON is one figure; the keys carry the unit, and one of them is
// there.
type airFigureJSON map[string]any

func (a *app) airJSON(r figure.AirReport) error {
	keys := map[string]string{"ppm": "ppm", "kW": "kW", "K": "K", "m/s": "m_per_s", "1/h": "per_h", "kg/h": "kg_per_h", "kg": "kg", "h": "h", "%": "percent"}
	amount := func(m airFigureJSON, x figure.Amount) airFigureJSON {
		if x.Unit == "" {
			m["m3_per_h"], m["cfm"] = report.Num(x.Flow.CubicMetersPerHour()), report.Num(x.Flow.CFM())
		} else {
			m[keys[x.Unit]] = report.Num(x.Number)
		}
		return m
	}
	passed := []airFigureJSON{}
	for _, p := range r.Passed {
		passed = append(passed, airFigureJSON{"kind": p.Kind, "what": p.What, "have": amount(airFigureJSON{}, p.Have), "limit": amount(airFigureJSON{}, p.Limit)})
	}
	list := func(in []figure.AirFigure) []airFigureJSON {
		out := []airFigureJSON{}
		for _, x := range in {
			m := airFigureJSON{"what": x.What, "status": x.Status, "note": x.Note, "formula": x.Formula, "sources": sourceKeys(x.Sources)}
			out = append(out, amount(m, x.Amount))
		}
		return out
	}
	return a.PrintJSON(struct {
		Passed  []airFigureJSON `json:"passed"`
		Capture report.Num      `json:"capture_m_per_s"`
		Hoods   []airFigureJSON `json:"hoods"`
		Room    []airFigureJSON `json:"room"`
		Torch   []airFigureJSON `json:"torch"`
		LeftOut []string        `json:"not_computed"`
		Assumed []string        `json:"assumptions"`
		Foot    []string        `json:"foot"`
	}{passed, report.Num(r.Capture), list(r.Hoods), list(r.Room), list(r.Torch), filled(r.LeftOut), r.Assumed, deferralTexts(r.Defer)})
}

func sourceKeys(list []source.Source) []string {
	out := []string{}
	for _, s := range list {
		if !slices.Contains(out, s.Key) {
			out = append(out, s.Key)
		}
	}
	return out
}

func sourceCites(list []source.Source) []string {
	out := []string{}
	for _, s := range list {
		out = append(out, fmt.Sprintf("%s (%s)", s.Cite, s.Read))
	}
	return out
}

func deferralTexts(list []source.Deferral) []string {
	out := []string{}
	for _, d := range list {
		out = append(out, d.Text())
	}
	return out
}

// filled returns list, or an empty list instead of none.
func filled(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}
