package main

import (
	_ "embed"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/desk"
)

// notices are the terms of this program and of everything it contains. They
// are gathered by TestNotices.
//
//go:embed notices.txt
var notices string

func newVersionCommand(a *app) *cobra.Command {
	licenses := false
	c := &cobra.Command{
		Use:   "version",
		Short: "Print the version and what it was built from",
		Example: `lehr version
lehr version --licenses
lehr version --json`,
		Args:        noArgs,
		Annotations: withJSON(),
		RunE: func(*cobra.Command, []string) error {
			switch {
			case licenses && a.JSON:
				return desk.Usagef("leave one of them out", "version: both --licenses and --json")
			case licenses:
				a.Print(notices)
				return nil
			}
			return a.showVersion()
		},
	}
	c.Flags().BoolVar(&licenses, "licenses", false, "print the license, and the notices of everything the program contains")
	return c
}

func (a *app) showVersion() error {
	v := desk.ReadVersion()
	if a.JSON {
		return a.PrintJSON(v)
	}
	a.Printf("lehr %s\n", v.Version)
	if v.Commit != "" {
		a.Printf("commit %s of %s", v.Commit, v.Date)
		if v.Modified {
			a.Print(", modified")
		}
		a.Print("\n")
	}
	a.Printf("%s %s\n", v.Go, v.Platform)
	return nil
}
