package notes

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"strings"
	"time"

	"lehr/anneal/notebook"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/glass/strict"
)

type filePartJSON struct {
	Path   string `json:"path"`
	SHA256 string `json:"sha256,omitempty"`
	State  string `json:"state,omitempty"`
}

type rodUseJSON struct {
	Rod    string      `json:"rod"`
	Before *report.Num `json:"before_g"`
	After  *report.Num `json:"after_g"`
}

type nightPieceJSON struct {
	What      string        `json:"what"`
	Size      *report.Num   `json:"size_mm"`
	Count     int           `json:"count"`
	Glass     string        `json:"glass,omitempty"`
	Colors    []string      `json:"colors"`
	Got       *report.Num   `json:"got_mm"`
	Mass      *report.Num   `json:"mass_g"`
	Loss      *report.Num   `json:"loss"`
	Rods      []rodUseJSON  `json:"rods"`
	Result    string        `json:"result"`
	Of        int           `json:"result_of,omitempty"`
	Days      int           `json:"days,omitempty"`
	Crack     string        `json:"crack,omitempty"`
	Reading   string        `json:"reading,omitempty"`
	In        string        `json:"reading_in,omitempty"`
	Predicted *report.Num   `json:"predicted_nm"`
	Worst     *report.Num   `json:"predicted_worst_nm"`
	At        string        `json:"predicted_place,omitempty"`
	Photo     *filePartJSON `json:"photo"`
	Note      string        `json:"note,omitempty"`
}

type nightJSON struct {
	Night   string           `json:"night"`
	Date    string           `json:"date"`
	Kiln    string           `json:"kiln"`
	Load    *filePartJSON    `json:"load"`
	Program *filePartJSON    `json:"program"`
	Log     *filePartJSON    `json:"log"`
	Opened  string           `json:"opened,omitempty"`
	At      *report.Num      `json:"opened_at_C"`
	Falls   *report.Num      `json:"time_constant_h"`
	Lag     *report.Num      `json:"lag_K"`
	Words   string           `json:"words,omitempty"`
	Pieces  []nightPieceJSON `json:"pieces"`
	Kept    []string         `json:"kept_keys"`
}

func nightOf(b Book, r notebook.Record, which []int) nightJSON {
	file := func(f notebook.File) *filePartJSON {
		if f.Path == "" {
			return nil
		}
		return &filePartJSON{f.Path, f.SHA256, b.state(f).String()}
	}
	above := func(x float64) *report.Num {
		if x == 0 {
			return nil
		}
		return new(report.Num(x))
	}
	n := nightJSON{Night: r.Name, Kiln: r.Kiln, Load: file(r.Load), Program: file(r.Program), Log: file(r.Log),
		Falls: above(r.Falls.Hours()), Lag: above(float64(r.Lag)), Words: r.Words, Pieces: []nightPieceJSON{}, Kept: append([]string{}, r.Unknown...)}
	if !r.Date.IsZero() {
		n.Date = r.Date.Format(time.RFC3339)
	}
	if !r.Opened.IsZero() {
		n.Opened = r.Opened.Format(time.RFC3339)
	}
	if !r.At.IsZero() {
		n.At = new(report.Num(r.At.Celsius()))
	}
	for _, i := range which {
		p := r.Pieces[i]
		j := nightPieceJSON{What: p.What, Size: above(p.Size().Millimeters()), Count: p.Count, Glass: p.Glass, Colors: append([]string{}, p.Colors...),
			Got: above(p.Got.Millimeters()), Mass: above(p.Mass.Grams()), Rods: []rodUseJSON{}, Result: string(p.Result), Of: p.Of, Days: p.Days,
			Crack: p.Crack, Reading: p.Reading, In: p.In, Predicted: above(p.Predicted.Nanometers), Worst: above(p.Predicted.Worst), At: p.Predicted.At, Photo: file(p.Photo), Note: p.Note}
		if x, ok := p.Loss(); ok {
			j.Loss = new(report.Num(x))
		}
		for _, u := range p.Rods {
			rod := rodUseJSON{Rod: u.Rod}
			if u.Before > 0 {
				rod.Before, rod.After = new(report.Num(u.Before.Grams())), new(report.Num(u.After.Grams()))
			}
			j.Rods = append(j.Rods, rod)
		}
		n.Pieces = append(n.Pieces, j)
	}
	return n
}

// hitsCSV prints a row for each kind of piece (RFC 4180, but for line ends).
func hitsCSV(a *desk.App, hits []notebook.Hit) error {
	var buf bytes.Buffer
	w := csv.NewWriter(&buf)
	w.Write([]string{"night", "date", "kiln", "load", "program", "log", "piece", "size_mm", "count", "glass", "colors", "got_mm", "mass_g", "rods", "used_g", "result", "days", "crack", "reading", "predicted_nm", "predicted_place", "photo", "note"})
	figure := func(x float64) string {
		if x == 0 {
			return ""
		}
		return term.Short(x)
	}
	for _, h := range hits {
		r := h.Record
		date := ""
		if !r.Date.IsZero() {
			date = r.Date.Format(time.RFC3339)
		}
		for _, i := range h.Pieces {
			p := r.Pieces[i]
			used, _ := p.Used()
			days := ""
			if p.Days > 0 {
				days = strconv.Itoa(p.Days)
			}
			row := []string{r.Name, date, r.Kiln, r.Load.Path, r.Program.Path, r.Log.Path, p.What, figure(p.Size().Millimeters()), strconv.Itoa(p.Count),
				p.Glass, strings.Join(p.Colors, ", "), figure(p.Got.Millimeters()), figure(p.Mass.Grams()), rodsOf(p), figure(used.Grams()),
				string(p.Result), days, p.Crack, p.Reading, figure(p.Predicted.Nanometers), p.Predicted.At, p.Photo.Path, p.Note}
			for i, cell := range row { // no number here is below zero
				row[i] = strict.Cell(cell)
			}
			w.Write(row)
		}
	}
	w.Flush()
	if err := w.Error(); err != nil {
		return err
	}
	_, err := a.Out.Write(buf.Bytes())
	return err
}
