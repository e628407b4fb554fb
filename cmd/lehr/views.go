package main

import (
	"github.com/spf13/cobra"

	"lehr/anneal/verify"
	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/web"
)

// viewFlags name the pictures and pages a report is written to as well.
type viewFlags struct {
	sheet, svg, png, pdf *outFlag
	large                bool // the sheet in larger letters
	drawn                *drawnFlags
}

// given reports whether a picture or a sheet is asked for.
func (v *viewFlags) given() bool {
	return v.sheet.given() || v.svg.given() || v.png.given() || v.pdf.given()
}

// addViewFlags adds the flags of the pictures.
func (a *app) addViewFlags(c *cobra.Command) *viewFlags {
	v := &viewFlags{}
	c.Flags().BoolVar(&a.chart, "chart", false, "draw the curve on the terminal, too")
	a.whyFlag(c)
	v.sheet = a.outFlag(c, "sheet", "", outfile.HTML, "sheet", "write the sheet to print and pin on the kiln to `file.html`, \"-\" for standard output")
	a.addCurveFlags(c, v)
	return v
}

// whyFlag adds the flag that asks for more than one screen.
func (a *app) whyFlag(c *cobra.Command) {
	c.Flags().BoolVar(&a.why, "why", false, "say why each number is as it is, what was assumed, and where it comes from, too")
}

// addCurveFlags adds the flags of the curve alone.
func (a *app) addCurveFlags(c *cobra.Command, v *viewFlags) {
	v.svg = a.outFlag(c, "svg", "", outfile.SVG, "curve", "write the curve to `file.svg`, \"-\" for standard output")
	v.png = a.outFlag(c, "png", "", outfile.PNG, "curve", "write the curve to `file.png`, \"-\" for a pipe")
	v.drawn = addDrawnFlags(c)
	v.pdf = a.outFlag(c, "pdf", "", outfile.PDF, "curve", "write the curve to `file.pdf`, \"-\" for a pipe")
}

// paper is what the pages of this run say of when and by what they were made.
func (a *app) paper() web.Paper {
	return web.Paper{Planned: session.Now(), Version: readVersion().Version, Drawn: a.shows}
}

// saveCurve puts the curve into the files that the flags ask for.
func (a *app) saveCurve(v *viewFlags, of func() (*picture.Curve, error)) error {
	if !v.svg.given() && !v.png.given() && !v.pdf.given() {
		return nil
	}
	curve, err := of()
	if err != nil {
		return err
	}
	for _, f := range []struct {
		out  *outFlag
		make func(picture.Size) ([]byte, error)
	}{{v.svg, curve.SVG}, {v.png, curve.PNG}, {v.pdf, curve.PDF}} {
		if err := a.put(f.out, func() ([]byte, error) { return f.make(picture.Page) }); err != nil {
			return err
		}
	}
	return nil
}

// saveViews puts what the flags ask for into files.
func (a *app) saveViews(v *viewFlags, rep *verify.Report) error {
	if err := a.saveCurve(v, func() (*picture.Curve, error) { return report.NewCurve(rep, a.shows) }); err != nil {
		return err
	}
	return a.saveSheet(v, rep, nil)
}

// saveSheet puts the sheet of a report into its file, with what happened before or
// instead of a program, if anything.
func (a *app) saveSheet(v *viewFlags, rep *verify.Report, past *web.Past) error {
	return a.put(v.sheet, func() ([]byte, error) {
		p := a.paper()
		p.Past = past
		page, err := web.Sheet(rep, p)
		if v.large {
			page = web.Enlarged(page)
		}
		return page, err
	})
}
