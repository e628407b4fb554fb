// Package misfit says at the desk what package seal computes: the stress where a
// glass meets another, a stone or a skin of color.
package misfit

import (
	"errors"
	"fmt"
	"strings"

	"lehr/anneal/piece"
	"lehr/anneal/seal"
	"lehr/anneal/seal/contents"
	"lehr/anneal/sim"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/term"
	"lehr/glass"
	"lehr/glass/unit"
)

// Flags are the flags of lehr seal.
type Flags struct {
	Glass, GlassFile, Piece string
	Inside, Stripes         []string
	Layers, Skin, With      string
	Thickness               unit.Length
	Rate                    unit.Rate
	Program                 string
	ClosedAt                unit.Temp
	Already                 unit.Stress
	Warm, Materials         bool
	Start                   unit.Clock
}

// Seal is lehr seal; changed says which flags were given.
func Seal(a *desk.App, f *Flags, changed func(string) bool) error {
	studio, err := a.ReadStudio()
	if err != nil {
		return err
	}
	system := a.System(studio.Units)
	table, err := flags.GlassTable(a, f.GlassFile)
	if err != nil {
		return err
	}
	if f.Materials {
		return listMaterials(a, system)
	}
	if f.Glass == "" {
		f.Glass = studio.Glass
	}
	if f.Glass == "" {
		return desk.Usagef(`write --glass borosilicate-33; list the names with: lehr glass`, "seal: needs --glass")
	}
	g, err := table.Find(f.Glass)
	if err != nil {
		return desk.AsUsage("seal: --glass", err)
	}
	v, err := f.view(a, contents.Finder{Clear: g, Glasses: table}, system, changed)
	if err != nil {
		return err
	}
	if a.JSON {
		err = printJSON(a, v)
	} else {
		err = showSeal(a, v)
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
	worst := seal.Within
	for _, c := range v.cases {
		worst = max(worst, c.report.Verdict)
	}
	return worst
}

// view reads the flags and computes.
func (f *Flags) view(a *desk.App, find contents.Finder, system unit.System, changed func(string) bool) (sealView, error) {
	v := sealView{glass: find.Clear, piece: f.Piece, rate: f.Rate, file: f.Program, system: system}
	p := seal.Problem{Clear: find.Clear, Rate: f.Rate, ClosedAt: f.ClosedAt, Already: f.Already}
	if f.Rate < 0 || changed("rate") && f.Rate == 0 {
		return v, desk.Usagef(`write --rate "60 °C/h"`, "seal: --rate: must be above zero, it cools by itself")
	}
	if f.Rate == 0 {
		v.rate = unit.KelvinPerHour(60)
	}
	if f.Already < 0 {
		return v, desk.Usagef("leave it out, or give the tension", "seal: --already: must not be negative")
	}
	if f.Program != "" {
		if changed("rate") {
			return v, desk.Usagef("leave one of them out", "seal: both --rate and --program")
		}
		h, err := programHistory(a, f.Program)
		if err != nil {
			return v, err
		}
		p.History = h
	}
	var body seal.Body
	if f.Piece != "" {
		var err error
		if body, err = f.takePiece(); err != nil {
			return v, err
		}
		v.piece = f.Piece
	}
	c, err := f.contents(find, &v)
	if err != nil {
		return v, err
	}
	if f.With != "" {
		return v, f.pair(find, &v, p, changed)
	}
	switch {
	case changed("thickness"):
		return v, desk.Usagef("write --with GLASS", "seal: --thickness: is that of the glass of --with")
	case f.Piece == "":
		return v, desk.Usagef(`write --piece "sphere 2.5in", or --with GLASS to compare two glasses`, "seal: needs --piece")
	case c.Empty():
		return v, desk.Usagef(`say what is in it: --inside "opal 10mm", --layers, --skin or --stripe`, "seal: nothing is in the piece")
	}
	p.Body, p.Contents = body, c
	if err := v.add("", p); err != nil {
		return v, err
	}
	if changed("start") {
		if !f.Warm {
			return v, desk.Usagef("add --warm", "seal: --start: is that of the warming")
		}
		v.start = &f.Start
	}
	return v, f.warmUp(&v, c)
}

// add computes one arrangement.
func (v *sealView) add(title string, p seal.Problem) error {
	r, err := p.Judge()
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
func (f *Flags) contents(find contents.Finder, v *sealView) (contents.Contents, error) {
	w := contents.Words{Inside: f.Inside, Skin: f.Skin, Stripe: f.Stripes}
	if f.Layers != "" {
		w.Layers = strings.Split(f.Layers, " / ")
	}
	c, err := find.Parse(w)
	if err != nil {
		return c, desk.AsUsage("seal", err)
	}
	for _, in := range c.Inside {
		v.what = append(v.what, in.Text)
		stone := in.Shape != contents.Foil && in.Material.Kind != contents.Metal
		v.inside, v.wet = v.inside || stone, v.wet || in.Material.Hydrated
	}
	if len(c.Layers) > 0 {
		v.what = append(v.what, strings.Join(strings.Fields(f.Layers), " "))
		core := c.Layers[0].Material
		v.inside, v.wet = v.inside || core.Kind == contents.Stone, v.wet || core.Hydrated
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
func (f *Flags) takePiece() (seal.Body, error) {
	p, err := piece.Parse(f.Piece)
	if err != nil {
		return seal.Body{}, desk.AsUsage("seal: --piece", err)
	}
	b, err := p.SealBody()
	if err != nil {
		return b, desk.AsUsage("seal: --piece", err)
	}
	w := p.Words
	if w.Skin != "" && f.Skin != "" || len(w.Layers) > 0 && f.Layers != "" {
		return b, desk.Usagef("leave one of them out", "seal: skin or layers both in --piece and as a flag")
	}
	f.Piece, _, _ = strings.Cut(f.Piece, ";")
	f.Inside, f.Stripes = append(w.Inside, f.Inside...), append(w.Stripe, f.Stripes...)
	if w.Skin != "" {
		f.Skin = w.Skin
	}
	if len(w.Layers) > 0 {
		f.Layers = strings.Join(w.Layers, " / ")
	}
	return b, nil
}

// pair compares two glasses without a piece: a thin skin or stripe, and flat
// sandwiches of equal parts.
func (f *Flags) pair(find contents.Finder, v *sealView, p seal.Problem, changed func(string) bool) error {
	if f.Piece != "" || len(v.what) > 0 {
		return desk.Usagef("name it in the piece: --skin or --layers; or leave the piece out", "seal: --with compares two glasses alone")
	}
	if f.Warm {
		return desk.Usagef("leave --warm out", "seal: --warm: nothing goes inside")
	}
	t := f.Thickness
	if !changed("thickness") {
		t = 2 * unit.Millimeter
	}
	if t < unit.Micrometer || t > 100*unit.Millimeter {
		return desk.Usagef(`write --thickness 2mm`, "seal: --thickness %s: must be from 0.001 mm to 100 mm", unit.AsTyped(t))
	}
	size := fmt.Sprintf(" %g mm", t.Millimeters())
	stripe, err := find.ParseStripe(withSize(f.With, fmt.Sprintf(" %g mm x%s", 10*t.Millimeters(), size)))
	if err != nil {
		if cause := errors.Unwrap(err); cause != nil {
			err = cause
		}
		return desk.AsUsage("seal: --with "+f.With, err)
	}
	m := stripe.Material
	if !m.IsGlass() {
		return desk.Usagef("a stone lies inside a piece: --inside", "seal: --with: %s is no glass", m.Name)
	}
	clear, err := find.Find("clear")
	if err != nil {
		return err
	}
	v.what = []string{m.Name}
	thin := p
	thin.Body, thin.Contents = seal.Body{Form: sim.Slab, Size: 100 * t}, contents.Contents{Stripes: []contents.Stripe{stripe}}
	if err := v.add(fmt.Sprintf("thin on thick %s", clear.Name), thin); err != nil {
		return err
	}
	core := p
	core.Body = seal.Body{Form: sim.Slab, Size: 2 * t}
	core.Contents = contents.Contents{Layers: []contents.Band{{Core: true, Thick: t, Material: clear}, {Material: m}}}
	if err := v.add("sandwich, outside", core); err != nil {
		return err
	}
	core.Contents = contents.Contents{Layers: []contents.Band{{Core: true, Thick: t, Material: m}, {Material: clear}}}
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
func (f *Flags) warmUp(v *sealView, c contents.Contents) error {
	if !f.Warm {
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
func programHistory(a *desk.App, name string) (seal.History, error) {
	s, err := flags.ReadProgram(a, "seal", []string{name})
	if err != nil {
		return seal.History{}, err
	}
	var h seal.History
	for _, p := range s.As(nil).Points {
		h.Seconds, h.Kelvin = append(h.Seconds, p.Time), append(h.Kelvin, p.Temp)
	}
	return h, nil
}
