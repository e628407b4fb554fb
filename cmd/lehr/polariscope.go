package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/polariscope"
	"lehr/anneal/spread"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/term"
	"lehr/glass"
	"lehr/glass/unit"
)

// opticFlags are the flags of lehr polariscope, as typed.
type opticFlags struct {
	glass                  *flags.Glass
	piece, reading, at, in string
	light, plate, misread  string
	method                 string
	order                  int
	path                   unit.Length
	stress                 unit.Stress
	chart                  *desk.OutFlag
	colors                 bool
	changed                func(string) bool
}

func newPolariscopeCommand(a *app) *cobra.Command {
	o := &opticFlags{method: "senarmont", in: "air"}
	c := &cobra.Command{
		Use:   "polariscope [--piece <piece>] [--reading <reading> | --stress <stress>] [flags]",
		Short: "What the light shows, in stress, and back",
		Long: `Turns what a polariscope shows in a piece into stress in the middle and at the surface, with the error of the reading; or a stress into what it would show. With a piece alone it says where to look and what to see.

A reading is a retardation ("60 nm", "60 ± 15 nm"); degrees of the analyzer with the light they were read in ("20 deg", --light 546nm), after one quarter-wave plate (Sénarmont) or between two (Tardy); strain discs ("2.5 discs"); or a color and its order ("sky blue", --order 2).

It reads the parabola that annealing leaves: in a sphere at the bright ring inside the rim, in a rod across its axis, in a disc, slab or pendant through the edge. It refuses what light cannot tell: a sphere through its middle, a disc through its face, gray by eye, a color without its order. Read cold pieces: a difference in temperature shows as stress.

A piece is held against the limit that a plan holds its worst case against, by its size and ordinary wear, or against your own of the studio file.

Status 3: the tension in the middle is over the limit of what may be left, or may be by the error of the reading.`,
		Example: `lehr polariscope --piece "sphere 2.5in" --glass boro
lehr polariscope --piece "sphere 2in" --glass boro --reading 60nm --error 15nm
lehr polariscope --piece "rod 12mm" --glass boro --reading 8deg --light 546nm
lehr polariscope --piece "disc 75mm x 25mm" --glass soda-104 --reading 2discs
lehr polariscope --piece "sphere 2in" --glass boro --stress 150psi --units f
lehr polariscope --colors
lehr polariscope --chart colors.html --piece "sphere 3in" --glass boro`,
		Args:        noArgs,
		Annotations: withJSON(),
		RunE:        func(c *cobra.Command, _ []string) error { return a.runPolariscope(c, o) },
	}
	f := c.Flags()
	o.changed = f.Changed
	f.StringVar(&o.piece, "piece", "", "the `piece`, such as \"sphere 2.5in\"")
	o.glass = flags.AddGlass(c)
	f.StringVar(&o.reading, "reading", "", "what was `read`: \"60 nm\", \"20 deg\", \"2.5 discs\", \"sky blue\"")
	f.StringVar(&o.misread, "error", "", "`error` of the reading, either way, such as 15nm (default: 10 nm, 2 degrees, half a disc, or the next color)")
	f.StringVar(&o.light, "light", "", "`wavelength` in which degrees were read, such as 546nm")
	f.IntVar(&o.order, "order", 0, "order of the color in white light, 1 for the first")
	f.Var(flags.OneOf(&o.method, "senarmont|tardy"), "method", "how degrees were read: behind one quarter-wave plate, or between two (default: senarmont)")
	f.StringVar(&o.plate, "plate", "", "`retardation` of the quarter-wave plate, such as 141nm: what it adds to the error is counted")
	f.Var(flags.OneOf(&o.in, "air|liquid"), "in", "what surrounds a sphere or rod: air, or a liquid of its own index (default: air)")
	f.StringVar(&o.at, "at", "", "`place` that was read: its distance from center, axis or middle plane, or the word center or face (default: the brightest)")
	f.Var(&o.path, "path", "length of glass that the light crosses in a slab (default: its width)")
	f.Var(&o.stress, "stress", "the other way: what this tension in the middle shows")
	f.BoolVar(&o.colors, "colors", false, "list the colors between crossed polarizers")
	o.chart = a.OutFlag(c, "chart", "", outfile.HTML, "chart", "write the chart of colors, for a phone or to print, to `file.html`, \"-\" for standard output")
	a.ForceFlag(c)
	return c
}

