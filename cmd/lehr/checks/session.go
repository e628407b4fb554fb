// Package checks is the safety of a session at the desk: the lines gone through one
// by one or printed, what to do when something is wrong, and the figures for eye, air
// and circuit. Lines, words and formulas are of the packages below safety.
package checks

import (
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/term"
	"lehr/safety/checklist"
)

// Flags are the flags of lehr safety itself.
type Flags struct {
	Load   flags.Load
	Facts  []string // name=value, as typed
	At     []string
	All    bool
	List   bool
	Record string
	Resume string
}

// AddFacts adds the flags by which facts reach the commands of safety.
func AddFacts(a *desk.App, c *cobra.Command, facts *[]string, load *flags.Load) {
	flags.AddFact(c, facts)
	c.Flags().StringVar(&load.GlassFile, "glass-file", "", "find the glasses of the load in `my-glass.toml` too")
}

// Safety is lehr safety: it asks line by line where a person sits at both ends, and
// prints the pages anywhere else.
func Safety(a *desk.App, c *cobra.Command, s *Flags, args []string) error {
	if stop, err := Danger(a, "safety", s.Facts); stop {
		return err
	}
	points, err := s.points()
	if err != nil {
		return err
	}
	facts, _, err := factsOf(a, "safety", &s.Load, args, s.Facts)
	if err != nil {
		return err
	}
	if s.List {
		return showFacts(a, facts)
	}
	if a.JSON || s.All || !asks(a) {
		if s.Record+s.Resume != "" {
			return desk.Usagef("leave it out, or answer the lines on a terminal", "safety: --record and --resume: nothing is answered here")
		}
		return showPages(a, facts, points)
	}
	if s.Record == outfile.Stdout {
		return desk.Usagef("name a file or a folder", "safety: --record -: the lines are shown there")
	}
	run, err := newAsking(a, s, facts, points)
	if err != nil {
		return err
	}
	ctx, stop := desk.Interruptible(c.Context())
	defer stop()
	return run.ask(ctx)
}

// points returns the pause points of --at, nil for those before lighting.
func (s *Flags) points() ([]checklist.Point, error) {
	switch {
	case s.All && len(s.At) > 0:
		return nil, desk.Usagef("--at names the pages; --all prints every one", "safety: both --at and --all")
	case s.Resume != "" && len(s.At) > 0:
		return nil, desk.Usagef("leave --at out", "safety: --resume: the record says which points it is of")
	case s.Resume != "" && s.Record != "":
		return nil, desk.Usagef("leave --record out", "safety: --resume: the run is kept where it was")
	case s.All:
		return checklist.Points(), nil
	}
	var points []checklist.Point
	for _, word := range s.At {
		word = strings.ToLower(strings.TrimSpace(word))
		if word == "wrong" {
			return nil, desk.Usagef("write: lehr wrong", "safety: --at wrong: is no pause point")
		}
		p, err := checklist.ParsePoint(word)
		if err != nil {
			return nil, desk.AsUsage("safety: --at", err)
		}
		if !slices.Contains(points, p) {
			points = append(points, p)
		}
	}
	return points, nil
}

// asks reports whether a person sits at both ends.
func asks(a *desk.App) bool {
	f, ok := a.In.(*os.File)
	return ok && term.IsTerminal(f) && a.Term.TTY
}

// factsOf returns the facts of a session from the studio file, the load if one
// is named, and the flags.
func factsOf(a *desk.App, cmd string, l *flags.Load, args, typed []string) (checklist.Facts, *piece.Load, error) {
	said, err := flags.FactsTyped(cmd, typed)
	if err != nil {
		return checklist.Facts{}, nil, err
	}
	var load *piece.Load
	var st kiln.Studio
	if len(args) > 0 {
		load, st, err = flags.ReadLoad(a, cmd, l, args)
	} else {
		st, err = a.ReadStudio()
		st.Units = a.System(st.Units)
	}
	if err != nil {
		return checklist.Facts{}, nil, err
	}
	if load == nil { // flags.ReadLoad has looked at the facts of both files
		err = flags.CheckFacts(a, nil, st, nil)
	}
	if err != nil {
		return checklist.Facts{}, nil, err
	}
	f, err := session.Facts(load, st)
	return f.Over(said), load, err
}
