package main

import (
	"errors"
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
	"lehr/glass/strict"
	"lehr/safety/checklist"
)

// safetyFlags are the flags of lehr safety itself.
type safetyFlags struct {
	load   flags.Load
	facts  []string // name=value, as typed
	at     []string
	all    bool
	list   bool
	record string
	resume string
}

func newSafetyCommand(a *app) *cobra.Command {
	s := &safetyFlags{}
	c := &cobra.Command{
		Use:   "safety [<load.toml>] [--at <point>] [--fact <name=value>...]",
		Short: "Go through the safety list of this session, one line at a time",
		Long: `Goes through the lines to look at before the torch is lit (air, gas, you). Those before you reach into the kiln (--at reach), before you leave it alone (--at leave) and before you open it (--at open) come at their time. If something is wrong now: lehr wrong.

On a terminal it shows one line at a time and waits for done; no, if it is not done, and why; na, if it does not apply, and why; back, stop or wrong. Both no and na are recorded as NOT DONE. A test that is asked for wants its date. Anywhere else, and with --all, it prints the pages.

Lines depend on the facts of the session: those under [session] of the studio file, over them those of the load file, over them --fact. A fact that is not given counts as the hazard being there, and the line says which fact would remove it. What is so now, such as a smell of gas, is said with --fact and by no file; a danger ends the list with what to do. List the facts with: lehr safety --facts.

With --record every answer is kept as it is given, and a run that was stopped or interrupted goes on with --resume: what was reported done within the last hour still counts, the gas is looked for again.

Status 3: what is known breaks a line (a kiln left alone without a second cut-off that was tested, a breaker that does not fit, more infrared than the limit); on a terminal also: a line is open or not done. Pages that are printed ask nothing, so their status 0 says only that nothing known breaks a line.`,
		Example: `lehr safety mixed.toml
lehr safety --at leave --fact oxygen=concentrator --fact overnight=yes
lehr safety --all --units f
lehr safety --record tonight-safety.toml
lehr safety --resume tonight-safety.toml
lehr safety --facts
lehr safety mixed.toml --json`,
		Args:        safetyArgs,
		Annotations: withJSON(),
		RunE:        func(c *cobra.Command, args []string) error { return a.runSafety(c, s, args) },
	}
	f := c.Flags()
	f.StringSliceVar(&s.at, "at", nil, "only this `point`, repeatable: air, gas, you, reach, leave, open")
	f.BoolVar(&s.all, "all", false, "print the pages of every point and ask nothing")
	f.BoolVar(&s.list, "facts", false, "list the facts, what they mean and the words they take")
	f.StringVar(&s.record, "record", "", "keep what is answered in `file`, or in a dated file in a folder")
	f.StringVar(&s.resume, "resume", "", "go on with the run whose record is `file`, and keep it there; name the same load and facts")
	a.addFactFlags(c, &s.facts, &s.load)
	desk.Must(c.RegisterFlagCompletionFunc("at", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		var words []string
		for _, p := range checklist.Points() {
			words = append(words, string(p)+"\t"+p.Title())
		}
		return words, cobra.ShellCompDirectiveNoFileComp
	}))
	wrong := newWrongCommand(a)
	wrong.Hidden = true // the help lists it once, at the top
	c.AddCommand(wrong, newSafetyEyeCommand(a), newSafetyAirCommand(a), newSafetyCircuitCommand(a))
	return c
}

// addFactFlags adds the flags by which facts reach the commands of safety.
func (a *app) addFactFlags(c *cobra.Command, facts *[]string, load *flags.Load) {
	flags.AddFact(c, facts)
	c.Flags().StringVar(&load.GlassFile, "glass-file", "", "find the glasses of the load in `my-glass.toml` too")
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
			return desk.Usagef("write: lehr safety --at "+word, "safety: %q is a point, no load file", args[0])
		}
		var names []string
		for _, child := range c.Commands() {
			names = append(names, child.Name())
		}
		if near := strict.Nearest(word, names); near != "" {
			return desk.Usagef("did you mean: lehr safety "+near+"?", "safety: no load file or command %q", args[0])
		}
	}
	return atMost(1)(c, args)
}

func (a *app) runSafety(c *cobra.Command, s *safetyFlags, args []string) error {
	if stop, err := a.danger("safety", s.facts); stop {
		return err
	}
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
	if a.JSON || s.all || !a.asks() {
		if s.record+s.resume != "" {
			return desk.Usagef("leave it out, or answer the lines on a terminal", "safety: --record and --resume: nothing is answered here")
		}
		return a.showPages(facts, points)
	}
	if s.record == outfile.Stdout {
		return desk.Usagef("name a file or a folder", "safety: --record -: the lines are shown there")
	}
	run, err := a.newAsking(s, facts, points)
	if err != nil {
		return err
	}
	ctx, stop := desk.Interruptible(c.Context())
	defer stop()
	return run.ask(ctx)
}

// points returns the pause points of --at, nil for those before lighting.
func (s *safetyFlags) points() ([]checklist.Point, error) {
	switch {
	case s.all && len(s.at) > 0:
		return nil, desk.Usagef("--at names the pages; --all prints every one", "safety: both --at and --all")
	case s.resume != "" && len(s.at) > 0:
		return nil, desk.Usagef("leave --at out", "safety: --resume: the record says which points it is of")
	case s.resume != "" && s.record != "":
		return nil, desk.Usagef("leave --record out", "safety: --resume: the run is kept where it was")
	case s.all:
		return checklist.Points(), nil
	}
	var points []checklist.Point
	for _, word := range s.at {
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
func (a *app) asks() bool {
	f, ok := a.In.(*os.File)
	return ok && term.IsTerminal(f) && a.Term.TTY
}

// factsOf returns the facts of a session from the studio file, the load if one
// is named, and the flags.
func (a *app) factsOf(cmd string, l *flags.Load, args, typed []string) (checklist.Facts, *piece.Load, error) {
	said, err := flags.FactsTyped(cmd, typed)
	if err != nil {
		return checklist.Facts{}, nil, err
	}
	var load *piece.Load
	var st kiln.Studio
	if len(args) > 0 {
		load, st, err = flags.ReadLoad(a.App, cmd, l, args)
	} else {
		st, err = a.ReadStudio()
		st.Units = a.System(st.Units)
	}
	if err != nil {
		return checklist.Facts{}, nil, err
	}
	if load == nil { // flags.ReadLoad has looked at the facts of both files
		err = flags.CheckFacts(a.App, nil, st, nil)
	}
	if err != nil {
		return checklist.Facts{}, nil, err
	}
	f, err := session.Facts(load, st)
	return f.Over(said), load, err
}
