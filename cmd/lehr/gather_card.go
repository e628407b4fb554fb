package main

import (
	"strconv"

	"golang.org/x/net/html"
)

// gatherCard is the card of one piece, to print and keep at the torch.
func (a *app) gatherCard(g *gathered) ([]byte, error) {
	r, sys := g.recipe, g.studio.Units
	title := r.Piece.Words(sys)
	if r.Count > 1 {
		title = strconv.Itoa(r.Count) + " × " + title
	}
	parts := []any{el("header", el("h1", title), el("p", class("about"), g.title))}
	parts = append(parts, el("section", class("top"), el("div", el("p", class("word"), massText(r.Mass(), sys)+" each"), el("p", volumeText(r.Piece.Volume, sys)))))
	if len(g.portions) > 0 {
		parts = append(parts, named("parts", "Parts, from the front", htmlTable(partColumns(r, sys), partRows(g, sys))))
	}
	if len(r.Rods) > 0 {
		parts = append(parts, named("rod", lossText(g), htmlTable(buyColumns(r, sys), buyRows(g, sys))))
	}
	parts = append(parts, named("notes", "At the torch", items("ul", gatherNotes(g))))
	return document("Glass for "+title, parts...)
}

// htmlTable lays a table out as a.table does on a terminal.
func htmlTable(cols []column, rows [][]string) *html.Node {
	side := func(c column, name, scope, text string) *html.Node {
		n := el(name, text)
		if scope != "" {
			n.Attr = append(n.Attr, html.Attribute{Key: "scope", Val: scope})
		}
		if c.number {
			n.Attr = append(n.Attr, html.Attribute{Key: "class", Val: "n"})
		}
		return n
	}
	var top []*html.Node
	for _, c := range cols {
		top = append(top, side(c, "th", "col", c.head))
	}
	return el("table", el("thead", el("tr", top)), el("tbody", each(rows, func(row []string) *html.Node {
		var cells []*html.Node
		for i, text := range row {
			if i == 0 {
				cells = append(cells, side(cols[i], "th", "row", text))
				continue
			}
			cells = append(cells, side(cols[i], "td", "", text))
		}
		return el("tr", cells)
	})))
}
