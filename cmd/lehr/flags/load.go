// Package flags holds what several commands take alike, and reads what it names: a
// load, a glass, a program, a log, facts of the session; how to plan and judge, and
// into which files a report goes. Flags of one command stand with that command.
package flags

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/rule"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
	"lehr/glass"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// mostFileKinds is how many kinds of piece one load has at most: more than lie
// on any shelf, and few enough to be simulated in seconds.
const mostFileKinds = 400

// Load are the flags by which a load is given without a file, and those
// that say how it is judged. Every command that works on a load shares them.
type Load struct {
	Glass, GlassFile, into, start string
	pieces                        []string
	rule, count, margin           string
	tension, left                 unit.Stress
	Changed                       func(string) bool
	Facts                         []string // name=value, where the command takes --fact
}

// AddLoad adds the flags that describe a load.
func AddLoad(a *desk.App, c *cobra.Command) *Load {
	l := &Load{}
	f := c.Flags()
	l.Changed = f.Changed
	f.StringArrayVar(&l.pieces, "piece", nil, "a kind of `piece`, repeatable: \"6 x sphere 2.5in\", \"rod 10mm x 200mm\", \"disc 75mm x 25mm of soda-104\", \"sphere 2in; inside opal 8mm\"")
	f.StringVar(&l.Glass, "glass", "", "`name` of the glass (default: the load's, else the studio file's)")
	f.StringVar(&l.GlassFile, "glass-file", "", "find glasses in `my-glass.toml` too")
	f.StringVar(&l.into, "into", "", "`way` into the kiln: \"hot kiln\", \"cold kiln\" or \"warm only\" (default: the load's, else hot kiln)")
	f.StringVar(&l.start, "start", "", "clock `time` at which the program starts, such as 22:15 (default: the load's)")
	desk.Must(c.RegisterFlagCompletionFunc("glass", CompleteGlass))
	return l
}

// AddLimits adds the flags by which a program is judged.
func AddLimits(a *desk.App, c *cobra.Command, l *Load) {
	f := c.Flags()
	f.Var(&l.tension, "max-tension", "limit of your own for the tension at worst in every piece while it heats and cools (default: the studio file's, else by size and wear)")
	f.Var(&l.left, "max-left", "the same for the tension left in it (default: the studio file's, else by size and wear)")
}

// AddRule adds the flags that choose how a program is proposed.
func AddRule(a *desk.App, c *cobra.Command, l *Load) {
	f := c.Flags()
	f.StringVar(&l.rule, "rule", "", "propose by this `rule`; list them with: lehr rules (default: "+rule.Stress+")")
	f.StringVar(&l.margin, "margin", "", "`share` of every limit of tension to leave unused, such as \"3 %\" (default: the studio file's, else 3 %)")
	l.count = "equal"
	f.Var(OneOf(&l.count, "equal|full"), "count", "how a rule for slabs takes a round piece: equal, as the slab of equal surface stress, or full, at its whole diameter (default: equal)")
}

// ReadLoad reads the load of a command: its file, or its flags.
func ReadLoad(a *desk.App, cmd string, l *Load, args []string) (*piece.Load, kiln.Studio, error) {
	st, err := a.LocalStudio()
	if err != nil {
		return nil, st, err
	}
	find := glass.Find
	if l.GlassFile != "" {
		table, err := GlassTable(a, l.GlassFile)
		if err != nil {
			return nil, st, err
		}
		find = table.Find
	}
	load, err := loadOf(a, cmd, l, args, st, find)
	if err != nil {
		return nil, st, err
	}
	if l.into != "" {
		if load.Into, err = piece.ParseInto(l.into); err != nil {
			return nil, st, desk.AsUsage(cmd+": --into", err)
		}
	}
	if l.start != "" {
		clock, err := unit.ParseClock(l.start)
		if err != nil {
			return nil, st, desk.AsUsage(cmd+": --start", err)
		}
		load.Start = &clock
	}
	resolve := load.ResolveTimes
	if load.Start == nil && l.Changed != nil && l.Changed("ready-by") { // other commands read a file alone
		resolve = load.ResolveTimesLater
	}
	if err := resolve(); err != nil {
		return nil, st, fmt.Errorf("%s: %w", desk.ShownName(args[0]), err)
	}
	if err := load.Stones(); err != nil {
		return nil, st, err
	}
	if err := l.tell(cmd, load); err != nil {
		return nil, st, err
	}
	return load, st, CheckFacts(a, load, st, args)
}

func loadOf(a *desk.App, cmd string, l *Load, args []string, st kiln.Studio, find piece.Finder) (*piece.Load, error) {
	switch {
	case len(args) == 0 && len(l.pieces) == 0:
		return nil, desk.Usagef(`name a load file, or write --glass borosilicate-33 --piece "6 x sphere 2.5in"`, "%s: needs a load", cmd)
	case len(args) > 0 && len(l.pieces) > 0:
		return nil, desk.Usagef("put the piece into the file, or leave the file out", "%s: both a load file and --piece", cmd)
	case len(args) > 0:
		return loadOfFile(a, cmd, l, args[0], st, find)
	}
	return loadOfPieces(cmd, l, st, find)
}

