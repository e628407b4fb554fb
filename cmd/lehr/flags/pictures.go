package flags

import (
	"github.com/spf13/cobra"

	"lehr/anneal/verify"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/web"
)

// Views name the pictures and pages a report is written to as well.
type Views struct {
	Sheet, SVG, PNG, PDF *desk.OutFlag
	Large                bool // the sheet in larger letters
	Drawn                *Drawn
}

// Given reports whether a picture or a sheet is asked for.
func (v *Views) Given() bool {
	return v.Sheet.Given() || v.SVG.Given() || v.PNG.Given() || v.PDF.Given()
}

// AddViews adds the flags of the pictures.
func AddViews(a *desk.App, c *cobra.Command) *Views {
	v := &Views{}
	c.Flags().BoolVar(&a.Chart, "chart", false, "draw the curve on the terminal, too")
	addWhy(a, c)
	v.Sheet = a.OutFlag(c, "sheet", "", outfile.HTML, "sheet", "write the sheet to print and pin on the kiln to `file.html`, \"-\" for standard output")
	AddCurve(a, c, v)
	return v
}

// addWhy adds the flag that asks for more than one screen.
func addWhy(a *desk.App, c *cobra.Command) {
	c.Flags().BoolVar(&a.Why, "why", false, "say why each number is as it is, what was assumed, and where it comes from, too")
}

// AddCurve adds the flags of the curve alone.
func AddCurve(a *desk.App, c *cobra.Command, v *Views) {
	v.SVG = a.OutFlag(c, "svg", "", outfile.SVG, "curve", "write the curve to `file.svg`, \"-\" for standard output")
	v.PNG = a.OutFlag(c, "png", "", outfile.PNG, "curve", "write the curve to `file.png`, \"-\" for a pipe")
	v.Drawn = addDrawn(c)
	v.PDF = a.OutFlag(c, "pdf", "", outfile.PDF, "curve", "write the curve to `file.pdf`, \"-\" for a pipe")
}

// Paper is what the pages of this run say of when and by what they were made.
func Paper(a *desk.App) web.Paper {
	return web.Paper{Planned: session.Now(), Version: desk.ReadVersion().Version, Drawn: a.Shows}
}

// SaveCurve puts the curve into the files that the flags ask for.
func SaveCurve(a *desk.App, v *Views, of func() (*picture.Curve, error)) error {
	if !v.SVG.Given() && !v.PNG.Given() && !v.PDF.Given() {
		return nil
	}
	curve, err := of()
	if err != nil {
		return err
	}
	for _, f := range []struct {
		out  *desk.OutFlag
		make func(picture.Size) ([]byte, error)
	}{{v.SVG, curve.SVG}, {v.PNG, curve.PNG}, {v.PDF, curve.PDF}} {
		if err := a.Put(f.out, func() ([]byte, error) { return f.make(picture.Page) }); err != nil {
			return err
		}
	}
	return nil
}

// SaveViews puts what the flags ask for into files.
func SaveViews(a *desk.App, v *Views, rep *verify.Report) error {
	if err := SaveCurve(a, v, func() (*picture.Curve, error) { return report.NewCurve(rep, a.Shows) }); err != nil {
		return err
	}
	return SaveSheet(a, v, rep, nil)
}

// SaveSheet puts the sheet of a report into its file, with what happened before or
// instead of a program, if anything.
func SaveSheet(a *desk.App, v *Views, rep *verify.Report, past *web.Past) error {
	return a.Put(v.Sheet, func() ([]byte, error) {
		p := Paper(a)
		p.Past = past
		page, err := web.Sheet(rep, p)
		if v.Large {
			page = web.Enlarged(page)
		}
		return page, err
	})
}
