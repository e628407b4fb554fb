package bench

import (
	"strconv"

	"golang.org/x/net/html"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/web"
)

// gatherCard is the card of one piece, to print and keep at the torch.
func gatherCard(a *desk.App, g *gathered) ([]byte, error) {
	r, sys := g.recipe, g.studio.Units
	title := r.Piece.Words(sys)
	if r.Count > 1 {
		title = strconv.Itoa(r.Count) + " × " + title
	}
	parts := []any{web.El("header", web.El("h1", title), web.El("p", web.Class("about"), g.title))}
	parts = append(parts, web.El("section", web.Class("top"), web.El("div", web.El("p", web.Class("word"), massText(r.Mass(), sys)+" each"), web.El("p", volumeText(r.Piece.Volume, sys)))))
	if len(g.portions) > 0 {
		parts = append(parts, web.Named("parts", "Parts, from the front", htmlTable(partColumns(r, sys), partRows(g, sys))))
	}
	if len(r.Rods) > 0 {
		parts = append(parts, web.Named("rod", lossText(g), htmlTable(buyColumns(r, sys), buyRows(g, sys))))
	}
	parts = append(parts, web.Named("notes", "At the torch", web.Items("ul", gatherNotes(g))))
	return web.Document("Glass for "+title, parts...)
}

// htmlTable lays a table out as a.table does on a terminal.
func htmlTable(cols []term.Column, rows [][]string) *html.Node {
	side := func(c term.Column, name, scope, text string) *html.Node {
		n := web.El(name, text)
		if scope != "" {
			n.Attr = append(n.Attr, html.Attribute{Key: "scope", Val: scope})
		}
		if c.Number {
			n.Attr = append(n.Attr, html.Attribute{Key: "class", Val: "n"})
		}
		return n
	}
	var top []*html.Node
	for _, c := range cols {
		top = append(top, side(c, "th", "col", c.Head))
	}
	return web.El("table", web.El("thead", web.El("tr", top)), web.El("tbody", web.Each(rows, func(row []string) *html.Node {
		var cells []*html.Node
		for i, text := range row {
			if i == 0 {
				cells = append(cells, side(cols[i], "th", "row", text))
				continue
			}
			cells = append(cells, side(cols[i], "td", "", text))
		}
		return web.El("tr", cells)
	})))
}
