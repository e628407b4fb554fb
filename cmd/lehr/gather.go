package main

import (
	"fmt"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"lehr/anneal/kiln"
	"lehr/anneal/notebook"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/notes"
	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/term"
	"lehr/glass/gather"
	"lehr/glass/unit"
)

// gatherFlags are the flags of lehr gather, as typed.
type gatherFlags struct {
	glass                *flags.Glass
	notebook             *string
	piece, density, loss string
	parts, rods          []string
	stub                 unit.Length
	stubs                int
	within               unit.Length
	weighed              unit.Mass
	inAir, inWater       unit.Mass
	sizes, to            string
	paper                *desk.OutFlag
	changed              func(string) bool
}

func newGatherCommand(a *app) *cobra.Command {
	g := &gatherFlags{}
	c := &cobra.Command{
		Use:   "gather --piece <piece> [--part <part>...] [--rod <rod>...] [flags]",
		Short: "How much glass a size takes: grams first, rod second",
		Long: `Computes how much glass a piece takes: its mass and volume, that of each part it is built of, the length of rod for them, and what to buy with the loss and the stubs. Weigh, rather than measure a length: the cube root forgives, and rod is sold with a tolerance.

A piece is written as everywhere, "6 x sphere 2.5in", and here also as a cone, frustum, cap or shell: "cone 30mm x 40mm" (base, height), "frustum 40mm x 20mm x 25mm" (base, top, height), "cap 63.5mm x 18mm" (sphere, height), "shell 63.5mm wall 3mm". A tube and a slab take all their sizes.

Parts follow each other from the front. Each has a name and an amount: a share of the volume ("lens 50%"), a height for the first or the last ("backing 18mm"), a body inside ("flower cone 30mm x 40mm"), a mass ("frit 12g"), or what is left ("core rest").

A rod is its diameter, or its mass per length: --rod 19mm, --rod "632 g/m".`,
		Example: `lehr gather --piece "6 x sphere 2.5in" --glass boro --rod 19mm --loss 8%
lehr gather --piece "ball 3in" --glass boro --part "lens 50%" --part "b rest"
lehr gather --piece "sphere 2.5in" --glass boro --to 3in --paper card.html
lehr gather --sizes "1.25in, 2in, 3in" --glass boro --rod 19mm --units f
lehr gather --weighed 310g --glass boro
lehr gather --in-air 299g --in-water 165.17g`,
		Args:        noArgs,
		Annotations: withJSON(),
		RunE:        func(c *cobra.Command, _ []string) error { return a.runGather(c, g) },
	}
	f := c.Flags()
	g.changed = f.Changed
	f.StringVar(&g.piece, "piece", "", "the `piece`, such as \"6 x sphere 2.5in\" (with --sizes or --weighed alone: a sphere)")
	f.StringArrayVar(&g.parts, "part", nil, "a `part`, repeatable: \"lens 50%\", \"backing 18mm\", \"flower cone 30mm x 40mm\", \"frit 12g\", \"core rest\"")
	f.StringArrayVar(&g.rods, "rod", nil, "a `rod` it could be taken from, repeatable: 19mm, \"632 g/m\"")
	f.StringVar(&g.loss, "loss", "", "`share` of the glass lost at the torch, such as 8% (default: the median of your own in the notebook, else none)")
	g.notebook = notes.AddFlag(c)
	f.Var(&g.stub, "stub", "length of each rod that cannot be worked, such as 40mm (default: none)")
	f.IntVar(&g.stubs, "stubs", 1, "how many rods leave a stub")
	g.glass = flags.AddGlass(c)
	f.StringVar(&g.density, "density", "", "`density` of a color, such as \"2.31 g/cm3\" (default: that of the glass)")
	f.Var(&g.inAir, "in-air", "mass of a piece of the rod, with --in-water: its density is computed and used")
	f.Var(&g.inWater, "in-water", "mass of the same piece hanging in water")
	f.Var(&g.within, "within", "how far the size may be off (default: 0.25 mm, or 0.01 in)")
	f.Var(&g.weighed, "weighed", "the size that this mass gives, in the proportions of the piece")
	f.StringVar(&g.sizes, "sizes", "", "a table of these `sizes`, with commas: \"1.25in, 2in, 3in\"")
	f.StringVar(&g.to, "to", "", "the same recipe at another `size`, such as 3in")
	g.paper = a.OutFlag(c, "paper", "", outfile.HTML, "card", "write a card to print to `file.html`, \"-\" for standard output")
	a.ForceFlag(c)
	return c
}

