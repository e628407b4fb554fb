package main

import (
	"errors"
	"io"
	"io/fs"
	"os"

	"lehr/anneal/kiln"
)

// shownName is how messages call the named file.
func shownName(name string) string {
	if name == "-" {
		return "standard input"
	}
	return name
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