// loadOfFile reads a load file.
func loadOfFile(a *desk.App, cmd string, l *Load, file string, st kiln.Studio, find piece.Finder) (*piece.Load, error) {
	fallback := l.Glass
	if fallback == "" {
		fallback = st.Glass
	}
	used := false // the glass of the flag
	told := func(name string) (*glass.Glass, error) {
		used = used || name == l.Glass
		return find(name)
	}
	var load *piece.Load
	err := a.ReadAs(cmd, desk.LoadFile, file, func(r io.Reader) error {
		var err error
		if load, err = piece.ReadLoad(r, desk.ShownName(file), fallback, told); err == nil && len(load.Pieces) > mostFileKinds {
			err = term.WithHint(fmt.Errorf("%s: has %d kinds of piece, and one load has at most %d", desk.ShownName(file), len(load.Pieces), mostFileKinds),
				"give pieces that are alike one [[piece]] with count =")
		}
		return err
	})
	if err == nil && l.Glass != "" && !used {
		err = otherGlass(cmd, l.Glass, file, load, find)
	}
	return load, err
}

// loadOfPieces is the load of pieces that flags name.
func loadOfPieces(cmd string, l *Load, st kiln.Studio, find piece.Finder) (*piece.Load, error) {
	name := l.Glass
	if name == "" {
		name = st.Glass
	}
	load := &piece.Load{Into: piece.HotKiln}
	needed := false
	for _, text := range l.pieces {
		p, of, err := piece.ParseOf(strict.Visible(text))
		if err != nil {
			return nil, desk.AsUsage(cmd+": --piece", err)
		}
		if of != "" {
			own, err := find(of)
			if err == nil {
				err = p.Fill(own, find)
			}
			if err != nil {
				return nil, desk.AsUsage(cmd+": --piece", err)
			}
		}
		needed = needed || p.Glass == nil
		load.Pieces = append(load.Pieces, p)
	}
	if !needed && name == "" {
		return load, nil
	}
	if name == "" {
		return nil, desk.Usagef("write --glass borosilicate-33; list the names with: lehr glass", "%s: needs --glass", cmd)
	}
	g, err := find(name)
	if err != nil {
		return nil, desk.AsUsage(cmd+": --glass", err)
	}
	for i := range load.Pieces {
		if p := &load.Pieces[i]; p.Glass == nil {
			if err := p.Fill(g, find); err != nil {
				return nil, desk.AsUsage(cmd+": --piece", err)
			}
		}
	}
	return load, nil
}

// otherGlass refuses the glass of a flag that a load file leaves unused, for it
// names others.
func otherGlass(cmd, name, file string, load *piece.Load, find piece.Finder) error {
	g, err := find(name)
	if err != nil {
		return desk.AsUsage(cmd+": --glass", err)
	}
	var names []string
	for _, p := range load.Pieces {
		if p.Glass == nil || p.Glass.Name == g.Name || slices.Contains(names, p.Glass.Name) {
			continue
		}
		names = append(names, p.Glass.Name)
	}
	if len(names) == 0 {
		return nil
	}
	return desk.Usagef("leave --glass out, or change glass = in the file", "%s: --glass %s: %s names its own glass: %s", cmd, name, desk.ShownName(file), strings.Join(names, ", "))
}

// BareOnly refuses what is in a piece where the answer knows nothing of it.
func BareOnly(cmd string, p piece.Piece) error {
	if p.IsStone() {
		return desk.Usagef(`name a piece of glass: "sphere 2.5in"`, "%s: --piece: %s: is no piece of glass", cmd, p.What)
	}
	if in := p.Within(); in != "" {
		return desk.Usagef("leave it out here; lehr seal says what it does", "%s: --piece: knows nothing of what is in a piece: %s", cmd, in)
	}
	return nil
}

// Options turns the flags into how to plan and judge.
func (l *Load) Options(cmd string) (plan.Options, error) {
	o := plan.Options{Rule: l.rule}
	switch l.count {
	case "", "equal":
	case "full":
		o.CountFull = true
	}
	if l.rule != "" {
		if _, err := rule.Find(l.rule); err != nil {
			return o, desk.AsUsage(cmd+": --rule", err)
		}
	}
	if l.Changed("margin") {
		share, err := kiln.ParseShare(l.margin)
		if err != nil {
			return o, desk.AsUsage(cmd+": --margin", err)
		}
		if share < 0 || share > kiln.LargestMargin {
			return o, desk.Usagef(`write --margin "3 %"`, "%s: --margin %s: must be from 0 %% to %g %%", cmd, l.margin, kiln.LargestMargin*100)
		}
		o.Limits.Margin, o.Limits.MarginGiven = share, true
	}
	if l.Changed("max-tension") {
		if l.tension <= 0 || l.tension > kiln.LargestLimit {
			return o, desk.Usagef(`write --max-tension "3.5 MPa"`, "%s: --max-tension %s: must be above 0 and at most %s", cmd, l.tension, kiln.LargestLimit)
		}
		o.Limits.Tension = l.tension
	}
	if l.Changed("max-left") {
		if l.left <= 0 || l.left > kiln.LargestLimit {
			return o, desk.Usagef(`write --max-left "1 MPa"`, "%s: --max-left %s: must be above 0 and at most %s", cmd, l.left, kiln.LargestLimit)
		}
		o.Limits.Residual = l.left
	}
	return o, nil
}
