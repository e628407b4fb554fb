package desk

import (
	"errors"
	"io"
	"io/fs"
	"os"

	"lehr/anneal/kiln"
)

// LocalStudio reads the studio file and puts it into the units of the run.
func (a *App) LocalStudio() (kiln.Studio, error) {
	st, err := a.ReadStudio()
	if err == nil && a.units.set {
		st = st.In(a.units.system)
	}
	return st, err
}

// ShownName is how messages call the named file.
func ShownName(name string) string {
	if name == "-" {
		return "standard input"
	}
	return name
}

// Must is for what cannot fail unless the program itself is wrong.
func Must(err error) {
	if err != nil {
		panic("lehr: " + err.Error())
	}
}

// StudioName is the file that is read when it lies in the current folder.
const StudioName = "studio.toml"

// ReadStudio reads the file named by --studio, else ./studio.toml if there is
// one, else returns the documented defaults.
func (a *App) ReadStudio() (kiln.Studio, error) {
	name := a.Studio
	if name == "" {
		if _, err := os.Lstat(StudioName); errors.Is(err, fs.ErrNotExist) { // a link to nothing is there
			return kiln.DefaultStudio(), nil
		}
		name = StudioName
	}
	var studio kiln.Studio
	err := a.ReadAs("--studio", StudioFile, name, func(r io.Reader) error {
		var err error
		studio, err = kiln.ReadStudio(r, ShownName(name))
		return err
	})
	return studio, err
}
