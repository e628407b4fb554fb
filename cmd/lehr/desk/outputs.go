package desk

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/term"
)

// OutFlag is a flag that names a file to write. A command that has one calls
// claim when it has read its inputs and before it computes, and put with what
// is to be written; the files appear when the command has succeeded, all or
// none (see package outfile).
type OutFlag struct {
	outfile.File
	Cmd *cobra.Command
}

// Given reports whether the flag names a file.
func (o *OutFlag) Given() bool { return o != nil && o.Name != "" }

// OutFlag adds a flag that names a file of a kind; what says what the file is,
// in the words of a message. The first of a command adds --force, too.
func (a *App) OutFlag(c *cobra.Command, name, short string, kind outfile.Kind, what, usage string) *OutFlag {
	o := &OutFlag{outfile.File{Flag: "--" + name, Kind: kind, What: what}, c}
	c.Flags().StringVarP(&o.Name, name, short, "", usage)
	a.Outs = append(a.Outs, o)
	return o
}

// ForceFlag adds --force. It comes last among the flags of a command.
func (a *App) ForceFlag(c *cobra.Command) {
	c.Flags().BoolVar(&a.Files.Force, "force", false, "replace files that lehr did not write, or that were changed since")
}

// Claim checks every output of the command before any long work is done.
func (a *App) Claim(c *cobra.Command) error {
	for _, o := range a.Outs {
		if o.Cmd != c || !o.Given() {
			continue
		}
		if o.Name == outfile.Stdout {
			switch {
			case a.JSON:
				return Usagef("leave one of them out", "%s: %s -: --json goes to standard output, too", c.Name(), o.Flag)
			case a.Term.TTY && (o.Kind == outfile.PNG || o.Kind == outfile.PDF):
				return Usagef("name a file, or send it on: lehr "+c.Name()+" ... "+o.Flag+" - | program", "%s: %s -: a terminal cannot show it", c.Name(), o.Flag)
			}
		}
		if err := a.Files.Claim(o.File); err != nil {
			return a.outError(c, err)
		}
		if other := otherEnding(o.File); other != "" {
			return Usagef("end its name in "+o.Kind.Ending(), "%s: %s %s: this file is %s, and the name says %s", c.Name(), o.Flag, o.Name, o.Kind.Ending()[1:], other)
		}
	}
	return nil
}

// otherEnding returns the kind that the name of a file says where it is to hold
// another, "" if the name says nothing of it.
func otherEnding(f outfile.File) string {
	ending := strings.ToLower(filepath.Ext(f.Name))
	for k := outfile.TOML; k <= outfile.CSV; k++ {
		if ending == k.Ending() && k != f.Kind {
			return ending[1:]
		}
	}
	return ""
}

// Put hands over what a flag asked for; nothing if it named no file. What goes
// to standard output takes the place of the answer there.
func (a *App) Put(o *OutFlag, make func() ([]byte, error)) error {
	if !o.Given() {
		return nil
	}
	data, err := make()
	if err != nil {
		return err
	}
	return a.outError(o.Cmd, a.Files.Put(o.File, data))
}

// outError gives an error of package outfile its exit status.
func (a *App) outError(c *cobra.Command, err error) error {
	var e *outfile.Error
	if errors.As(err, &e) && e.Usage {
		return AsUsage(c.Name(), err)
	}
	return err
}

// Commit writes the files of a command that has succeeded, and says so.
func (a *App) Commit() error {
	written, err := a.Files.Commit()
	if err != nil {
		return err
	}
	for _, w := range written {
		a.Say(w.String())
	}
	if data, is := a.Files.ToStdout(); is {
		a.results.buf.Reset()
		a.Out.Write(data)
	}
	return nil
}

// Say writes a line for the person to standard error.
func (a *App) Say(text string) {
	text = term.Clean(text)
	if a.ASCII() {
		text = term.ToASCII(text)
	}
	fmt.Fprintln(a.Err, "lehr: "+text)
}

// ReportError writes what went wrong to standard error, on one line unless that
// is a terminal.
func (a *App) ReportError(err error) {
	width := 0
	if a.ErrTerm.TTY {
		width = a.ErrTerm.Width
	}
	term.PrintError(a.Err, err, a.ASCII(), width)
}

// EnsureFolder makes a folder that does not exist; its parent must.
func EnsureFolder(name string) (made bool, err error) {
	info, err := os.Stat(name)
	switch {
	case err == nil && !info.IsDir():
		return false, FileError(name, errors.New("is no folder"))
	case err == nil:
		return false, nil
	case !errors.Is(err, fs.ErrNotExist):
		return false, FileError(name, err)
	}
	if parent := filepath.Dir(name); parent != "." {
		if _, err := os.Stat(parent); errors.Is(err, fs.ErrNotExist) {
			return false, fmt.Errorf("%s: no such folder %s", name, parent)
		}
	}
	return true, FileError(name, os.Mkdir(name, 0o755))
}
