package main

import (
	"errors"
	"fmt"
	"maps"
	"strings"

	"lehr/anneal"
	"lehr/safety"
)

// sessionFacts joins the facts of the studio file and of the load; the load
// counts where both speak. What the load itself tells is added.
func sessionFacts(load *anneal.Load, st anneal.Studio) (safety.Facts, error) {
	table := map[string]any{}
	maps.Copy(table, st.Session)
	maps.Copy(table, load.Session)
	f, err := safety.FactsFrom(table)
	if err != nil {
		var fact *safety.FactError
		if errors.As(err, &fact) {
			return f, withHint(fmt.Errorf("[session]: %w", err), hintOf(err))
		}
		return f, err
	}
	f.Units = st.Units
	if f.LargestPiece == 0 {
		for _, p := range load.Pieces {
			f.LargestPiece = max(f.LargestPiece, p.Size, p.Across)
		}
	}
	if f.Glass == "" && len(load.Pieces) > 0 {
		f.Glass = safety.Family(load.Pieces[0].Glass.Name)
	}
	return f, nil
}

// kilnPages returns the pages for leaving and opening the kiln with this
// program.
func kilnPages(rep *anneal.Report) ([]safety.Page, error) {
	f, err := sessionFacts(rep.Load, rep.Studio)
	if err != nil {
		return nil, err
	}
	p := safety.Program{Units: rep.Studio.Units, Total: wholeMinutes(rep.Clock.Total())}
	if end, days, ok := rep.Ends(); ok {
		p.Start = rep.Load.Start.Text(p.Units)
		p.End = end.Text(p.Units)
		switch {
		case days == 1:
			p.End += " the next day"
		case days > 1:
			p.End += fmt.Sprintf(" %d days later", days)
		}
	}
	segments := rep.Schedule.Segments
	p.Last = segments[len(segments)-1].To
	for _, s := range segments {
		if s.Purpose == "soak" {
			p.Soak, p.Hold = s.To, p.Hold+s.Hold
		}
	}
	pages := []safety.Page{safety.Leaving(f, p)}
	if rep.Load.Into != anneal.WarmOnly {
		pages = append(pages, safety.Opening(f, p))
	}
	return pages, nil
}

// showCautions prints the lines for leaving and opening the kiln.
func (a *app) showCautions(rep *anneal.Report) error {
	pages, err := kilnPages(rep)
	if err != nil {
		return err
	}
	var feet []string
	for _, page := range pages {
		a.print("\n" + a.style(styleStrong, page.Title) + "\n")
		for _, line := range page.Lines {
			mark := fmt.Sprintf("%-8s ", line.Signal)
			a.item(mark, line.Text)
		}
		for _, foot := range page.Foot {
			feet = appendNew(feet, foot)
		}
	}
	a.print("\n")
	a.prose(0, strings.Join(feet, " "))
	return nil
}

func appendNew(list []string, s string) []string {
	for _, have := range list {
		if have == s {
			return list
		}
	}
	return append(list, s)
}

// cautionJSON is one line of a page in JSON.
type cautionJSON struct {
	ID     string `json:"id"`
	Signal string `json:"signal"`
	Point  string `json:"point"`
	Text   string `json:"text"`
}

func cautionsJSON(rep *anneal.Report) ([]cautionJSON, error) {
	pages, err := kilnPages(rep)
	if err != nil {
		return nil, err
	}
	out := []cautionJSON{}
	for _, page := range pages {
		for _, l := range page.Lines {
			out = append(out, cautionJSON{l.ID, fmt.Sprint(l.Signal), string(l.Point), l.Text})
		}
	}
	return out, nil
}

