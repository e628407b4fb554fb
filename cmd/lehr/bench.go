package main

import (
	"strings"

	"github.com/spf13/cobra"

	"lehr/anneal/kiln"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/glass"
)

// glassFlags name the glass of a command that needs no load.
type glassFlags struct{ name, file string }

func addGlassFlags(c *cobra.Command) *glassFlags {
	g := &glassFlags{}
	f := c.Flags()
	f.StringVar(&g.name, "glass", "", "`name` of the glass (default: the studio file's)")
	f.StringVar(&g.file, "glass-file", "", "find glasses in `my-glass.toml` too")
	desk.Must(c.RegisterFlagCompletionFunc("glass", completeGlass))
	return g
}

// glassOf returns the glass that a command works with, and the studio in the
// units of the run.
func (a *app) glassOf(cmd string, f *glassFlags) (*glass.Glass, kiln.Studio, error) {
	st, err := a.LocalStudio()
	if err != nil {
		return nil, st, err
	}
	name := f.name
	if name == "" {
		name = st.Glass
	}
	if name == "" {
		return nil, st, desk.Usagef("write --glass borosilicate-33; list the names with: lehr glass", "%s: needs --glass", cmd)
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
		return nil, st, desk.AsUsage(cmd+": --glass", err)
	}
	return g, st, nil
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
func maybe(n report.Num) *report.Num { return &n }
