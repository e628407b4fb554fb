package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"lehr/anneal/piece"
	"lehr/anneal/seal"
	"lehr/anneal/sim"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/term"
	"lehr/glass"
	"lehr/glass/unit"
)

// sealFlags are the flags of lehr seal.
type sealFlags struct {
	glass, glassFile, piece string
	inside, stripes         []string
	layers, skin, with      string
	thickness               unit.Length
	rate                    unit.Rate
	program                 string
	closedAt                unit.Temp
	already                 unit.Stress
	warm, materials         bool
	start                   unit.Clock
}

// newSealCommand makes lehr seal; most of it is the text of its help.
func newSealCommand(a *app) *cobra.Command {
	var f sealFlags
	c := &cobra.Command{
		Use:   "seal [--glass <name>] --piece <piece> [--inside <stone>...] [--layers <glasses>] [--skin <glass>] [--stripe <glass>...] | --with <glass>",
		Short: "Compute the stress where a glass meets another, a stone or a skin of color",
		Long: `Computes, before the glass is melted, the stress that stays where one glass meets another, a stone, a metal or a skin of color, because they shrink apart once the glass has set. No annealing removes it.

It answers how hard the glass presses, what each place carries, the greatest stone for this piece, the least glass over it, the least distance of two, which direction of mismatch is kinder, and what a polariscope shows before and after a second anneal. The outer surface is judged against its limit. At a buried interface there is a number, what it would take to crack, and no judgment.

What is in the piece is named so:

  --inside "opal 10mm"                            a stone in the middle
  --inside "sphere 8mm of opal, 12mm deep"        depth of its middle
  --inside "3 x sphere 5mm of cz, 9mm deep, 20mm apart"
  --inside "cabochon 10mm x 4mm of opal, edge 1mm"
  --inside "foil 0.05mm of platinum"
  --layers "core clear 40mm / cobalt 2mm / clear"
  --skin "white 1.5mm"                            "white 2mm, one face"
  --stripe "white 3mm x 1mm"                      width and thickness

Layers stand from inside out; the core's size is its diameter, and one layer may go without a size and take what is left. In a flat piece they lie on both sides of the core. The word clear is the glass of --glass. A material is a glass, a color of its family, a stone or a metal; --materials lists them. One of your own states its expansion: "my-red 2mm, expansion 33.5e-7 /K". A color that nobody stated counts with two units (2e-7 /K) either way.

Two glasses alone are compared with --with: as a skin, and as sandwiches.`,
		Example: `lehr seal --glass boro --inside "opal 10mm" --piece "sphere 2.5in"
lehr seal --glass boro --piece "sphere 2.5in" --skin "white 1.75mm" --units f
lehr seal --glass boro --piece "sphere 2in" --layers "core white 9mm / clear"
lehr seal --glass fusible-96 --with fusible-90 --thickness 2mm
lehr seal --glass boro --inside "opal 10mm" --piece "sphere 6cm" --warm
lehr seal --glass boro --inside "opal 8mm, 9mm deep" --piece "dome 5cm" --json
lehr seal --materials`,
		Args:        noArgs,
		Annotations: withJSON(),
		RunE:        func(c *cobra.Command, _ []string) error { return a.runSeal(&f, c.Flags().Changed) },
	}
	s := c.Flags()
	s.StringVar(&f.glass, "glass", "", "`name` of the clear glass (default: that of the studio file)")
	s.StringVar(&f.glassFile, "glass-file", "", "find glasses in `my-glass.toml` too")
	s.StringVar(&f.piece, "piece", "", "`piece`: \"sphere 2.5in\", \"rod 10mm\", \"disc 75mm x 25mm\", \"pendant 45mm x 12mm\"")
	s.StringArrayVar(&f.inside, "inside", nil, "a `stone` or foil inside, repeatable")
	s.StringVar(&f.layers, "layers", "", "`layers` from inside out, with \" / \" between them")
	s.StringVar(&f.skin, "skin", "", "a `skin` over the outside")
	s.StringArrayVar(&f.stripes, "stripe", nil, "a `stripe` on the surface, repeatable")
	s.StringVar(&f.with, "with", "", "compare with this `glass` or color, without a piece")
	s.Var(&f.thickness, "thickness", "of the other glass of --with, a `length`; it decides how deep its edge reaches (default 2 mm)")
	s.Var(&f.rate, "rate", "the piece cools at this `rate` through the range in which glass sets (default 60 °C/h)")
	s.StringVar(&f.program, "program", "", "follow the program of `schedule.toml` instead of one rate")
	s.Var(&f.closedAt, "closed-at", "`temperature` at which the glass closes over what is inside (default: where it has 10^4 Pa·s)")
	s.Var(&f.already, "already", "`stress` that the program leaves at the surface, added there (default 0)")
	s.BoolVar(&f.warm, "warm", false, "show the program that dries and warms what goes inside, too")
	s.Var(&f.start, "start", "clock `time` at which the warming starts, such as 8:00 (default: not said)")
	s.BoolVar(&f.materials, "materials", false, "list the stones, metals and colors that have a name here")
	desk.Must(c.RegisterFlagCompletionFunc("glass", flags.CompleteGlass))
	return c
}

