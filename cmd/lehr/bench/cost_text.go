package bench

import (
	"fmt"
	"strconv"

	"lehr/anneal/cost"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
)

// showBill prints the sum, its lines, and what one piece bears.
func showBill(a *desk.App, b *bill) error {
	a.Strong(fmt.Sprintf("%s in all; %s kWh (%s)", b.total.Text(), term.Short3(b.kWh), b.how()))
	amount := func(m cost.Money) string { return strconv.FormatFloat(m.Amount, 'f', 2, 64) }
	price := b.source
	if b.tariff.AsOf != "" {
		price += ", price as of " + b.tariff.AsOf
	}
	rows := [][]string{{"electricity", amount(b.power), price}}
	for _, l := range b.lines {
		rows = append(rows, []string{l.what, amount(l.amount), l.source})
	}
	rows = append(rows, []string{"in all", amount(b.total), ""})
	if err := a.Table([]term.Column{term.LongColumn("line"), term.NumberColumn(b.total.Currency), term.LongColumn("from")}, rows); err != nil {
		return err
	}
	if b.load != nil {
		a.Print("\n")
		rows = nil
		for i, p := range b.load.Pieces {
			rows = append(rows, []string{p.What, strconv.Itoa(p.Count), strconv.FormatFloat(100*b.each[i]*float64(p.Count)/b.total.Amount, 'f', 0, 64), term.Short3(b.each[i])})
		}
		if err := a.Table([]term.Column{term.TextColumn("piece"), term.NumberColumn("count"), term.NumberColumn("share %"), term.NumberColumn("each " + b.total.Currency)}, rows); err != nil {
			return err
		}
		a.Prose(0, "Shared by the shelf that each covers; all lie for the same hours.")
	}
	a.Print("\n")
	if b.hours > 0 {
		a.Item("- ", fmt.Sprintf("Another hour is worth %s, at the mean of these %s h; the last hours of a firing take less.", cost.Money{Amount: b.power.Amount / b.hours, Currency: b.power.Currency}.Text(), term.Short3(b.hours)))
	}
	a.Item("- ", "One firing fewer saves the electricity, "+b.power.Text()+".")
	if !b.measured {
		a.Item("- ", "The estimate takes the kiln as one lump of heat and leaves out what it takes before the program begins; a meter knows.")
	}
	return nil
}

// how says how well the electricity is known.
func (b *bill) how() string {
	switch {
	case !b.measured:
		return "ESTIMATE"
	case b.computed:
		return "computed"
	}
	return "measured"
}

func costJSON(a *desk.App, b *bill) error {
	type line struct {
		What   string     `json:"what"`
		Amount report.Num `json:"amount"`
		From   string     `json:"from"`
	}
	type piece struct {
		What  string     `json:"what"`
		Count int        `json:"count"`
		Each  report.Num `json:"each"`
	}
	out := struct {
		Currency string      `json:"currency"`
		Total    report.Num  `json:"total"`
		Energy   report.Num  `json:"electricity_kWh"`
		How      string      `json:"electricity_is"`
		AsOf     string      `json:"price_as_of,omitempty"`
		Hour     *report.Num `json:"another_hour"`
		Lines    []line      `json:"lines"`
		Pieces   []piece     `json:"pieces"`
	}{Currency: b.total.Currency, Total: report.Num(b.total.Amount), Energy: report.Num(b.kWh), How: b.how(), AsOf: b.tariff.AsOf,
		Lines: []line{{"electricity", report.Num(b.power.Amount), b.source}}, Pieces: []piece{}}
	if b.hours > 0 {
		out.Hour = new(report.Num(b.power.Amount / b.hours))
	}
	for _, l := range b.lines {
		out.Lines = append(out.Lines, line{l.what, report.Num(l.amount.Amount), l.source})
	}
	for i, each := range b.each {
		p := b.load.Pieces[i]
		out.Pieces = append(out.Pieces, piece{p.What, p.Count, report.Num(each)})
	}
	return a.PrintJSON(out)
}
