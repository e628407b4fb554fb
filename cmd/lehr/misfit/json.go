package misfit

import (
	"lehr/anneal/seal/contents"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

type sealPlaceJSON struct {
	Arrangement  string     `json:"arrangement,omitempty"`
	Place        string     `json:"place"`
	In           string     `json:"in"`
	Next         string     `json:"next,omitempty"`
	Buried       bool       `json:"buried"`
	Hoop         report.Num `json:"hoop_MPa"` // worst of the range
	ExpectedHoop report.Num `json:"expected_hoop_MPa"`
	LowestHoop   report.Num `json:"lowest_hoop_MPa"`
	Radial       report.Num `json:"radial_MPa"`
	ExpectedRad  report.Num `json:"expected_radial_MPa"`
}

type sealFindingJSON struct {
	Kind string `json:"kind"`
	Of   string `json:"of,omitempty"`
	Text string `json:"text"`
}

type sealStageJSON struct {
	Rate    report.Num `json:"rate_C_per_h"`
	Target  report.Num `json:"target_C"`
	Hold    report.Num `json:"hold_min"`
	Reasons []string   `json:"reasons"`
}

type sealJSON struct {
	Glass            string            `json:"glass"`
	Piece            string            `json:"piece,omitempty"`
	With             []string          `json:"with"`
	Verdict          string            `json:"verdict"`
	Setting          report.Num        `json:"setting_C"`
	SettingLow       report.Num        `json:"setting_low_C"`
	SettingClosed    *report.Num       `json:"setting_closed_form_C,omitempty"`
	Pressure         report.Num        `json:"pressure_MPa"` // worst of the range
	ExpectedPressure report.Num        `json:"expected_pressure_MPa"`
	LowestPressure   report.Num        `json:"lowest_pressure_MPa"`
	Worst            report.Num        `json:"surface_MPa"`
	Limit            report.Num        `json:"limit_MPa"`
	Places           []sealPlaceJSON   `json:"places"`
	Greatest         report.Num        `json:"greatest_mm,omitempty"`
	LeastCover       report.Num        `json:"least_cover_mm,omitempty"`
	Cover            report.Num        `json:"cover_mm,omitempty"`
	LeastApart       report.Num        `json:"least_apart_mm,omitempty"`
	Retardation      report.Num        `json:"retardation_nm,omitempty"`
	RetardationAgain report.Num        `json:"retardation_after_second_anneal_nm,omitempty"`
	Findings         []sealFindingJSON `json:"findings"`
	Cautions         []sealFindingJSON `json:"cautions"`
	WarmUp           []sealStageJSON   `json:"warm_up,omitempty"`
	WarmUpTotal      report.Num        `json:"warm_up_h,omitempty"`
	WarmUpReady      string            `json:"warm_up_ready,omitempty"`
	Foot             []string          `json:"foot"`
}

// printJSON prints the same as showSeal. Units are metric, as the keys say, but
// for the texts.
func printJSON(a *desk.App, v sealView) error {
	r := v.cases[0].report
	mpa := func(s unit.Stress) report.Num { return report.Num(s.Megapascals()) }
	out := sealJSON{Glass: v.glass.Name, Piece: v.piece, With: v.what, Verdict: words.SealVerdict(v.verdict()),
		Setting: report.Num(r.Setting.Celsius()), SettingLow: report.Num(r.SettingLow.Celsius()),
		Pressure: mpa(r.Pressure.High), ExpectedPressure: mpa(r.Pressure.Expected), LowestPressure: mpa(r.Pressure.Low),
		Worst: mpa(r.Worst), Limit: mpa(r.Limit), Greatest: report.Num(r.Greatest.Millimeters()), LeastCover: report.Num(r.LeastCover.Millimeters()),
		Cover: report.Num(r.Cover.Millimeters()), LeastApart: report.Num(r.LeastApart.Millimeters()), Places: []sealPlaceJSON{}, Findings: []sealFindingJSON{}, Cautions: []sealFindingJSON{}, Foot: []string{defers}}
	if !r.SettingClosed.IsZero() {
		x := report.Num(r.SettingClosed.Celsius())
		out.SettingClosed = &x
	}
	if r.Light.Known {
		out.Retardation, out.RetardationAgain = report.Num(r.Light.Now*1e9), report.Num(r.Light.Again*1e9)
	}
	said := map[string]bool{}
	for _, c := range v.cases {
		out.Worst = max(out.Worst, mpa(c.report.Worst))
		for _, p := range c.report.Places {
			out.Places = append(out.Places, sealPlaceJSON{c.title, string(p.Kind), p.In, p.Next, !p.Kind.AtSurface(),
				mpa(p.Hoop.High), mpa(p.Hoop.Expected), mpa(p.Hoop.Low), mpa(p.Radial.High), mpa(p.Radial.Expected)})
		}
		for _, f := range c.report.Findings {
			if text := v.words(f, c.report); !said[text] {
				said[text] = true
				out.Findings = append(out.Findings, sealFindingJSON{string(f.Kind), f.Of, text})
			}
		}
	}
	for _, c := range v.cautions() {
		out.Cautions = append(out.Cautions, sealFindingJSON{Kind: c.ID, Text: c.Text})
	}
	if v.warm != nil {
		out.WarmUpTotal = report.Num(v.warm.Total.Hours())
		if v.start != nil {
			at, _ := v.start.Add(v.warm.Total)
			out.WarmUpReady = at.String()
		}
		for _, s := range v.warm.Stages {
			stage := sealStageJSON{Rate: report.Num(s.Rate.KelvinPerHour()), Target: report.Num(s.To.Celsius()), Hold: report.Num(s.Hold.Minutes()), Reasons: []string{}}
			for _, w := range s.Reasons {
				stage.Reasons = append(stage.Reasons, words.WarmUp(w))
			}
			out.WarmUp = append(out.WarmUp, stage)
		}
	}
	return a.PrintJSON(out)
}

type materialJSON struct {
	Name   string     `json:"name"`
	Title  string     `json:"title"`
	Kind   string     `json:"kind"`
	Value  report.Num `json:"expansion_per_K,omitempty"`
	Low    report.Num `json:"expansion_low_per_K,omitempty"`
	High   report.Num `json:"expansion_high_per_K,omitempty"`
	Melts  report.Num `json:"melts_C,omitempty"`
	Status string     `json:"status"`
}

func materialsJSON(a *desk.App) error {
	list := []materialJSON{}
	for _, m := range contents.Materials() {
		e := m.Expansion
		row := materialJSON{Name: m.Name, Title: m.Title, Kind: string(m.Kind), Value: report.Num(e.Number), Low: report.Num(e.Low), High: report.Num(e.High), Status: string(e.Status)}
		if m.Melting.Known() {
			row.Melts = report.Num(unit.Kelvin(m.Melting.Number).Celsius())
		}
		if !e.Known() {
			row.Status = "assumed"
		}
		list = append(list, row)
	}
	return a.PrintJSON(map[string]any{"materials": list})
}