func (a *app) runPolariscope(c *cobra.Command, o *opticFlags) error {
	if o.reading != "" && o.changed("stress") {
		return desk.Usagef("ask for one, then for the other", "polariscope: both --reading and --stress")
	}
	var p *opticPiece
	st, err := a.LocalStudio()
	if err != nil {
		return err
	}
	if o.piece != "" {
		if p, err = a.opticPiece(o); err != nil {
			return err
		}
	} else if o.reading != "" || o.changed("stress") {
		return desk.Usagef(`write --piece "sphere 2.5in"`, "polariscope: needs --piece")
	}
	if o.chart.Given() {
		if err := a.Claim(c); err != nil {
			return err
		}
		if err := a.Put(o.chart, func() ([]byte, error) { return colorChart(p, st.Units) }); err != nil {
			return err
		}
		if o.reading == "" && !o.changed("stress") && !o.colors {
			return nil
		}
	}
	switch {
	case o.colors:
		return a.showColors(p, st.Units)
	case o.reading != "":
		return a.showReading(o, p)
	case p == nil:
		return desk.Usagef(`write --piece "sphere 2.5in"; the colors alone: --colors`, "polariscope: needs --piece")
	case o.changed("stress"):
		return a.showStress(o, p)
	}
	return a.showGuide(o, p)
}

// opticPiece is a piece under the polariscope.
type opticPiece struct {
	name   string
	shape  piece.Shape
	view   polariscope.View
	glass  *glass.Glass
	optic  float64 // [1/Pa], without its sign
	spread float64
	assume []string
	studio kiln.Studio
	limit  spread.Pair
}

// defaultSpread is the share by which a stress-optic coefficient may be off
// when its source does not say.
//
// Source: common practice; the reference's example takes as much.
const defaultSpread = 0.05

func (a *app) opticPiece(o *opticFlags) (*opticPiece, error) {
	typed, err := piece.Parse(o.piece)
	if err != nil {
		return nil, desk.AsUsage("polariscope: --piece", err)
	}
	if err := flags.BareOnly("polariscope", typed); err != nil {
		return nil, err
	}
	g, st, err := flags.GlassOf(a.App, "polariscope", o.glass)
	if err != nil {
		return nil, err
	}
	if err := g.Need("stress_optic"); err != nil {
		return nil, err
	}
	if err := typed.Fill(g, glass.Find); err != nil {
		return nil, desk.AsUsage("polariscope: --piece", err)
	}
	p := &opticPiece{limit: verify.LimitLeft(typed, st.Limits), name: typed.What, shape: typed.Shape, glass: g, studio: st, optic: math.Abs(g.StressOptic.Number), spread: g.StressOptic.Spread}
	if p.optic == 0 {
		return nil, fmt.Errorf("glass %q: its stress-optic coefficient is 0, so light shows no stress in it", g.Name)
	}
	if p.spread == 0 {
		p.spread = defaultSpread * p.optic
		p.assume = append(p.assume, "the stress-optic coefficient may be off by 5 %: its source does not say")
	}
	v := polariscope.View{Size: typed.Size, Place: polariscope.Brightest}
	switch typed.Shape {
	case piece.SphereShape:
		if typed.Wall > 0 {
			return nil, term.WithHint(fmt.Errorf("%s: what light shows in a hollow sphere has no closed form here", typed.What),
				"compare it with what lehr plan says it should show")
		}
		v.Shape = polariscope.Sphere
	case piece.RodShape:
		v.Shape = polariscope.Rod
	case piece.DiscShape, piece.SlabShape, piece.PendantShape:
		v.Shape, v.Path = polariscope.Slab, typed.Across
		if o.path > 0 {
			v.Path = o.path
		}
		if v.Path == 0 {
			return nil, desk.Usagef("write --path 150mm, the width that the light crosses", "polariscope: %s: needs --path", typed.What)
		}
		if typed.Shape != piece.SlabShape {
			p.assume = append(p.assume, "looked at through the edge along its full width; the rim carries less, so that the stress is rather higher than read")
		}
	default:
		return nil, term.WithHint(fmt.Errorf("%s: what light shows in a %s has no closed form here", typed.What, typed.Shape),
			"compare it with what lehr plan says it should show, or cut a ring or slab from one and read that")
	}
	if o.path > 0 && v.Shape != polariscope.Slab {
		return nil, desk.Usagef("leave it out", "polariscope: --path: only for a disc, slab or pendant")
	}
	if o.path > unit.Meter {
		return nil, desk.Usagef("", "polariscope: --path %s: must be at most %s", unit.AsTyped(o.path), unit.LimitFor(o.path, unit.Meter))
	}
	if o.in == "air" && v.Shape != polariscope.Slab {
		if err := g.Need("refractive_index"); err != nil {
			return nil, term.WithHint(err, "lay the piece in a liquid of its own index, and write --in liquid")
		}
		v.Index = g.Refractive.Number
	}
	p.view = v
	return p, p.place(o)
}

