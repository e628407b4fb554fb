package checks

import (
	"fmt"
	"slices"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
	"lehr/safety/figure"
	"lehr/safety/quantity"
	"lehr/safety/source"
)

// AirFlags are the flags of lehr safety air, as typed.
type AirFlags struct {
	Load                     flags.Load
	Facts                    []string
	Capture, Slot, Perimeter string
	Session                  string
	Given                    []*FactFlag
}

// Air is lehr safety air.
func Air(a *desk.App, r *AirFlags, args []string) error {
	if stop, err := Danger(a, "air", r.Facts); stop {
		return err
	}
	facts, _, err := factsOf(a, "air", &r.Load, args, r.Facts)
	if err != nil {
		return err
	}
	var flags []FactFlag
	for _, x := range r.Given {
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
		err = airJSON(a, rep)
	} else {
		err = showAir(a, rep, f.Units)
	}
	if err != nil {
		return err
	}
	return desk.OverIf(len(rep.Passed) > 0)
}

// fill puts the flags that are no facts into the question.
func (r *AirFlags) fill(q *figure.AirQuestion) (err error) {
	if r.Capture != "" {
		if q.Capture, err = quantity.Speeds.Parse(r.Capture); err != nil {
			return desk.AsUsage("air: --capture", err)
		}
	}
	for _, x := range []struct {
		flag, value string
		into        *unit.Length
	}{{"slot", r.Slot, &q.Slot}, {"perimeter", r.Perimeter, &q.CanopyPerimeter}} {
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
	if q.Session, err = unit.ParseDuration(r.Session); err != nil {
		return desk.AsUsage("air: --session", err)
	}
	if q.Session <= 0 {
		return desk.Usagef("write --session 1h", "air: --session %s: must be above zero", r.Session)
	}
	return nil
}

func showAir(a *desk.App, r figure.AirReport, sys unit.System) error {
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
	showSources(a, sources)
	showDeferrals(a, r.Defer)
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
		return term.Short3(unit.Delta(x.Number).Fahrenheit()) + " °F"
	}
	u := x.Unit
	if sys == unit.US {
		switch u {
		case "kg/h":
			return quantity.GasFlows.Text(quantity.KilogramsPerHour(x.Number), sys)
		case "kg":
			return term.Short3(x.Number/poundKg) + " lb"
		case "kW":
			return term.Short3(x.Number*btuPerKWh) + " BTU/h"
		}
	}
	if u == "1/h" {
		u = "per hour"
	}
	return term.Short3(x.Number) + " " + u
}

// airFigureJSON is one figure; the keys carry the unit, and one of them is
// there.
type airFigureJSON map[string]any

func airJSON(a *desk.App, r figure.AirReport) error {
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
