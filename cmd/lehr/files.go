package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"strconv"

	"lehr/anneal/kiln"
)

// shownName is how messages call the named file.
func shownName(name string) string {
	if name == "-" {
		return "standard input"
	}
	return name
}

// short writes a number with at most four significant digits and no exponent
// where a person would not expect one.
func short(x float64) string {
	x = round4(x)
	if abs := max(x, -x); abs != 0 && (abs >= 1e7 || abs < 1e-4) {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// whole writes a number without decimals.
func whole(x float64) string { return strconv.FormatFloat(x, 'f', 0, 64) }

// round3 rounds to three significant digits.
func round3(x float64) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 3, 64), 64)
	if err != nil {
		return x
	}
	return r
}

// must is for what cannot fail unless the program itself is wrong.
func must(err error) {
	if err != nil {
		panic("lehr: " + err.Error())
	}
}

// studioName is the file that is read when it lies in the current folder.
const studioName = "studio.toml"

// readStudio reads the file named by --studio, else ./studio.toml if there is
// one, else returns the documented defaults.
func (a *app) readStudio() (kiln.Studio, error) {
	name := a.studio
	if name == "" {
		if _, err := os.Lstat(studioName); errors.Is(err, fs.ErrNotExist) { // a link to nothing is there
			return kiln.DefaultStudio(), nil
		}
		name = studioName
	}
	var studio kiln.Studio
	err := a.readAs("--studio", studioFile, name, func(r io.Reader) error {
		var err error
		studio, err = kiln.ReadStudio(r, shownName(name))
		return err
	})
	return studio, err
}