// gathered is what the flags ask for, understood.
type gathered struct {
	recipe    gather.Recipe
	title     string // the glass, or "glass of a density of one's own"
	portions  []gather.Portion
	within    unit.Length
	weighed   unit.Mass
	meant     bool // a piece was given beside what was weighed
	sizes     []unit.Length
	from      gather.Body // before --to, zero if it was not asked for
	factor    float64
	hot       unit.Temp // of the kiln, zero if it is not known
	expansion float64   // [1/K], 0 if not known
	// own is the loss in the notebook at a size, nil without one, and
	// weighedPieces that at the size of the piece.
	own           func(unit.Length) notebook.Loss
	weighedPieces notebook.Loss
	lossFrom      string // where the loss is from, "" if it was typed or there is none
	studio        kiln.Studio
}

func (a *app) runGather(c *cobra.Command, f *gatherFlags) error {
	const cmd = "gather"
	if f.changed("in-air") != f.changed("in-water") {
		return desk.Usagef("weigh the same piece dry and hanging in water: --in-air 299g --in-water 165g", "gather: --in-air and --in-water go together")
	}
	own := 0.0
	if f.changed("in-air") {
		if f.density != "" {
			return desk.Usagef("leave one of them out", "gather: both --density and --in-air")
		}
		volume, density, err := gather.WeighedDensity(f.inAir, f.inWater)
		if err != nil {
			return desk.AsUsage("gather: --in-water", err)
		}
		own = density
		if f.piece == "" && f.sizes == "" && f.weighed == 0 {
			return a.showDensity(volume, density)
		}
	}
	if f.density != "" {
		var err error
		if own, err = parseDensity(f.density); err != nil {
			return desk.AsUsage("gather: --density", err)
		}
	}
	g, err := a.gathered(cmd, f, own)
	if err != nil {
		return err
	}
	if err := a.Claim(c); err != nil {
		return err
	}
	if err := a.Put(f.paper, func() ([]byte, error) { return a.gatherCard(g) }); err != nil {
		return err
	}
	if a.JSON {
		return a.gatherJSON(g)
	}
	return a.showGather(g)
}

// gathered reads what the flags mean.
func (a *app) gathered(cmd string, f *gatherFlags, own float64) (*gathered, error) {
	g := &gathered{factor: 1}
	g.recipe.Density = own
	var err error
	if own > 0 && f.glass.Name == "" {
		g.title = "glass of " + densityText(own)
		if g.studio, err = a.LocalStudio(); err != nil {
			return nil, err
		}
	} else {
		gl, st, err := flags.GlassOf(a.App, cmd, f.glass)
		if err != nil {
			return nil, err
		}
		g.studio = st
		if own == 0 {
			if err := gl.Need("density"); err != nil {
				return nil, err
			}
			g.recipe.Density = gl.Density.Number
		}
		g.title = gl.Name + ", " + densityText(g.recipe.Density)
		if gl.Expansion.Known() {
			if g.hot = st.Kiln.Holding; g.hot.IsZero() && gl.Anneal.Known() {
				g.hot = gl.Anneal.Temp()
			}
			g.expansion = gl.Expansion.Number
		}
	}
	if err := g.readPiece(f); err != nil {
		return nil, err
	}
	if err := a.ownLoss(g, f); err != nil {
		return nil, err
	}
	return g, g.readRest(f)
}

// readPiece reads the piece, its parts and its size.
func (g *gathered) readPiece(f *gatherFlags) error {
	r := &g.recipe
	r.Count = 1
	for _, part := range flags.Commas(f.sizes) {
		l, err := unit.ParseLength(part)
		if err != nil {
			return desk.AsUsage("gather: --sizes", err)
		}
		if l < unit.Millimeter || l > 300*unit.Millimeter {
			return desk.Usagef("", "gather: --sizes %s: must be from %s to %s", part, unit.LimitFor(l, unit.Millimeter), unit.LimitFor(l, 300*unit.Millimeter))
		}
		g.sizes = append(g.sizes, l)
	}
	text := f.piece
	if text == "" {
		switch {
		case len(g.sizes) > 0:
			text = "sphere " + g.sizes[0].String()
		case f.changed("weighed") && len(f.parts) == 0:
			text = "sphere 50mm" // only its form counts
		default:
			return desk.Usagef(`write --piece "sphere 2.5in"`, "gather: needs --piece")
		}
	}
	var err error
	if r.Count, r.Piece, err = gather.ParsePieces(text); err != nil {
		return desk.AsUsage("gather: --piece", err)
	}
	for _, text := range f.parts {
		p, err := gather.ParsePart(text)
		if err != nil {
			return desk.AsUsage("gather: --part", err)
		}
		r.Parts = append(r.Parts, p)
	}
	if _, err := r.Portions(); err != nil {
		return desk.AsUsage("gather", err)
	}
	if f.to != "" {
		l, err := unit.ParseLength(f.to)
		if err != nil {
			return desk.AsUsage("gather: --to", err)
		}
		if l < unit.Millimeter || l > 300*unit.Millimeter {
			return desk.Usagef("", "gather: --to %s: must be from %s to %s", f.to, unit.LimitFor(l, unit.Millimeter), unit.LimitFor(l, 300*unit.Millimeter))
		}
		g.from, g.factor = r.Piece, float64(l/r.Piece.Size())
		*r = r.Scaled(g.factor)
	}
	g.portions, err = r.Portions()
	return err
}

