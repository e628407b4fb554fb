package main

import (
	_ "embed"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/desk"
)

// notices are the terms of this program and of everything it contains. They
// are gathered by TestNotices.
//
//go:embed notices.txt
var notices string

// version is what the binary knows about itself.
type version struct {
	Version  string `json:"version"`
	Commit   string `json:"commit,omitempty"`
	Date     string `json:"date,omitempty"`
	Modified bool   `json:"modified,omitempty"`
	Go       string `json:"go"`
	Platform string `json:"platform"`
}

// readVersion reads what the build wrote into the binary.
func readVersion() version {
	v := version{Version: "unknown", Go: runtime.Version(), Platform: runtime.GOOS + "/" + runtime.GOARCH}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return v
	}
	if info.Main.Version != "" {
		v.Version = info.Main.Version
	}
	if v.Version == "(devel)" {
		v.Version = "devel"
	}
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			v.Commit = s.Value
		case "vcs.time":
			v.Date = s.Value
		case "vcs.modified":
			v.Modified = s.Value == "true"
		}
	}
	return v
}

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
	v := readVersion()
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
