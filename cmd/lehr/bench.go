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

// saveOutput is the one place where a command of the bench writes a file that
// was asked for: all or nothing, and never in place of another without force.
func (a *app) saveOutput(name string, data []byte, force bool) error {
	if _, err := os.Lstat(name); err == nil && !force {
		return withHint(fmt.Errorf("%s: exists", name), "name another file, or write --force to replace it")
	} else if err != nil && !errors.Is(err, os.ErrNotExist) {
		return fileError(name, err)
	}
	if err := writeFile(name, data); err != nil {
		return err
	}
	a.tell("wrote " + name)
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
