package main

import (
	"fmt"
	"math"
	"strings"

	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/words"

	"lehr/glass/unit"
)

// The JSON of a report. Keys carry their units and stay as they are: scripts
// depend on them. Temperatures and rates are in °C or °F as "units" says.
type reportJSON struct {
	Verdict     string        `json:"verdict"`
	Schedule    scheduleJSON  `json:"schedule"`
	Ready       *readyJSON    `json:"ready_by"`
	Shortest    *shortestJSON `json:"shortest"`
	Energy      *energyJSON   `json:"energy"`
	Pieces      []pieceJSON   `json:"pieces"`
	Notes       []string      `json:"notes"`
	Reasons     []string      `json:"reasons"`
	Assumptions []string      `json:"assumptions"`
	Cautions    []cautionJSON `json:"cautions"`
	Sources     []string      `json:"sources"`
}

type scheduleJSON struct {
	Start    *string          `json:"start"`
	Ends     *string          `json:"ends"`
	About    bool             `json:"ends_estimated"`
	TotalH   num              `json:"total_h"`
	Units    string           `json:"units"`
	Segments []map[string]any `json:"segments"`
}

type pieceJSON struct {
	What              string   `json:"what"`
	Shape             string   `json:"shape"`
	Glass             string   `json:"glass"`
	Count             int      `json:"count"`
	SizeMM            num      `json:"size_mm"`
	Idealization      string   `json:"idealization"`
	Peak              num      `json:"peak_tension_MPa"`
	PeakTimeH         num      `json:"peak_tension_clock_h"`
	PeakToldH         num      `json:"peak_tension_told_h"`
	PeakPlace         string   `json:"peak_tension_place"`
	LeftSurface       *num     `json:"left_surface_MPa"`
	LeftCenter        *num     `json:"left_center_MPa"`
	LeftMax           *num     `json:"left_max_tension_MPa"`
	Retardation       *num     `json:"retardation_nm"`
	MaxLag            num      `json:"max_lag_K"`
	SoakLag           *num     `json:"soak_lag_K"`
	Relaxed           *num     `json:"soak_relaxed_fraction"`
	ExpectedPeak      num      `json:"expected_peak_tension_MPa"`
	ExpectedLimitPeak num      `json:"expected_limit_peak_MPa"`
	ExpectedLeft      *num     `json:"expected_left_max_tension_MPa,omitempty"`
	ExpectedLimitLeft *num     `json:"expected_limit_left_MPa,omitempty"`
	PeakShare         num      `json:"peak_share_of_limit"`
	LeftShare         *num     `json:"left_share_of_limit,omitempty"`
	FictiveSurface    *num     `json:"fictive_surface_C,omitempty"`
	FictiveCenter     *num     `json:"fictive_center_C,omitempty"`
	Light             string   `json:"light,omitempty"`
	InH               num      `json:"in_h"`      // when it went in, from the start of the program
	EvenAtH           num      `json:"even_at_h"` // when it is as even as counts
	LimitPeak         num      `json:"limit_peak_MPa"`
	LimitLeft         num      `json:"limit_left_MPa"`
	ClosedPeak        num      `json:"closed_form_tension_MPa"`
	ClosedLeft        num      `json:"closed_form_left_MPa"`
	WorstCase         string   `json:"worst_case"`
	Within            bool     `json:"within"`
	Over              []string `json:"over"`
	Decides           []string `json:"decides"`
}

// mpa is a stress in JSON; a pascal and less is rounding of the computation.
func mpa(s unit.Stress) num {
	if math.Abs(float64(s)) < 1 {
		return 0
	}
	return num(s.Megapascals())
}

func (a *app) reportJSON(rep *verify.Report) error {
	v, err := newReportJSON(rep)
	if err != nil {
		return err
	}
	return a.printJSON(v)
}

