package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/topics"
	"lehr/glass/unit"
)

func newInitCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "init [<folder>]",
		Short: "Write a commented studio.toml and a sample load to start from",
		Long: `Writes two files into a folder, the current one if none is named: studio.toml, which says what stays the same from night to night (kiln, controller, limits, and what the safety review asks about the studio), and load.toml, a sample load. Every key of studio.toml stands there with its meaning, its unit and its default; a key that begins with # counts as not given.

A file that exists is replaced only while nobody has changed it since lehr wrote it; otherwise nothing is written, unless --force is given.`,
		Example: `lehr init
lehr init studio --units f
lehr init studio --force`,
		Args: atMost(1),
		RunE: func(_ *cobra.Command, args []string) error {
			folder := "."
			if len(args) > 0 {
				folder = args[0]
			}
			return a.init(folder)
		},
	}
	a.ForceFlag(c)
	return c
}

// init writes both files or none.
func (a *app) init(folder string) error {
	sys := a.System(unit.Metric)
	files := []struct {
		outfile.File
		text string
	}{
		{outfile.File{Name: filepath.Join(folder, desk.StudioName), Kind: outfile.TOML, What: "studio file"}, topics.StudioSample(sys)},
		{outfile.File{Name: filepath.Join(folder, topics.LoadName), Kind: outfile.TOML, What: "sample load"}, topics.LoadSample(sys)},
	}
	if folder == outfile.Stdout {
		return desk.Usagef("name a folder", "init: -: two files do not fit standard output")
	}
	made, err := ensureFolder(folder)
	if err != nil {
		return err
	}
	for _, f := range files {
		if err == nil {
			err = a.Files.Put(f.File, []byte(f.text))
		}
	}
	if err == nil {
		err = a.Commit()
	}
	if err != nil {
		if made {
			os.Remove(folder)
		}
		return err
	}
	a.Print("Next, fill in what you know of your kiln and controller in " + term.Clean(files[0].Name) + ", then:\n\n")
	if folder != "." {
		a.Print("  cd " + term.Clean(desk.ShellWord(folder)) + "\n")
	}
	a.Print("  lehr plan " + topics.LoadName + "\n")
	return nil
}

// ensureFolder makes a folder that does not exist; its parent must.
func ensureFolder(name string) (made bool, err error) {
	info, err := os.Stat(name)
	switch {
	case err == nil && !info.IsDir():
		return false, desk.FileError(name, errors.New("is no folder"))
	case err == nil:
		return false, nil
	case !errors.Is(err, fs.ErrNotExist):
		return false, desk.FileError(name, err)
	}
	if parent := filepath.Dir(name); parent != "." {
		if _, err := os.Stat(parent); errors.Is(err, fs.ErrNotExist) {
			return false, fmt.Errorf("%s: no such folder %s", name, parent)
		}
	}
	return true, desk.FileError(name, os.Mkdir(name, 0o755))
}
