package main

import (
	"bytes"

	"github.com/spf13/cobra"

	"lehr/anneal/verify"
	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/picture"
)

// viewFlags name the pictures and pages a report is written to as well.
type viewFlags struct {
	sheet, svg, png, pdf *outFlag
	large                bool // the sheet in larger letters
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
	v.pdf = a.outFlag(c, "pdf", "", outfile.PDF, "curve", "write the curve to `file.pdf`, \"-\" for a pipe")
}

// saveViews puts what the flags ask for into files.
func (a *app) saveViews(v *viewFlags, rep *verify.Report) error {
	if v.svg.given() || v.png.given() || v.pdf.given() {
		curve, err := newCurve(rep)
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
	}
	return a.put(v.sheet, func() ([]byte, error) {
		page, err := sheetHTML(rep, "")
		if v.large {
			page = enlarged(page)
		}
		return page, err
	})
}

// enlarged makes the letters of a page half as large again. On paper what
// stands side by side then stands one below the other.
func enlarged(page []byte) []byte {
	const style = "<style>html{font-size:150%}.word,.program .n{font-size:1.6rem}" +
		"@media print{body{zoom:1.5}.two,.top{display:block}.pages,.small{columns:1}}</style></head>"
	return bytes.Replace(page, []byte("</head>"), []byte(style), 1)
}

// showChart prints the curve in characters.
func (a *app) showChart(rep *verify.Report) error {
	curve, err := newCurve(rep)
	if err != nil {
		return err
	}
	var spell func(string) string
	if a.ascii() {
		spell = toASCII
	}
	a.print("\n" + a.style(styleStrong, "Curve") + "\n")
	a.prose(0, curve.Title+".")
	a.print(curve.Text(a.width(), spell))
	return nil
}