// ownLoss takes the loss at each size from the notebook, if there is one.
func (a *app) ownLoss(g *gathered, f *gatherFlags) error {
	if f.loss != "" {
		return nil
	}
	if _, err := os.Stat(notes.DefaultName); err != nil && *f.notebook == "" {
		return nil
	}
	b, err := notes.Open("gather", *f.notebook, false)
	if err != nil {
		return err
	}
	records, err := b.All(a.App)
	if err != nil {
		return err
	}
	g.own = func(size unit.Length) notebook.Loss { return notebook.LossOf(records, size) }
	g.weighedPieces = g.own(g.recipe.Piece.Size())
	if g.weighedPieces.Enough() {
		g.recipe.Loss = g.weighedPieces.Share
		g.lossFrom = fmt.Sprintf("the median of your last %d weighed at this size", g.weighedPieces.Pieces)
	}
	return nil
}

// readRest reads rods, loss, stubs and what else is asked.
func (g *gathered) readRest(f *gatherFlags) error {
	r := &g.recipe
	for _, text := range f.rods {
		rod, err := gather.ParseRod(text)
		if err != nil {
			return desk.AsUsage("gather: --rod", err)
		}
		r.Rods = append(r.Rods, rod)
	}
	if f.loss != "" {
		x, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(f.loss, "%")), 64)
		switch {
		case err != nil || !strings.HasSuffix(f.loss, "%"):
			return desk.Usagef("write --loss 8%", "gather: --loss %s: must be a share with %%", f.loss)
		case !(x >= 0 && x < 100):
			return desk.Usagef("write --loss 8%", "gather: --loss %s: must be from 0 %% to below 100 %%", f.loss)
		}
		r.Loss = x / 100
	}
	switch {
	case f.stubs < 0 || f.stubs > 1000:
		return desk.Usagef("", "gather: --stubs %d: must be from 0 to 1000", f.stubs)
	case f.stub > unit.Meter:
		return desk.Usagef("write --stub 40mm", "gather: --stub %s: must be at most %s", unit.AsTyped(f.stub), unit.LimitFor(f.stub, unit.Meter))
	case f.stub > 0:
		r.Stub, r.Stubs = f.stub, f.stubs
	}
	g.within = 0.25 * unit.Millimeter
	if g.studio.Units == unit.US {
		g.within = 0.01 * unit.Inch
	}
	if f.changed("within") {
		if g.within = f.within; g.within <= 0 || g.within > r.Piece.Size()/10 {
			return desk.Usagef("write --within 0.25mm", "gather: --within %s: must be above 0 and at most a tenth of the size", unit.AsTyped(f.within))
		}
	}
	if f.changed("weighed") {
		if g.weighed = f.weighed; g.weighed <= 0 {
			return desk.Usagef("write --weighed 310g", "gather: --weighed %s: must be above 0", unit.AsTyped(f.weighed))
		}
		g.meant = f.piece != ""
		if g.weighed > 100*unit.Kilogram {
			return desk.Usagef("write --weighed 310g", "gather: --weighed %s: must be at most %s", unit.AsTyped(f.weighed), unit.LimitFor(f.weighed, 100*unit.Kilogram))
		}
	}
	return nil
}

// parseDensity reads "2.31 g/cm3".
func parseDensity(text string) (float64, error) {
	amount, per, ok := strings.Cut(text, "/")
	if !ok {
		return 0, term.WithHint(fmt.Errorf("%s: has no unit", text), `write "2.31 g/cm3" or "2310 kg/m3"`)
	}
	m, err := unit.ParseMass(amount)
	if err != nil {
		return 0, term.WithHint(fmt.Errorf("%s: does not begin with a mass", text), `write "2.31 g/cm3" or "2310 kg/m3"`)
	}
	per = strings.NewReplacer("³", "", "3", "", "^", "", " ", "").Replace(per)
	cube := map[string]float64{"cm": 1e-6, "cc": 1e-6, "ml": 1e-6, "m": 1}[per]
	if cube == 0 {
		return 0, term.WithHint(fmt.Errorf("%s: is no mass per volume", text), `write "2.31 g/cm3" or "2310 kg/m3"`)
	}
	x := float64(m) / cube
	if x < 1000 || x > 10000 {
		return 0, fmt.Errorf("%s: no glass; must be from 1 g/cm³ to 10 g/cm³", text)
	}
	return x, nil
}

func densityText(kg float64) string { return term.Short(kg/1000) + " g/cm³" }
