package bench

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/polariscope"
	"lehr/anneal/sim/plane"
	"lehr/anneal/spread"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/term"
	"lehr/glass"
	"lehr/glass/unit"
)

// PolariscopeFlags are the flags of lehr polariscope, as typed.
type PolariscopeFlags struct {
	Glass                  *flags.Glass
	Piece, Reading, At, In string
	Light, Plate, Misread  string
	Method                 string
	Order                  int
	Path                   unit.Length
	Stress                 unit.Stress
	Chart                  *desk.OutFlag
	Colors                 bool
	Changed                func(string) bool
}

// Polariscope is lehr polariscope: what a reading means, or what there is to see.
func Polariscope(a *desk.App, c *cobra.Command, o *PolariscopeFlags) error {
	if o.Reading != "" && o.Changed("stress") {
		return desk.Usagef("ask for one, then for the other", "polariscope: both --reading and --stress")
	}
	var p *opticPiece
	st, err := a.LocalStudio()
	if err != nil {
		return err
	}
	if o.Piece != "" {
		if p, err = readOptic(a, o); err != nil {
			return err
		}
	} else if o.Reading != "" || o.Changed("stress") {
		return desk.Usagef(`write --piece "sphere 2.5in"`, "polariscope: needs --piece")
	}
	if o.Chart.Given() {
		if err := a.Claim(c); err != nil {
			return err
		}
		if err := a.Put(o.Chart, func() ([]byte, error) { return colorChart(p, st.Units) }); err != nil {
			return err
		}
		if o.Reading == "" && !o.Changed("stress") && !o.Colors {
			return nil
		}
	}
	switch {
	case o.Colors:
		return showColors(a, p, st.Units)
	case o.Reading != "":
		return showReading(a, o, p)
	case p == nil:
		return desk.Usagef(`write --piece "sphere 2.5in"; the colors alone: --colors`, "polariscope: needs --piece")
	case o.Changed("stress"):
		return showStress(a, o, p)
	}
	return showGuide(a, o, p)
}

// readOptic is a piece under the polariscope.
type opticPiece struct {
	name   string
	shape  piece.Shape
	view   polariscope.View
	unseen float64 // how many times what is read its middle may carry
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

func readOptic(a *desk.App, o *PolariscopeFlags) (*opticPiece, error) {
	typed, err := piece.Parse(o.Piece)
	if err != nil {
		return nil, desk.AsUsage("polariscope: --piece", err)
	}
	if err := flags.BareOnly("polariscope", typed); err != nil {
		return nil, err
	}
	g, st, err := flags.GlassOf(a, "polariscope", o.Glass)
	if err != nil {
		return nil, err
	}
	if err := g.Need("stress_optic"); err != nil {
		return nil, err
	}
	if err := typed.Fill(g, glass.Find); err != nil {
		return nil, desk.AsUsage("polariscope: --piece", err)
	}
	p := &opticPiece{unseen: 1, limit: verify.ResidualLimit(typed, st.Limits), name: typed.What, shape: typed.Shape, glass: g, studio: st, optic: math.Abs(g.StressOptic.Number), spread: g.StressOptic.Spread}
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
		if o.Path > 0 {
			v.Path = o.Path
		}
		if v.Path == 0 {
			return nil, desk.Usagef("write --path 150mm, the width that the light crosses", "polariscope: %s: needs --path", typed.What)
		}
		if err := p.edge(typed, &v); err != nil {
			return nil, err
		}
	default:
		hint := "cut a ring or slab from one and read that"
		if typed.Shown() != piece.NotShown {
			hint = "compare it with what lehr plan says it should show, or " + hint
		}
		return nil, term.WithHint(fmt.Errorf("%s: what light shows in a %s has no closed form here", typed.What, typed.Shape), hint)
	}
	if o.Path > 0 && v.Shape != polariscope.Slab {
		return nil, desk.Usagef("leave it out", "polariscope: --path: only for a disc, slab or pendant")
	}
	if o.Path > unit.Meter {
		return nil, desk.Usagef("", "polariscope: --path %s: must be at most %s", unit.AsTyped(o.Path), unit.LimitFor(o.Path, unit.Meter))
	}
	if o.In == "air" && v.Shape != polariscope.Slab {
		if err := g.Need("refractive_index"); err != nil {
			return nil, term.WithHint(err, "lay the piece in a liquid of its own index, and write --in liquid")
		}
		v.Index = g.Refractive.Number
	}
	p.view = v
	return p, p.place(o)
}

// edge reads how a flat piece is looked at through its edge.
func (p *opticPiece) edge(typed piece.Piece, v *polariscope.View) error {
	if typed.Across == 0 {
		typed.Across = v.Path
	}
	share, ok := typed.Edge(v.Path)
	if !ok {
		return term.WithHint(fmt.Errorf("%s: what light shows through its edge is not known: it is a lens, or more than half as thick as wide", typed.What),
			"cut a strip from one and read that")
	}
	o, _ := typed.Outline()
	v.Share, p.unseen, p.spread = share, o.Unseen(), math.Hypot(p.spread, plane.EdgeError*p.optic)
	p.assume = append(p.assume, fmt.Sprintf("looked at through the edge along its full width, of which the edge leaves %.2f; what a rim that cooled ahead adds does not show: with it the middle may carry up to %.2g times as much (finite elements of discs)", share, p.unseen))
	return nil
}

// place reads where the piece was read.
func (p *opticPiece) place(o *PolariscopeFlags) error {
	switch o.At {
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
		l, err := unit.ParseLength(o.At)
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
func (o *PolariscopeFlags) known() (k polariscope.Known, err error) {
	k.Order = o.Order
	if o.Changed("order") && (o.Order < 1 || o.Order > 20) {
		return k, desk.Usagef("write --order 1 for the first", "polariscope: --order %d: must be from 1 to 20", o.Order)
	}
	for _, f := range []struct {
		flag, text string
		into       *unit.Length
	}{{"light", o.Light, &k.Light}, {"plate", o.Plate, &k.Plate}, {"error", o.Misread, &k.Error}} {
		if f.text == "" {
			continue
		}
		if *f.into, err = parseNanometers(f.text); err != nil {
			return k, desk.AsUsage("polariscope: --"+f.flag, err)
		}
	}
	return k, nil
}
