package bench

import (
	"fmt"
	"strconv"

	"golang.org/x/net/html"

	"lehr/anneal/polariscope"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/web"
	"lehr/glass/unit"
)

// screenWarning stands on every list of colors.
const screenWarning = "A screen or a print is not the light: it cannot show the strong colors, and a lamp or camera shifts them all. Order and sequence stay. Compare with strain discs or a piece you know, not with this."

// showColors lists the colors of the table.
func showColors(a *desk.App, p *opticPiece, sys unit.System) error {
	type row struct {
		Retardation report.Num  `json:"retardation_nm"`
		Name        string      `json:"color"`
		Order       int         `json:"order"`
		Bright      report.Num  `json:"brightness"`
		X           report.Num  `json:"x"`
		Y           report.Num  `json:"y"`
		Screen      string      `json:"screen"`
		Center      *report.Num `json:"center_MPa"`
	}
	cols := []term.Column{term.NumberColumn("nm"), term.TextColumn("color"), term.NumberColumn("order"), term.NumberColumn("bright %"), term.TextColumn("screen")}
	_, u := unit.Megapascal.In(sys)
	if p != nil {
		cols = append(cols, term.NumberColumn("middle "+u))
	}
	var rows [][]string
	var all []row
	for _, n := range polariscope.Names() {
		c := polariscope.ColorOf(n.Retardation)
		x, y := c.Chromaticity()
		_, order := polariscope.NameOf(n.Retardation)
		j := row{report.Num(n.Retardation / polariscope.Nanometer), n.Name, order, report.Num(c.Y), report.Num(x), report.Num(y), c.Hex(), nil}
		cells := []string{term.Whole(float64(n.Retardation / polariscope.Nanometer)), n.Name, strconv.Itoa(order), term.Whole(100 * c.Y), c.Hex()}
		if p != nil {
			s, err := p.view.Stress(n.Retardation, 0, p.optic, p.spread)
			if err != nil {
				return err
			}
			j.Center = new(report.Num(s.Center.Megapascals()))
			v, _ := s.Center.In(sys)
			cells = append(cells, term.Short3(v))
		}
		all, rows = append(all, j), append(rows, cells)
	}
	if a.JSON {
		return a.PrintJSON(struct {
			Colors  []row  `json:"colors"`
			Warning string `json:"warning"`
		}{all, screenWarning})
	}
	if p != nil {
		a.Prose(0, p.title())
	}
	if err := a.Table(cols, rows); err != nil {
		return err
	}
	a.Prose(0, "Computed for daylight D65 and the CIE 1931 observer, ideal crossed sheets; the names are the classic ones. "+screenWarning)
	return nil
}

// chartStep and chartEnds are the fields of the chart [nm].
const (
	chartStep = 10
	chartEnds = 1200
)

// colorChart is a page with the colors as fields, for a phone or to print. The
// fields are pictures, which print; a background would not. Their words are those of
// the page, as large as any.
func colorChart(p *opticPiece, sys unit.System) ([]byte, error) {
	named := map[int]string{}
	for _, n := range polariscope.Names() {
		at := int(float64(n.Retardation/polariscope.Nanometer)/chartStep + 0.5)
		if named[at] == "" {
			named[at] = n.Name
		}
	}
	kind := "fan"
	if p != nil {
		kind = "fan stresses"
	}
	list := web.El("ol", web.Class(kind))
	for i := range chartEnds/chartStep + 1 {
		r := unit.Length(i*chartStep) * polariscope.Nanometer
		label := strconv.Itoa(i*chartStep) + " nm"
		if p != nil {
			s, err := p.view.Stress(r, 0, p.optic, p.spread)
			if err != nil {
				return nil, err
			}
			label += ", " + s.Center.Text(sys)
		}
		if i%5 != 0 && (p != nil || named[i] == "") {
			label = ""
		}
		row := web.El("li", web.El("span", label), web.El("span", named[i]),
			web.Verbatim(fmt.Sprintf(`<svg aria-hidden="true"><rect width="100%%" height="100%%" fill="%s"/></svg>`, polariscope.ColorOf(r).Hex())))
		if label == "" && named[i] == "" {
			row.Attr = append(row.Attr, html.Attribute{Key: "aria-hidden", Val: "true"})
		}
		list.AppendChild(row)
	}
	about := "White light, ideal crossed sheets; computed for daylight D65 and the CIE 1931 observer."
	if p != nil {
		about = p.title() + ". " + about
	}
	return web.Document("Colors between crossed polarizers",
		web.El("header", web.El("h1", "Colors between crossed polarizers"), web.El("p", web.Class("quiet"), about)),
		web.El("main", web.El("p", web.El("strong", "Not the light. "), screenWarning),
			web.El("p", "Below 200 nm there is no color to read: turn an analyzer, hold strain discs beside it, or use a full-wave plate. The first order ends at 551 nm, the second at 1101 nm."),
			list),
		web.El("footer", web.El("p", web.Class("foot quiet"), "lehr computes; it does not see your light.")))
}
