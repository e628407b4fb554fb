package sharing

import (
	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
)

// ShowHarm prints what one program does to each piece, and what is to be done then.
func ShowHarm(a *desk.App, one *plan.Single) error {
	var rows [][]string
	for i, p := range one.Report.Pieces {
		rows = append(rows, []string{report.CountName(p.Piece), report.HarmText(one, i), report.HarmThen(one, i)})
	}
	return a.Table([]term.Column{term.LongColumn("piece"), term.LongColumn("what it does to it"), term.LongColumn("then")}, rows)
}

// HarmJSON is what one program does to a piece, for JSON.
type HarmJSON struct {
	Index  int    `json:"index"`
	What   string `json:"what"`
	Count  int    `json:"count"`
	Does   string `json:"does"`
	Within bool   `json:"within"`
	Mends  bool   `json:"mended_by_annealing_again"`
}

// NewHarmsJSON is what one program does to each piece.
func NewHarmsJSON(one *plan.Single) []HarmJSON {
	out := []HarmJSON{}
	for i, p := range one.Report.Pieces {
		out = append(out, HarmJSON{i, p.Piece.What, p.Piece.Count, report.HarmText(one, i), p.Verdict() == verify.WithinLimits, report.HarmThen(one, i) == report.AnnealAgain})
	}
	return out
}
