package nights

import (
	"time"

	"lehr/anneal/kilnlog"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

// The JSON of a logged night. Keys carry their units and stay as they are.
type loggedJSON struct {
	Verdict     string             `json:"verdict"`
	Exact       *string            `json:"verdict_without_probe_error"`
	EndsHot     bool               `json:"log_ends_hot"`
	Log         logJSON            `json:"log"`
	FromH       report.Num         `json:"pieces_in_h"`
	Did         []string           `json:"kiln_did"`
	Followed    *followJSON        `json:"followed"`
	Fall        *fallJSON          `json:"fall"`
	Pieces      []report.PieceJSON `json:"pieces"`
	Ways        []wayJSON          `json:"gaps_decide"`
	Notes       []string           `json:"notes"`
	Assumptions []string           `json:"assumptions"`
	Sources     []string           `json:"sources"`
}

type logJSON struct {
	Name      string       `json:"name"`
	Rows      int          `json:"rows"`
	Kept      int          `json:"kept"`
	LengthH   report.Num   `json:"length_h"`
	IntervalS report.Num   `json:"interval_s"`
	Noise     report.Num   `json:"noise_K"`
	Columns   []columnJSON `json:"columns"`
	Read      string       `json:"read"`
}

type columnJSON struct {
	Number int    `json:"number"`
	Name   string `json:"name"`
	Role   string `json:"read_as"`
	Unit   string `json:"unit"`
}

type followJSON struct {
	Program string      `json:"program"`
	ShiftH  report.Num  `json:"began_h"`
	Aligned bool        `json:"aligned_by_ramp"`
	Above   report.Num  `json:"furthest_above_K"`
	Below   report.Num  `json:"furthest_below_K"`
	LeftH   *report.Num `json:"left_program_h"`
}

type fallJSON struct {
	TimeConstantH report.Num `json:"time_constant_h"`
	ErrorH        report.Num `json:"error_h"`
	Lines         []string   `json:"studio_lines"`
}

type wayJSON struct {
	Way     string `json:"way"`
	Verdict string `json:"verdict"`
}

func hoursJSON(d time.Duration) report.Num { return report.Num(d.Hours()) }

func newLogJSON(l *kilnlog.Log, sys unit.System) logJSON {
	v := logJSON{Name: l.Name, Rows: l.Account.Rows, Kept: l.Account.Kept(), LengthH: hoursJSON(l.Length()),
		IntervalS: report.Num(l.Account.Interval.Seconds()), Noise: report.Num(l.Account.Noise), Columns: []columnJSON{}, Read: words.In(sys).Read(l)}
	for _, c := range l.Account.Columns {
		u := ""
		if c.Unit != kilnlog.NoUnit {
			u = c.Unit.String()
		}
		v.Columns = append(v.Columns, columnJSON{c.Number, c.Name, c.Role.String(), u})
	}
	return v
}

// printJSON prints a logged night as JSON.
func printJSON(a *desk.App, n *night) error {
	rep, err := report.NewJSON(n.rep)
	if err != nil {
		return err
	}
	did, _ := n.did(words.About(n.rep))
	v := loggedJSON{Verdict: words.Verdict(n.verdict()), EndsHot: n.rep.EndsHot(), Log: newLogJSON(n.log, n.rep.Studio.Units), FromH: hoursJSON(n.from),
		Did: did, Pieces: rep.Pieces, Ways: []wayJSON{}, Notes: rep.Notes, Assumptions: append(n.assumed(), rep.Assumptions...), Sources: rep.Sources}
	if n.exact != nil {
		text := words.Verdict(n.exact.Verdict())
		v.Exact = &text
	}
	for _, w := range n.apart {
		v.Ways = append(v.Ways, wayJSON{words.Way(w.way), words.Verdict(w.rep.Verdict())})
	}
	if f := n.followed; n.program != "" {
		v.Followed = &followJSON{Program: n.program, ShiftH: hoursJSON(f.Shift), Aligned: f.Aligned, Above: report.Num(f.Hottest.By()), Below: report.Num(f.Coldest.By())}
		if !f.Left.Nominal.IsZero() {
			at := hoursJSON(f.Left.At)
			v.Followed.LeftH = &at
		}
	}
	if fall, err := n.log.Fall(n.rep.Studio.Kiln.Fall.Room, n.rep.Studio.Opening); err == nil {
		v.Fall = &fallJSON{hoursJSON(fall.Fall.TimeConstant), hoursJSON(fall.Error), fall.StudioLines()}
	}
	return a.PrintJSON(v)
}
