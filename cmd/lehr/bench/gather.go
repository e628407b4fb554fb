// Package bench answers what is asked at the bench, before and beside a firing:
// how much glass a piece takes, what polarized light shows in it, what a firing
// costs, and over which nights an order goes. The arithmetic is of glass/gather,
// anneal/polariscope, anneal/cost and anneal/week; here it meets flags and words.
package bench

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
	"lehr/cmd/lehr/term"
	"lehr/glass/gather"
	"lehr/glass/unit"
)

// GatherFlags are the flags of lehr gather, as typed.
type GatherFlags struct {
	Glass                *flags.Glass
	Notebook             *string
	Piece, Density, Loss string
	Parts, Rods          []string
	Stub                 unit.Length
	Stubs                int
	Within               unit.Length
	Weighed              unit.Mass
	InAir, InWater       unit.Mass
	Sizes, To            string
	Paper                *desk.OutFlag
	Changed              func(string) bool
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

// Gather is lehr gather: how much glass a piece takes, and of which rod.
func Gather(a *desk.App, c *cobra.Command, f *GatherFlags) error {
	const cmd = "gather"
	if f.Changed("in-air") != f.Changed("in-water") {
		return desk.Usagef("weigh the same piece dry and hanging in water: --in-air 299g --in-water 165g", "gather: --in-air and --in-water go together")
	}
	own := 0.0
	if f.Changed("in-air") {
		if f.Density != "" {
			return desk.Usagef("leave one of them out", "gather: both --density and --in-air")
		}
		volume, density, err := gather.WeighedDensity(f.InAir, f.InWater)
		if err != nil {
			return desk.AsUsage("gather: --in-water", err)
		}
		own = density
		if f.Piece == "" && f.Sizes == "" && f.Weighed == 0 {
			return showDensity(a, volume, density)
		}
	}
	if f.Density != "" {
		var err error
		if own, err = parseDensity(f.Density); err != nil {
			return desk.AsUsage("gather: --density", err)
		}
	}
	g, err := readGather(a, cmd, f, own)
	if err != nil {
		return err
	}
	if err := a.Claim(c); err != nil {
		return err
	}
	if err := a.Put(f.Paper, func() ([]byte, error) { return gatherCard(a, g) }); err != nil {
		return err
	}
	if a.JSON {
		return gatherJSON(a, g)
	}
	return showGather(a, g)
}

// readGather reads what the flags mean.
func readGather(a *desk.App, cmd string, f *GatherFlags, own float64) (*gathered, error) {
	g := &gathered{factor: 1}
	g.recipe.Density = own
	var err error
	if own > 0 && f.Glass.Name == "" {
		g.title = "glass of " + densityText(own)
		if g.studio, err = a.LocalStudio(); err != nil {
			return nil, err
		}
	} else {
		gl, st, err := flags.GlassOf(a, cmd, f.Glass)
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
	if err := ownLoss(a, g, f); err != nil {
		return nil, err
	}
	return g, g.readRest(f)
}

// readPiece reads the piece, its parts and its size.
func (g *gathered) readPiece(f *GatherFlags) error {
	r := &g.recipe
	r.Count = 1
	for _, part := range flags.Commas(f.Sizes) {
		l, err := unit.ParseLength(part)
		if err != nil {
			return desk.AsUsage("gather: --sizes", err)
		}
		if l < unit.Millimeter || l > 300*unit.Millimeter {
			return desk.Usagef("", "gather: --sizes %s: must be from %s to %s", part, unit.LimitFor(l, unit.Millimeter), unit.LimitFor(l, 300*unit.Millimeter))
		}
		g.sizes = append(g.sizes, l)
	}
	text := f.Piece
	if text == "" {
		switch {
		case len(g.sizes) > 0:
			text = "sphere " + g.sizes[0].String()
		case f.Changed("weighed") && len(f.Parts) == 0:
			text = "sphere 50mm" // only its form counts
		default:
			return desk.Usagef(`write --piece "sphere 2.5in"`, "gather: needs --piece")
		}
	}
	var err error
	if r.Count, r.Piece, err = gather.ParsePieces(text); err != nil {
		return desk.AsUsage("gather: --piece", err)
	}
	for _, text := range f.Parts {
		p, err := gather.ParsePart(text)
		if err != nil {
			return desk.AsUsage("gather: --part", err)
		}
		r.Parts = append(r.Parts, p)
	}
	if _, err := r.Portions(); err != nil {
		return desk.AsUsage("gather", err)
	}
	if f.To != "" {
		l, err := unit.ParseLength(f.To)
		if err != nil {
			return desk.AsUsage("gather: --to", err)
		}
		if l < unit.Millimeter || l > 300*unit.Millimeter {
			return desk.Usagef("", "gather: --to %s: must be from %s to %s", f.To, unit.LimitFor(l, unit.Millimeter), unit.LimitFor(l, 300*unit.Millimeter))
		}
		g.from, g.factor = r.Piece, float64(l/r.Piece.Size())
		*r = r.Scaled(g.factor)
	}
	g.portions, err = r.Portions()
	return err
}

// ownLoss takes the loss at each size from the notebook, if there is one.
func ownLoss(a *desk.App, g *gathered, f *GatherFlags) error {
	if f.Loss != "" {
		return nil
	}
	if _, err := os.Stat(notes.DefaultName); err != nil && *f.Notebook == "" {
		return nil
	}
	b, err := notes.Open("gather", *f.Notebook, false)
	if err != nil {
		return err
	}
	records, err := b.All(a)
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
func (g *gathered) readRest(f *GatherFlags) error {
	r := &g.recipe
	for _, text := range f.Rods {
		rod, err := gather.ParseRod(text)
		if err != nil {
			return desk.AsUsage("gather: --rod", err)
		}
		r.Rods = append(r.Rods, rod)
	}
	if f.Loss != "" {
		x, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(f.Loss, "%")), 64)
		switch {
		case err != nil || !strings.HasSuffix(f.Loss, "%"):
			return desk.Usagef("write --loss 8%", "gather: --loss %s: must be a share with %%", f.Loss)
		case !(x >= 0 && x < 100):
			return desk.Usagef("write --loss 8%", "gather: --loss %s: must be from 0 %% to below 100 %%", f.Loss)
		}
		r.Loss = x / 100
	}
	switch {
	case f.Stubs < 0 || f.Stubs > 1000:
		return desk.Usagef("", "gather: --stubs %d: must be from 0 to 1000", f.Stubs)
	case f.Stub > unit.Meter:
		return desk.Usagef("write --stub 40mm", "gather: --stub %s: must be at most %s", unit.AsTyped(f.Stub), unit.LimitFor(f.Stub, unit.Meter))
	case f.Stub > 0:
		r.Stub, r.Stubs = f.Stub, f.Stubs
	}
	g.within = 0.25 * unit.Millimeter
	if g.studio.Units == unit.US {
		g.within = 0.01 * unit.Inch
	}
	if f.Changed("within") {
		if g.within = f.Within; g.within <= 0 || g.within > r.Piece.Size()/10 {
			return desk.Usagef("write --within 0.25mm", "gather: --within %s: must be above 0 and at most a tenth of the size", unit.AsTyped(f.Within))
		}
	}
	if f.Changed("weighed") {
		if g.weighed = f.Weighed; g.weighed <= 0 {
			return desk.Usagef("write --weighed 310g", "gather: --weighed %s: must be above 0", unit.AsTyped(f.Weighed))
		}
		g.meant = f.Piece != ""
		if g.weighed > 100*unit.Kilogram {
			return desk.Usagef("write --weighed 310g", "gather: --weighed %s: must be at most %s", unit.AsTyped(f.Weighed), unit.LimitFor(f.Weighed, 100*unit.Kilogram))
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