// runSeal is lehr seal; changed says which flags were given.
func (a *app) runSeal(f *sealFlags, changed func(string) bool) error {
	studio, err := a.ReadStudio()
	if err != nil {
		return err
	}
	system := a.System(studio.Units)
	table, err := flags.GlassTable(a.App, f.glassFile)
	if err != nil {
		return err
	}
	if f.materials {
		return a.listMaterials(system)
	}
	if f.glass == "" {
		f.glass = studio.Glass
	}
	if f.glass == "" {
		return desk.Usagef(`write --glass borosilicate-33; list the names with: lehr glass`, "seal: needs --glass")
	}
	g, err := table.Find(f.glass)
	if err != nil {
		return desk.AsUsage("seal: --glass", err)
	}
	v, err := f.view(a, seal.Finder{Clear: g, Glasses: table}, system, changed)
	if err != nil {
		return err
	}
	if a.JSON {
		err = a.sealJSON(v)
	} else {
		err = a.showSeal(v)
	}
	if err != nil {
		return err
	}
	return desk.OverIf(v.verdict() != seal.Within)
}

// sealCase is one arrangement and what came of it.
type sealCase struct {
	title   string
	problem seal.Problem
	report  seal.Report
}

// sealView is what lehr seal answers.
type sealView struct {
	glass  *glass.Glass
	piece  string // as typed, "" for two glasses alone
	what   []string
	cases  []sealCase
	rate   unit.Rate
	file   string // the program that was followed
	warm   *seal.WarmUp
	start  *unit.Clock // of the warm-up, nil if not said
	wet    bool
	inside bool
	system unit.System
}

// verdict is the worst of the cases.
func (v sealView) verdict() seal.Verdict {
	rank := map[seal.Verdict]int{seal.Within: 0, seal.NotJudged: 1, seal.NotProven: 2, seal.Over: 3}
	worst := seal.Within
	for _, c := range v.cases {
		if rank[c.report.Verdict] > rank[worst] {
			worst = c.report.Verdict
		}
	}
	return worst
}

