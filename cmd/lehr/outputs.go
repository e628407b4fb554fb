package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/term"
)

// outFlag is a flag that names a file to write. A command that has one calls
// claim when it has read its inputs and before it computes, and put with what
// is to be written; the files appear when the command has succeeded, all or
// none (see package outfile).
type outFlag struct {
	outfile.File
	cmd *cobra.Command
}

// given reports whether the flag names a file.
func (o *outFlag) given() bool { return o != nil && o.Name != "" }

// outFlag adds a flag that names a file of a kind; what says what the file is,
// in the words of a message. The first of a command adds --force, too.
func (a *app) outFlag(c *cobra.Command, name, short string, kind outfile.Kind, what, usage string) *outFlag {
	o := &outFlag{outfile.File{Flag: "--" + name, Kind: kind, What: what}, c}
	c.Flags().StringVarP(&o.Name, name, short, "", usage)
	a.outs = append(a.outs, o)
	return o
}

// forceFlag adds --force. It comes last among the flags of a command.
func (a *app) forceFlag(c *cobra.Command) {
	c.Flags().BoolVar(&a.files.Force, "force", false, "replace files that lehr did not write, or that were changed since")
}

// claim checks every output of the command before any long work is done.
func (a *app) claim(c *cobra.Command) error {
	for _, o := range a.outs {
		if o.cmd != c || !o.given() {
			continue
		}
		if o.Name == outfile.Stdout {
			switch {
			case a.json:
				return usagef("leave one of them out", "%s: %s -: --json goes to standard output, too", c.Name(), o.Flag)
			case a.Term.TTY && (o.Kind == outfile.PNG || o.Kind == outfile.PDF):
				return usagef("name a file, or send it on: lehr "+c.Name()+" ... "+o.Flag+" - | program", "%s: %s -: a terminal cannot show it", c.Name(), o.Flag)
			}
		}
		if err := a.files.Claim(o.File); err != nil {
			return a.outError(c, err)
		}
		if other := otherEnding(o.File); other != "" {
			return usagef("end its name in "+o.Kind.Ending(), "%s: %s %s: this file is %s, and the name says %s", c.Name(), o.Flag, o.Name, o.Kind.Ending()[1:], other)
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

// put hands over what a flag asked for; nothing if it named no file. What goes
// to standard output takes the place of the answer there.
func (a *app) put(o *outFlag, make func() ([]byte, error)) error {
	if !o.given() {
		return nil
	}
	data, err := make()
	if err != nil {
		return err
	}
	return a.outError(o.cmd, a.files.Put(o.File, data))
}

// outError gives an error of package outfile its exit status.
func (a *app) outError(c *cobra.Command, err error) error {
	var e *outfile.Error
	if errors.As(err, &e) && e.Usage {
		return asUsage(c.Name(), err)
	}
	return err
}

// commit writes the files of a command that has succeeded, and says so.
func (a *app) commit() error {
	written, err := a.files.Commit()
	if err != nil {
		return err
	}
	for _, w := range written {
		a.say(w.String())
	}
	if data, is := a.files.ToStdout(); is {
		a.results.buf.Reset()
		a.Out.Write(data)
	}
	return nil
}

// say writes a line for the person to standard error.
func (a *app) say(text string) {
	text = term.Clean(text)
	if a.ASCII() {
		text = term.ToASCII(text)
	}
	fmt.Fprintln(a.err, "lehr: "+text)
}

// printError writes what went wrong to standard error, on one line unless that
// is a terminal.
func (a *app) printError(err error) {
	width := 0
	if a.errTerm.TTY {
		width = a.errTerm.Width
	}
	term.PrintError(a.err, err, a.ASCII(), width)
}
