package main

import (
	"github.com/spf13/cobra"

	"lehr/anneal/verify"

	"lehr/cmd/lehr/picture"
)

// viewFlags name the pictures and pages a report is written to as well.
type viewFlags struct{ sheet, svg, png, pdf string }

// addViewFlags adds the flags of the pictures.
func (a *app) addViewFlags(c *cobra.Command) *viewFlags {
	v := &viewFlags{}
	f := c.Flags()
	f.BoolVar(&a.chart, "chart", false, "draw the curve on the terminal, too")
	f.StringVar(&v.sheet, "sheet", "", "write the sheet to print and pin on the kiln to `file.html`")
	a.addCurveFlags(c, v)
	return v
}

// addCurveFlags adds the flags of the curve alone.
func (a *app) addCurveFlags(c *cobra.Command, v *viewFlags) {
	f := c.Flags()
	f.StringVar(&v.svg, "svg", "", "write the curve to `file.svg`")
	f.StringVar(&v.png, "png", "", "write the curve to `file.png`")
	f.StringVar(&v.pdf, "pdf", "", "write the curve to `file.pdf`")
}

// saveViews writes what the flags ask for. Everything is made before the first
// file is written, so that a failure leaves no half set.
func (a *app) saveViews(v *viewFlags, rep *verify.Report) error {
	var files []struct {
		name string
		data []byte
	}
	add := func(name string, make func() ([]byte, error)) error {
		if name == "" {
			return nil
		}
		data, err := make()
		files = append(files, struct {
			name string
			data []byte
		}{name, data})
		return err
	}
	if v.svg+v.png+v.pdf != "" {
		curve, err := newCurve(rep)
		if err != nil {
			return err
		}
		for _, f := range []struct {
			name string
			make func(picture.Size) ([]byte, error)
		}{{v.svg, curve.SVG}, {v.png, curve.PNG}, {v.pdf, curve.PDF}} {
			if err := add(f.name, func() ([]byte, error) { return f.make(picture.Page) }); err != nil {
				return err
			}
		}
	}
	if err := add(v.sheet, func() ([]byte, error) { return sheetHTML(rep, "") }); err != nil {
		return err
	}
	for _, f := range files {
		if err := saveFile(f.name, f.data); err != nil {
			return err
		}
	}
	return nil
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
