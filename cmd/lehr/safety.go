package main

import (
	"errors"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"lehr/anneal"
	"lehr/glass/strict"
	"lehr/safety/checklist"
)

// safetyFlags are the flags of lehr safety itself.
type safetyFlags struct {
	load   loadFlags
	facts  []string // name=value, as typed
	at     []string
	all    bool
	list   bool
	record string
}

func newSafetyCommand(a *app) *cobra.Command {
	s := &safetyFlags{}
	c := &cobra.Command{
		Use:   "safety [<load.toml>] [--at <point>] [--fact <name=value>...]",
		Short: "Go through the safety list of this session, one line at a time",
		Long: `Goes through the lines to look at before the torch is lit (air, gas, you), before you reach into the kiln (reach), before you leave it alone (leave) and before you open it (open). If something is wrong now: lehr safety wrong.

On a terminal it shows one line at a time and waits for done, na (does not apply, and why), back, stop or wrong. Anywhere else, and with --all, it prints the pages.

Lines depend on the facts of the session: those under [session] of the studio file, over them those of the load file, over them --fact. A fact that is not given counts as the hazard being there, and the line says which fact would remove it. List the facts with: lehr safety --facts.

A list that is stopped early names the open lines and ends with status 3; so does a page on which a danger is reported. A record holds what was reported done, and nothing more.`,
		Example: `lehr safety mixed.toml
lehr safety --at leave --fact oxygen=concentrator --fact overnight=yes
lehr safety --all --units f
lehr safety --record tonight-safety.toml
lehr safety --facts
lehr safety mixed.toml --json`,
		Args:        safetyArgs,
		Annotations: withJSON(),
		RunE:        func(c *cobra.Command, args []string) error { return a.runSafety(c, s, args) },
	}
	f := c.Flags()
	f.StringSliceVar(&s.at, "at", nil, "only this `point`, repeatable: air, gas, you, reach, leave, open, wrong")
	f.BoolVar(&s.all, "all", false, "print the pages and ask nothing")
	f.BoolVar(&s.list, "facts", false, "list the facts, what they mean and the words they take")
	f.StringVar(&s.record, "record", "", "when every line is answered, write what was reported to `file`, or a dated file in a folder")
	a.addFactFlags(c, &s.facts, &s.load)
	must(c.RegisterFlagCompletionFunc("at", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		var words []string
		for _, p := range checklist.Points() {
			words = append(words, string(p)+"\t"+p.Title())
		}
		return words, cobra.ShellCompDirectiveNoFileComp
	}))
	c.AddCommand(newSafetyWrongCommand(a), newSafetyEyeCommand(a), newSafetyAirCommand(a), newSafetyCircuitCommand(a))
	return c
}

// addFactFlags adds the flags by which facts reach the commands of safety.
func (a *app) addFactFlags(c *cobra.Command, facts *[]string, load *loadFlags) {
	f := c.Flags()
	f.StringArrayVar(facts, "fact", nil, "a fact of the session as `name=value`, repeatable: --fact oxygen=cylinder")
	f.StringVar(&load.glassFile, "glass-file", "", "find the glasses of the load in `my-glass.toml` too")
	must(c.RegisterFlagCompletionFunc("fact", completeFact))
}

// completeFact offers the names of the facts, then the words one takes.
func completeFact(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
	name, _, named := strings.Cut(typed, "=")
	var out []string
	for _, f := range checklist.Names() {
		switch {
		case !named:
			out = append(out, f.Name+"=\t"+f.Meaning)
		case f.Name == name:
			for _, w := range f.Words {
				out = append(out, name+"="+w)
			}
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
}

// safetyArgs takes one load file, and helps when a word was meant for a
// command or a pause point.
func safetyArgs(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	word := strings.ToLower(args[0])
	if _, err := os.Stat(args[0]); args[0] != "-" && errors.Is(err, os.ErrNotExist) && !strings.ContainsAny(word, "./\\") {
		if _, err := checklist.ParsePoint(word); err == nil {
			return usagef("write: lehr safety --at "+word, "safety: %q is a point, no load file", args[0])
		}
		var names []string
		for _, child := range c.Commands() {
			names = append(names, child.Name())
		}
		if near := strict.Nearest(word, names); near != "" {
			return usagef("did you mean: lehr safety "+near+"?", "safety: no load file or command %q", args[0])
		}
	}
	return atMost(1)(c, args)
}

func (a *app) runSafety(c *cobra.Command, s *safetyFlags, args []string) error {
	points, err := s.points()
	if err != nil {
		return err
	}
	facts, _, err := a.factsOf("safety", &s.load, args, s.facts)
	if err != nil {
		return err
	}
	if s.list {
		return a.showFacts(facts)
	}
	readOnly := slices.Equal(points, []checklist.Point{checklist.Wrong})
	if a.json || s.all || readOnly || !a.asks() {
		if s.record != "" {
			return usagef("leave --record out, or answer the lines on a terminal", "safety: --record: nothing is answered here")
		}
		return a.showPages(facts, points)
	}
	record := ""
	if s.record != "" {
		if record, err = recordName(s.record, now()); err != nil {
			return err
		}
	}
	ctx, stop := interruptible(c.Context())
	defer stop()
	return a.ask(ctx, facts, points, record)
}

// points returns the pause points of --at, nil for all.
func (s *safetyFlags) points() ([]checklist.Point, error) {
	if s.all && len(s.at) > 0 {
		return nil, usagef("--at names the pages; --all prints every one", "safety: both --at and --all")
	}
	var points []checklist.Point
	for _, word := range s.at {
		p, err := checklist.ParsePoint(strings.ToLower(strings.TrimSpace(word)))
		if err != nil {
			return nil, asUsage("safety: --at", err)
		}
		if !slices.Contains(points, p) {
			points = append(points, p)
		}
	}
	return points, nil
}

// asks reports whether a person sits at both ends.
func (a *app) asks() bool {
	f, ok := a.in.(*os.File)
	return ok && isTerminal(f) && a.term.tty
}

func newSafetyWrongCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "wrong",
		Short: "Something is wrong: what to do, first words first",
		Long:  `Prints what to do when something is wrong: gas, carbon monoxide, fire, the kiln too hot, a burn. Find your line and do it, first words first. It reads no file and asks nothing.`,
		Example: `lehr safety wrong
lehr safety wrong --json`,
		Args:        noArgs,
		Annotations: withJSON(),
		RunE: func(*cobra.Command, []string) error {
			if a.json {
				return a.showPages(checklist.Facts{}, []checklist.Point{checklist.Wrong})
			}
			a.showWrong()
			return nil
		},
	}
}

// factsOf returns the facts of a session from the studio file, the load if one
// is named, and the flags.
func (a *app) factsOf(cmd string, l *loadFlags, args, typed []string) (checklist.Facts, *anneal.Load, error) {
	flags, err := factsTyped(cmd, typed)
	if err != nil {
		return checklist.Facts{}, nil, err
	}
	var load *anneal.Load
	var st anneal.Studio
	if len(args) > 0 {
		load, st, err = a.readLoad(cmd, l, args)
	} else {
		st, err = a.readStudio()
		st.Units = a.system(st.Units)
	}
	if err != nil {
		return checklist.Facts{}, nil, err
	}
	if load == nil { // readLoad has looked at the facts of both files
		err = a.checkFacts(nil, st, nil)
	}
	if err != nil {
		return checklist.Facts{}, nil, err
	}
	f, err := sessionFacts(load, st)
	return f.Over(flags), load, err
}
