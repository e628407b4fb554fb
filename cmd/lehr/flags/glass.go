package flags

import (
	"io"

	"github.com/spf13/cobra"

	"lehr/anneal/kiln"
	"lehr/cmd/lehr/desk"
	"lehr/glass"
)

// Glass name the glass of a command that needs no load.
type Glass struct{ Name, File string }

// AddGlass adds the flags that name a glass.
func AddGlass(c *cobra.Command) *Glass {
	g := &Glass{}
	f := c.Flags()
	f.StringVar(&g.Name, "glass", "", "`name` of the glass (default: the studio file's)")
	f.StringVar(&g.File, "glass-file", "", "find glasses in `my-glass.toml` too")
	desk.Must(c.RegisterFlagCompletionFunc("glass", CompleteGlass))
	return g
}

// GlassOf returns the glass that a command works with, and the studio in the
// units of the run.
func GlassOf(a *desk.App, cmd string, f *Glass) (*glass.Glass, kiln.Studio, error) {
	st, err := a.LocalStudio()
	if err != nil {
		return nil, st, err
	}
	name := f.Name
	if name == "" {
		name = st.Glass
	}
	if name == "" {
		return nil, st, desk.Usagef("write --glass borosilicate-33; list the names with: lehr glass", "%s: needs --glass", cmd)
	}
	table, err := GlassTable(a, f.File)
	if err != nil {
		return nil, st, err
	}
	g, err := table.Find(name)
	if err != nil {
		return nil, st, desk.AsUsage(cmd+": --glass", err)
	}
	return g, st, nil
}

// CompleteGlass lists the built-in glasses for the shell.
func CompleteGlass(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	var names []string
	for _, g := range glass.Builtin() {
		names = append(names, g.Name+"\t"+g.Title)
	}
	return names, cobra.ShellCompDirectiveNoFileComp
}

// GlassTable reads the named file, or returns the built-in table for "". The
// Find of either knows the built-in glasses.
func GlassTable(a *desk.App, file string) (*glass.Table, error) {
	if file == "" {
		return &glass.Table{Glasses: glass.Builtin(), Sources: glass.Sources()}, nil
	}
	var table *glass.Table
	err := a.ReadAs("glass", desk.GlassFile, file, func(r io.Reader) error {
		var err error
		table, err = glass.Load(r, desk.ShownName(file))
		return err
	})
	return table, err
}