// view reads the flags and computes.
func (f *sealFlags) view(a *app, find seal.Finder, system unit.System, changed func(string) bool) (sealView, error) {
	v := sealView{glass: find.Clear, piece: f.piece, rate: f.rate, file: f.program, system: system}
	p := seal.Problem{Clear: find.Clear, Rate: f.rate, ClosedAt: f.closedAt, Already: f.already}
	if f.rate < 0 || changed("rate") && f.rate == 0 {
		return v, desk.Usagef(`write --rate "60 °C/h"`, "seal: --rate: must be above zero, it cools by itself")
	}
	if f.rate == 0 {
		v.rate = unit.KelvinPerHour(60)
	}
	if f.already < 0 {
		return v, desk.Usagef("leave it out, or give the tension", "seal: --already: must not be negative")
	}
	if f.program != "" {
		if changed("rate") {
			return v, desk.Usagef("leave one of them out", "seal: both --rate and --program")
		}
		h, err := a.programHistory(f.program)
		if err != nil {
			return v, err
		}
		p.History = h
	}
	var body seal.Body
	if f.piece != "" {
		var err error
		if body, err = f.takePiece(); err != nil {
			return v, err
		}
		v.piece = f.piece
	}
	contents, err := f.contents(find, &v)
	if err != nil {
		return v, err
	}
	if f.with != "" {
		return v, f.pair(find, &v, p, changed)
	}
	switch {
	case changed("thickness"):
		return v, desk.Usagef("write --with GLASS", "seal: --thickness: is that of the glass of --with")
	case f.piece == "":
		return v, desk.Usagef(`write --piece "sphere 2.5in", or --with GLASS to compare two glasses`, "seal: needs --piece")
	case contents.Empty():
		return v, desk.Usagef(`say what is in it: --inside "opal 10mm", --layers, --skin or --stripe`, "seal: nothing is in the piece")
	}
	p.Body, p.Contents = body, contents
	if err := v.add("", p); err != nil {
		return v, err
	}
	if changed("start") {
		if !f.warm {
			return v, desk.Usagef("add --warm", "seal: --start: is that of the warming")
		}
		v.start = &f.start
	}
	return v, f.warmUp(&v, contents)
}

// add computes one arrangement.
func (v *sealView) add(title string, p seal.Problem) error {
	r, err := seal.Judge(p)
	if err != nil {
		var unfit *seal.FitError
		if errors.As(err, &unfit) && unfit.AboveMelting {
			return desk.AsUsage("seal", term.WithHint(err, term.HintOf(err)+": --closed-at"))
		}
		return desk.AsUsage("seal", err)
	}
	v.cases = append(v.cases, sealCase{title, p, r})
	return nil
}

// contents reads what is in the piece.
func (f *sealFlags) contents(find seal.Finder, v *sealView) (seal.Contents, error) {
	w := seal.Words{Inside: f.inside, Skin: f.skin, Stripe: f.stripes}
	if f.layers != "" {
		w.Layers = strings.Split(f.layers, " / ")
	}
	c, err := find.Parse(w)
	if err != nil {
		return c, desk.AsUsage("seal", err)
	}
	for _, in := range c.Inside {
		v.what = append(v.what, in.Text)
		stone := in.Shape != seal.Foil && in.Material.Kind != seal.Metal
		v.inside, v.wet = v.inside || stone, v.wet || in.Material.Hydrated
	}
	if len(c.Layers) > 0 {
		v.what = append(v.what, strings.Join(strings.Fields(f.layers), " "))
		core := c.Layers[0].Material
		v.inside, v.wet = v.inside || core.Kind == seal.Stone, v.wet || core.Hydrated
	}
	if c.Skin != nil {
		v.what = append(v.what, "skin "+c.Skin.Text)
	}
	for _, s := range c.Stripes {
		v.what = append(v.what, "stripe "+s.Text)
	}
	return c, nil
}

// takePiece reads the piece as the shape that is computed; what it says of what
// is in it joins the other flags.
func (f *sealFlags) takePiece() (seal.Body, error) {
	p, err := piece.Parse(f.piece)
	if err != nil {
		return seal.Body{}, desk.AsUsage("seal: --piece", err)
	}
	b, err := p.SealBody()
	if err != nil {
		return b, desk.AsUsage("seal: --piece", err)
	}
	w := p.Words
	if w.Skin != "" && f.skin != "" || len(w.Layers) > 0 && f.layers != "" {
		return b, desk.Usagef("leave one of them out", "seal: skin or layers both in --piece and as a flag")
	}
	f.piece, _, _ = strings.Cut(f.piece, ";")
	f.inside, f.stripes = append(w.Inside, f.inside...), append(w.Stripe, f.stripes...)
	if w.Skin != "" {
		f.skin = w.Skin
	}
	if len(w.Layers) > 0 {
		f.layers = strings.Join(w.Layers, " / ")
	}
	return b, nil
}