// place reads where the piece was read.
func (p *opticPiece) place(o *opticFlags) error {
	switch o.at {
	case "":
	case "center", "centre", "middle", "axis":
		p.view.Place = 0
	case "face":
		if p.view.Shape != polariscope.Slab {
			return desk.Usagef("write the distance from the middle, such as --at 20mm", "polariscope: --at face: only for a disc, slab or pendant")
		}
		return term.WithHint(fmt.Errorf("polariscope: --at face: light through the face of a %s shows nothing of its annealing", p.shape),
			"look through the edge, and leave --at out")
	default:
		l, err := unit.ParseLength(o.at)
		if err != nil {
			return desk.AsUsage("polariscope: --at", err)
		}
		p.view.Place = l
	}
	if _, err := p.view.Arm(); err != nil {
		return term.WithHint(fmt.Errorf("polariscope: %s: %w", p.name, err), term.HintOf(err))
	}
	return nil
}

// parseNanometers reads a retardation or a wavelength: "546nm".
func parseNanometers(text string) (unit.Length, error) {
	number, ok := strings.CutSuffix(strings.TrimSpace(text), "nm")
	x, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	switch {
	case !ok:
		return 0, term.WithHint(fmt.Errorf("%s: has no unit", text), `write "`+strings.TrimSpace(text)+`nm"`)
	case err != nil || !(x > 0 && x <= 1e5):
		return 0, term.WithHint(fmt.Errorf("%s: must be above 0 nm and at most 100 µm", text), `write "546nm"`)
	}
	return unit.Length(x) * polariscope.Nanometer, nil
}

// known reads what goes with a reading.
func (o *opticFlags) known() (k polariscope.Known, err error) {
	k.Order = o.order
	if o.changed("order") && (o.order < 1 || o.order > 20) {
		return k, desk.Usagef("write --order 1 for the first", "polariscope: --order %d: must be from 1 to 20", o.order)
	}
	for _, f := range []struct {
		flag, text string
		into       *unit.Length
	}{{"light", o.light, &k.Light}, {"plate", o.plate, &k.Plate}, {"error", o.misread, &k.Error}} {
		if f.text == "" {
			continue
		}
		if *f.into, err = parseNanometers(f.text); err != nil {
			return k, desk.AsUsage("polariscope: --"+f.flag, err)
		}
	}
	return k, nil
}