func newReportJSON(rep *verify.Report) (reportJSON, error) {
	say := words.About(rep)
	cautions, err := cautionsJSON(rep)
	if err != nil {
		return reportJSON{}, err
	}
	v := reportJSON{Verdict: rep.Verdict().String(), Schedule: newScheduleJSON(rep), Ready: newReadyJSON(rep), Shortest: newShortestJSON(rep), Energy: newEnergyJSON(rep), Notes: say.List(rep.Notes), Reasons: say.Reasons(rep.Reasons),
		Assumptions: say.Assumed(rep.Assumptions), Cautions: cautions, Sources: words.Sources(rep.Sources)}
	for _, p := range rep.Pieces {
		j := pieceJSON{What: p.Piece.What, Shape: string(p.Piece.Shape), Glass: p.Piece.Glass.Name, Count: p.Piece.Count,
			SizeMM: num(p.Piece.Size.Millimeters()), Idealization: bodyText(p.Piece, unit.Metric), Peak: mpa(p.Peak), PeakTimeH: num(rep.ActualTime(p.PeakTime) / 3600), PeakToldH: num(p.PeakTime / 3600),
			PeakPlace: words.Place(p.PeakPlace), MaxLag: num(p.MaxLag), LimitPeak: mpa(p.Tension.Pair.Worst), LimitLeft: mpa(p.Left.Pair.Worst),
			ExpectedPeak: mpa(p.Tension.Expected), ExpectedLimitPeak: mpa(p.Tension.Pair.Expected), PeakShare: num(p.Tension.Use), Light: string(p.Piece.Light), InH: hoursJSON(-p.Piece.In), EvenAtH: hoursJSON(verify.EvenAt(p.Piece, rep.Load.Into, rep.Schedule.From)),
			ClosedPeak: mpa(p.ClosedPeak), ClosedLeft: mpa(p.ClosedResidual), WorstCase: p.Tension.Why.Text(), Within: p.Verdict() == verify.WithinLimits,
			Over: say.List(p.Over), Decides: purposes(p.Decides)}
		opt := func(x num) *num { return &x }
		if p.ResidualAsked {
			j.LeftSurface, j.LeftCenter, j.LeftMax = opt(mpa(p.ResidualSurface)), opt(mpa(p.ResidualCenter)), opt(mpa(p.Residual))
			j.Retardation = opt(num(float64(p.Retardation) * 1e9))
			j.ExpectedLeft, j.ExpectedLimitLeft, j.LeftShare = opt(mpa(p.Left.Expected)), opt(mpa(p.Left.Pair.Expected)), opt(num(p.Left.Use))
			j.FictiveSurface, j.FictiveCenter = opt(num(p.FictiveSurface.Celsius())), opt(num(p.FictiveCenter.Celsius()))
		}
		if p.SoakAsked {
			j.SoakLag, j.Relaxed = opt(num(p.SoakLag)), opt(num(p.Relaxed))
		}
		v.Pieces = append(v.Pieces, j)
	}
	return v, nil
}

func newScheduleJSON(rep *verify.Report) scheduleJSON {
	u := rep.Studio.Controller.Units
	letter := "C"
	if u == unit.US {
		letter = "F"
	}
	s := scheduleJSON{TotalH: num(rep.Actual.Total().Hours()), Units: letter, About: endsEstimated(rep)}
	if rep.Load.Start != nil {
		start, end := rep.Load.Start.String(), clockJSON(rep, rep.Actual.Total().Seconds())
		s.Start, s.Ends = &start, &end
	}
	temp := func(t unit.Temp) num { x, _ := t.In(u); return num(x) }
	for i, seg := range rep.Schedule.Segments {
		span := rep.Actual.Spans[i]
		rate, _ := seg.Rate.In(u)
		if seg.To.Sub(span.From) == 0 {
			rate = 0
		}
		m := map[string]any{
			"purpose":                     seg.Purpose,
			"rate_" + letter + "_per_h":   num(rate),
			"target_" + letter:            temp(seg.To),
			"hold_min":                    num(math.Round(seg.Hold.Minutes())),
			"from_" + letter:              temp(span.From),
			"duration_min":                num((span.End - span.Start) / 60),
			"as_fast_as_the_kiln_can":     seg.Full,
			"power_off":                   seg.Off,
			"kiln_falls_slower_than_told": span.ByItself,
			"kiln_heats_slower_than_told": span.Overshoots,
		}
		if rep.Load.Start != nil {
			m["ends"] = clockJSON(rep, span.End)
		}
		s.Segments = append(s.Segments, m)
	}
	return s
}

// clockJSON is a clock time "07:45" of the day it falls on, with "+1d" behind
// it when that is a later day.
func clockJSON(rep *verify.Report, at float64) string {
	c, days := rep.Load.Start.Add(unit.WholeMinutes(unit.Seconds(at)))
	if days > 0 {
		return fmt.Sprintf("%s +%dd", c, days)
	}
	return c.String()
}

// bodyText says which body stands for a piece.
func bodyText(p piece.Piece, sys unit.System) string {
	text, _ := words.In(sys).Body(p)
	return strings.Join(text, "; ")
}
