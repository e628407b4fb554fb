package main

import (
	"lehr/anneal/seal"
	"lehr/glass/unit"
)

type sealPlaceJSON struct {
	Arrangement  string `json:"arrangement,omitempty"`
	Place        string `json:"place"`
	In           string `json:"in"`
	Next         string `json:"next,omitempty"`
	Buried       bool   `json:"buried"`
	Hoop         num    `json:"hoop_MPa"` // worst of the range
	ExpectedHoop num    `json:"expected_hoop_MPa"`
	LowestHoop   num    `json:"lowest_hoop_MPa"`
	Radial       num    `json:"radial_MPa"`
	ExpectedRad  num    `json:"expected_radial_MPa"`
}

type sealFindingJSON struct {
	Kind string `json:"kind"`
	Of   string `json:"of,omitempty"`
	Text string `json:"text"`
}

type sealStageJSON struct {
	Rate    num      `json:"rate_C_per_h"`
	Target  num      `json:"target_C"`
	Hold    num      `json:"hold_min"`
	Reasons []string `json:"reasons"`
}

type sealJSON struct {
	Glass            string            `json:"glass"`
	Piece            string            `json:"piece,omitempty"`
	With             []string          `json:"with"`
	Verdict          string            `json:"verdict"`
	Setting          num               `json:"setting_C"`
	SettingLow       num               `json:"setting_low_C"`
	SettingClosed    *num              `json:"setting_closed_form_C,omitempty"`
	Pressure         num               `json:"pressure_MPa"` // worst of the range
	ExpectedPressure num               `json:"expected_pressure_MPa"`
	LowestPressure   num               `json:"lowest_pressure_MPa"`
	Worst            num               `json:"surface_MPa"`
	Limit            num               `json:"limit_MPa"`
	Places           []sealPlaceJSON   `json:"places"`
	Greatest         num               `json:"greatest_mm,omitempty"`
	LeastCover       num               `json:"least_cover_mm,omitempty"`
	Cover            num               `json:"cover_mm,omitempty"`
	LeastApart       num               `json:"least_apart_mm,omitempty"`
	Retardation      num               `json:"retardation_nm,omitempty"`
	RetardationAgain num               `json:"retardation_after_second_anneal_nm,omitempty"`
	Findings         []sealFindingJSON `json:"findings"`
	Cautions         []sealFindingJSON `json:"cautions"`
	WarmUp           []sealStageJSON   `json:"warm_up,omitempty"`
	WarmUpTotal      num               `json:"warm_up_h,omitempty"`
	WarmUpReady      string            `json:"warm_up_ready,omitempty"`
}

// sealJSON prints the same as showSeal. Units are metric, as the keys say, but
// for the texts.
func (a *app) sealJSON(v sealView) error {
	r := v.cases[0].report
	mpa := func(s unit.Stress) num { return num(s.Megapascals()) }
	out := sealJSON{Glass: v.glass.Name, Piece: v.piece, With: v.what, Verdict: string(v.verdict()),
		Setting: num(r.Setting.Celsius()), SettingLow: num(r.SettingLow.Celsius()),
		Pressure: mpa(r.Pressure.High), ExpectedPressure: mpa(r.Pressure.Expected), LowestPressure: mpa(r.Pressure.Low),
		Worst: mpa(r.Worst), Limit: mpa(r.Limit), Greatest: num(r.Greatest.Millimeters()), LeastCover: num(r.LeastCover.Millimeters()),
		Cover: num(r.Cover.Millimeters()), LeastApart: num(r.LeastApart.Millimeters()), Places: []sealPlaceJSON{}, Findings: []sealFindingJSON{}, Cautions: []sealFindingJSON{}}
	if !r.SettingClosed.IsZero() {
		x := num(r.SettingClosed.Celsius())
		out.SettingClosed = &x
	}
	if r.Light.Known {
		out.Retardation, out.RetardationAgain = num(r.Light.Now*1e9), num(r.Light.Again*1e9)
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
		out.WarmUpTotal = num(v.warm.Total.Hours())
		if v.start != nil {
			at, _ := v.start.Add(v.warm.Total)
			out.WarmUpReady = at.String()
		}
		for _, s := range v.warm.Stages {
			stage := sealStageJSON{Rate: num(s.Rate.KelvinPerHour()), Target: num(s.To.Celsius()), Hold: num(s.Hold.Minutes()), Reasons: []string{}}
			for _, w := range s.Reasons {
				stage.Reasons = append(stage.Reasons, string(w))
			}
			out.WarmUp = append(out.WarmUp, stage)
		}
	}
	return a.printJSON(out)
}

type materialJSON struct {
	Name   string `json:"name"`
	Title  string `json:"title"`
	Kind   string `json:"kind"`
	Value  num    `json:"expansion_per_K,omitempty"`
	Low    num    `json:"expansion_low_per_K,omitempty"`
	High   num    `json:"expansion_high_per_K,omitempty"`
	Melts  num    `json:"melts_C,omitempty"`
	Status string `json:"status"`
}

func (a *app) materialsJSON() error {
	list := []materialJSON{}
	for _, m := range seal.Materials() {
		e := m.Expansion
		row := materialJSON{Name: m.Name, Title: m.Title, Kind: string(m.Kind), Value: num(e.Number), Low: num(e.Low), High: num(e.High), Status: string(e.Status)}
		if m.Melting.Known() {
			row.Melts = num(unit.Kelvin(m.Melting.Number).Celsius())
		}
		if !e.Known() {
			row.Status = "assumed"
		}
		list = append(list, row)
	}
	return a.printJSON(map[string]any{"materials": list})
}
