package main

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"lehr/anneal"
	"lehr/glass"
)

// glassFlags name the glass of a command that needs no load.
type glassFlags struct{ name, file string }

func addGlassFlags(c *cobra.Command) *glassFlags {
	g := &glassFlags{}
	f := c.Flags()
	f.StringVar(&g.name, "glass", "", "`name` of the glass (default: the studio file's)")
	f.StringVar(&g.file, "glass-file", "", "find glasses in `my-glass.toml` too")
	must(c.RegisterFlagCompletionFunc("glass", completeGlass))
	return g
}

// glassOf returns the glass that a command works with, and the studio in the
// units of the run.
func (a *app) glassOf(cmd string, f *glassFlags) (*glass.Glass, anneal.Studio, error) {
	st, err := a.benchStudio()
	if err != nil {
		return nil, st, err
	}
	name := f.name
	if name == "" {
		name = st.Glass
	}
	if name == "" {
		return nil, st, usagef("write --glass borosilicate-33; list the names with: lehr glass", "%s: needs --glass", cmd)
	}
	table, err := a.glassTable(f.file)
	if err != nil {
		return nil, st, err
	}
	g, err := table.Find(name)
	if err != nil && f.file != "" {
		if own, e := glass.Find(name); e == nil {
			return own, st, nil
		}
	}
	if err != nil {
		return nil, st, asUsage(cmd+": --glass", err)
	}
	return g, st, nil
}

// benchStudio reads the studio file and puts it into the units of the run.
func (a *app) benchStudio() (anneal.Studio, error) {
	st, err := a.readStudio()
	if err == nil && a.units.set {
		st = st.In(a.units.system)
	}
	return st, err
}

// outputFile is a file that a command was asked to write.
type outputFile struct {
	name string
	data []byte
}

// saveOutput writes one file, see saveOutputs.
func (a *app) saveOutput(name string, data []byte, force bool) error {
	return a.saveOutputs([]outputFile{{name, data}}, force)
}

// saveOutputs is the one place where a command of the bench writes files that
// were asked for: each whole, none in place of another without force, and none
// at all if one of the names is taken.
func (a *app) saveOutputs(files []outputFile, force bool) error {
	for _, f := range files {
		if _, err := os.Lstat(f.name); err == nil && !force {
			return withHint(fmt.Errorf("%s: exists", f.name), "name another file, or write --force to replace it")
		} else if err != nil && !errors.Is(err, os.ErrNotExist) {
			return fileError(f.name, err)
		}
	}
	for _, f := range files {
		if err := saveFile(f.name, f.data); err != nil {
			return err
		}
		a.tell("wrote " + f.name)
	}
	return nil
}

// tell says on standard error what a command did.
func (a *app) tell(text string) {
	text = clean(text)
	if a.ascii() {
		text = toASCII(text)
	}
	fmt.Fprintln(a.err, text)
}

// commas splits a list that is written with commas, without empty items.
func commas(text string) []string {
	var out []string
	for part := range strings.SplitSeq(text, ",") {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}

// maybe is a number that JSON shows as null when there is none.
func maybe(n num) *num { return &n }
