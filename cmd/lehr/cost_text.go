package main

import (
	"fmt"
	"strconv"

	"lehr/anneal/cost"
)

// showBill prints the sum, its lines, and what one piece bears.
func (a *app) showBill(b *bill) error {
	a.strong(fmt.Sprintf("%s in all; %s kWh (%s)", b.total.Text(), round3Text(b.kWh), b.how()))
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
	if err := a.table([]column{longColumn("line"), numberColumn(b.total.Currency), longColumn("from")}, rows); err != nil {
		return err
	}
	if b.load != nil {
		a.print("\n")
		rows = nil
		for i, p := range b.load.Pieces {
			rows = append(rows, []string{p.What, strconv.Itoa(p.Count), strconv.FormatFloat(100*b.each[i]*float64(p.Count)/b.total.Amount, 'f', 0, 64), round3Text(b.each[i])})
		}
		if err := a.table([]column{textColumn("piece"), numberColumn("count"), numberColumn("share %"), numberColumn("each " + b.total.Currency)}, rows); err != nil {
			return err
		}
		a.prose(0, "Shared by the shelf that each covers; all lie for the same hours.")
	}
	a.print("\n")
	if b.hours > 0 {
		a.item("- ", fmt.Sprintf("Another hour is worth %s, at the mean of these %s h; the last hours of a firing take less.", cost.Money{Amount: b.power.Amount / b.hours, Currency: b.power.Currency}.Text(), round3Text(b.hours)))
	}
	a.item("- ", "One firing fewer saves the electricity, "+b.power.Text()+".")
	if !b.measured {
		a.item("- ", "The estimate takes the kiln as one lump of heat and leaves out what it takes before the program begins; a meter knows.")
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

func (a *app) costJSON(b *bill) error {
	type line struct {
		What   string `json:"what"`
		Amount num    `json:"amount"`
		From   string `json:"from"`
	}
	type piece struct {
		What  string `json:"what"`
		Count int    `json:"count"`
		Each  num    `json:"each"`
	}
	out := struct {
		Currency string  `json:"currency"`
		Total    num     `json:"total"`
		Energy   num     `json:"electricity_kWh"`
		How      string  `json:"electricity_is"`
		AsOf     string  `json:"price_as_of,omitempty"`
		Hour     *num    `json:"another_hour"`
		Lines    []line  `json:"lines"`
		Pieces   []piece `json:"pieces"`
	}{Currency: b.total.Currency, Total: num(b.total.Amount), Energy: num(b.kWh), How: b.how(), AsOf: b.tariff.AsOf,
		Lines: []line{{"electricity", num(b.power.Amount), b.source}}, Pieces: []piece{}}
	if b.hours > 0 {
		out.Hour = maybe(num(b.power.Amount / b.hours))
	}
	for _, l := range b.lines {
		out.Lines = append(out.Lines, line{l.what, num(l.amount.Amount), l.source})
	}
	for i, each := range b.each {
		p := b.load.Pieces[i]
		out.Pieces = append(out.Pieces, piece{p.What, p.Count, num(each)})
	}
	return a.printJSON(out)
}