// pair compares two glasses without a piece: a thin skin or stripe, and flat
// sandwiches of equal parts.
func (f *sealFlags) pair(find seal.Finder, v *sealView, p seal.Problem, changed func(string) bool) error {
	if f.piece != "" || len(v.what) > 0 {
		return desk.Usagef("name it in the piece: --skin or --layers; or leave the piece out", "seal: --with compares two glasses alone")
	}
	if f.warm {
		return desk.Usagef("leave --warm out", "seal: --warm: nothing goes inside")
	}
	t := f.thickness
	if !changed("thickness") {
		t = 2 * unit.Millimeter
	}
	if t < unit.Micrometer || t > 100*unit.Millimeter {
		return desk.Usagef(`write --thickness 2mm`, "seal: --thickness %s: must be from 0.001 mm to 100 mm", unit.AsTyped(t))
	}
	size := fmt.Sprintf(" %g mm", t.Millimeters())
	stripe, err := find.ParseStripe(withSize(f.with, fmt.Sprintf(" %g mm x%s", 10*t.Millimeters(), size)))
	if err != nil {
		if cause := errors.Unwrap(err); cause != nil {
			err = cause
		}
		return desk.AsUsage("seal: --with "+f.with, err)
	}
	m := stripe.Material
	if m.Kind != seal.Glass && m.Kind != seal.Color {
		return desk.Usagef("a stone lies inside a piece: --inside", "seal: --with: %s is no glass", m.Name)
	}
	clear, err := find.Find("clear")
	if err != nil {
		return err
	}
	v.what = []string{m.Name}
	thin := p
	thin.Body, thin.Contents = seal.Body{Form: sim.Slab, Size: 100 * t}, seal.Contents{Stripes: []seal.Stripe{stripe}}
	if err := v.add(fmt.Sprintf("thin on thick %s", clear.Name), thin); err != nil {
		return err
	}
	core := p
	core.Body = seal.Body{Form: sim.Slab, Size: 2 * t}
	core.Contents = seal.Contents{Layers: []seal.Band{{Core: true, Thick: t, Material: clear}, {Material: m}}}
	if err := v.add("sandwich, outside", core); err != nil {
		return err
	}
	core.Contents = seal.Contents{Layers: []seal.Band{{Core: true, Thick: t, Material: m}, {Material: clear}}}
	return v.add("sandwich, in the middle", core)
}

// withSize puts a size behind a name, before its clauses.
func withSize(text, size string) string {
	name, clauses, found := strings.Cut(text, ",")
	if found {
		clauses = "," + clauses
	}
	return strings.TrimSpace(name) + size + clauses
}

// warmUp plans how what goes inside is dried and warmed.
func (f *sealFlags) warmUp(v *sealView, c seal.Contents) error {
	if !f.warm {
		return nil
	}
	var things []seal.Cold
	for _, in := range c.Inside {
		if cold, ok := seal.ColdOf(in); ok {
			things = append(things, cold)
		}
	}
	if len(things) == 0 {
		return desk.Usagef("leave --warm out", "seal: --warm: no stone goes inside")
	}
	w, err := seal.PlanWarmUp(things, unit.Temp{})
	if err != nil {
		return err
	}
	v.warm = &w
	return nil
}

// programHistory reads a schedule as the temperature of a piece that follows
// its kiln.
func (a *app) programHistory(name string) (seal.History, error) {
	s, err := flags.ReadProgram(a.App, "seal", []string{name})
	if err != nil {
		return seal.History{}, err
	}
	var h seal.History
	for _, p := range s.As(nil).Points {
		h.Seconds, h.Kelvin = append(h.Seconds, p.Time), append(h.Kelvin, p.Temp)
	}
	return h, nil
}
