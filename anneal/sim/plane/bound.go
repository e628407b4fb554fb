package plane

import (
	"math"

	"lehr/anneal/sim"
)

// The factors of the in-plane study.
const (
	discFactor = 1.05 // edge and left tension of a disc
	sideFactor = 1.45 // left in the plane of a rectangular slab over that of its disc
	rodFactor  = 1.10 // a rod with ends, and a thick disc, over the long cylinder
)

// Bound is what a piece does not exceed, for one variant.
type Bound struct {
	// Tension is the greatest while the program runs [Pa], TensionSpan the index
	// of the kink that ends its span, TensionTime when it is reached [s], 0 where
	// only the span is known.
	Tension, TensionTime float64
	TensionSpan          int
	TensionPlace         Place
	BySpan               []float64 // the greatest in each span between kinks [Pa]
	Residual             float64   // the greatest tension that stays [Pa]
	ResidualPlace        Place
	Basis                Basis
}

// Basis is how well the rule behind a bound is supported.
type Basis int

const (
	// Compared was compared with finite elements of the same kind of piece.
	Compared Basis = iota
	// Fitted was fitted to few finite-element runs and has no theory.
	Fitted
	// Untested was studied for another way of lying, or not at all.
	Untested
)

func (b Basis) String() string {
	return [...]string{"compared with finite elements", "a fit to few finite-element runs", "not compared with anything"}[b]
}

// Need is what an outline takes to be computed.
type Need struct {
	// Discs are the outlines to give to Run: one; two for a rectangular slab,
	// the first for its tension and the second for what is left; none for a
	// piece as thick as wide.
	Discs []Outline
	Slab  bool // sim.Run with Outline.Slab
	// Rod is the long cylinder of the same width, which bounds a thick piece;
	// its Outer is 0 where it is not needed.
	Rod sim.Body
}

// Needs returns what the outline takes to be computed. Conductivity [W/mK] is
// that near the annealing point; it only decides how far the middle of a wide
// slab knows of its rim.
func (o Outline) Needs(conductivity float64) Need {
	need := Need{Slab: true}
	if !o.rectangular() {
		if slender := o.slender(); slender >= 0.5 && o.Profile == Flat {
			need.Rod = sim.Body{Form: sim.Cylinder, Outer: o.Diameter / 2}
			if slender >= 1 {
				need.Slab = false
				return need
			}
		}
		need.Discs = []Outline{o}
		return need
	}
	narrow := math.Min(o.Long, o.Wide)
	of := func(diameter float64) Outline {
		return Outline{Diameter: diameter, Thickness: o.Thickness, RimRadius: o.RimRadius, OnShelf: o.OnShelf}
	}
	const transferAtTheEnd = 100.0 // [W/m²K], convection and radiation near the annealing point
	reach := math.Sqrt(conductivity * o.Thickness / (2 * transferAtTheEnd))
	need.Discs = []Outline{of(2 * narrow), of(math.Min(narrow, 7*reach))}
	return need
}

// slender is the thickness over the diameter.
func (o Outline) slender() float64 { return o.Thickness / o.Diameter }

// Combine returns the bound of a disc, pendant or lens up to half as thick as
// wide, from the slab of its thickness and the run of its plane. A thicker one
// takes ThickDisc after it.
//
//	tension  max(1.05 edge, slab)       lens: max(edge, slab)
//	left     1.05 (membrane + slab)     lens: membrane + slab
//	heating  1.05 (membrane + slab), inside, at its greatest in each span
//
// On a shelf the edge of a disc more than 0.3 times as thick as wide is raised by
// 1 + 0.8 (thickness/diameter − 0.3) more, and what is left with a rounded rim by
// 1.10.
//
// Valid: discs 6 to 25 mm thick and 50 to 200 mm wide bound finite elements by
// 1.01 to 1.13; rims rounded by more than a third of the thickness by up to
// 1.17; lenses raised by 1.04 to 1.31. Against package axial, with structural
// relaxation and conductivity that changes with temperature, 0.97 to 1.28; a
// lens on a shelf counts as closed at its base, 1.03 to 1.21 of one whose whole
// lower half is closed.
//
// Source: in-plane study, sec. 3 [derived]; package axial for thick discs on a
// shelf [derived in bounds_test.go of that package].
//
// Checked: testdata/cases/flat-pieces.toml
func (o Outline) Combine(slab sim.Outcome, flat Outcome) Bound {
	factor := discFactor
	b := Bound{ResidualPlace: Inside}
	if o.Profile == Lens {
		factor = 1
	}
	b.tension(factor*o.stretched(), factor, slab, flat)
	if o.OnShelf && o.round() {
		factor *= 1.1
	}
	b.Residual = factor * (flat.Residual + middle(slab))
	return b
}

// stretched raises the edge of a disc on a shelf that is more than 0.3 times as
// thick as wide: fast programs exceed the recipe there.
func (o Outline) stretched() float64 {
	if !o.OnShelf || o.rectangular() {
		return 1
	}
	return 1 + 0.8*math.Max(0, o.slender()-0.3)
}

// CombineSides returns the bound of a rectangular slab from the slab of its
// thickness and the runs of the two discs that Needs names.
//
//	tension  max(1.05 edge of the disc twice as wide as the shorter side, slab)
//	left     1.45 membrane of the disc min(shorter side, 7 √(k d/2H)) wide + slab
//
// The middle of a side is worse than the rim of a disc as wide, because the
// corners cool too and pull. H is 100 W/m²K.
//
// Valid: 1.00 to 1.23 times the tension and 1.01 to 1.2 times what is left of a
// plane-stress solution for seven slabs, 50 × 50 × 6 to 400 × 75 × 12 mm, and
// 1.06 to 1.18 times the finite elements of two of them, all raised. On a shelf
// it is a guess.
//
// Source: in-plane study, sec. 3 [derived].
func (o Outline) CombineSides(slab sim.Outcome, wide, narrow Outcome) Bound {
	b := Bound{ResidualPlace: Inside}
	if o.OnShelf || 3*o.Thickness > math.Min(o.Long, o.Wide) {
		b.Basis = Untested
	}
	b.tension(discFactor, discFactor, slab, wide)
	b.Residual = sideFactor*narrow.Residual + middle(slab)
	return b
}

// tension fills the tension while the program runs.
func (b *Bound) tension(atEdge, factor float64, slab sim.Outcome, flat Outcome) {
	b.BySpan = make([]float64, len(flat.EdgeBySpan))
	for i, peak := range flat.EdgeBySpan {
		take := func(x, time float64, place Place) {
			b.BySpan[i] = math.Max(b.BySpan[i], x)
			if x > b.Tension {
				b.Tension, b.TensionTime, b.TensionSpan, b.TensionPlace = x, time, i, place
			}
		}
		only := func(time, peak, here float64) float64 { // when the whole's peak is this span's
			if peak == here {
				return time
			}
			return 0
		}
		at := Face
		if slab.Inside.BySpan[i] > slab.Surface.BySpan[i] {
			at = Inside
		}
		take(atEdge*peak, only(flat.EdgeTime, flat.Edge, peak), flat.EdgePlace)
		take(slab.PeakBySpan[i], only(slab.PeakTime, slab.Peak, slab.PeakBySpan[i]), at)
		// The middle is equally stretched in all directions of the plane, by
		// membrane and slab alike: they add. Their greatest of the span stand
		// for the greatest of the sum.
		take(factor*(flat.InsideBySpan[i]+slab.Inside.BySpan[i]), flat.insideTime[i], Inside)
	}
}

// middle is the tension left at the mid-plane of a slab [Pa], never negative.
func middle(slab sim.Outcome) float64 { return math.Max(0, slab.Residual.Plane[0]) }

// ThickDisc returns the bound of a disc at least half as thick as wide: neither
// what Combine says is exceeded, nor what Rod says for it. One as thick as wide
// or thicker has only the latter; give it the zero Bound.
//
// Source: in-plane study, sec. 3 [derived], and package axial; see Rod.
func (o Outline) ThickDisc(b Bound, rod sim.Outcome) Bound {
	short := o.rod(rod)
	if o.slender() >= 1 {
		return short
	}
	if short.Tension < b.Tension {
		b.Tension, b.TensionTime, b.TensionSpan, b.TensionPlace = short.Tension, short.TensionTime, short.TensionSpan, short.TensionPlace
	}
	for i, s := range short.BySpan {
		b.BySpan[i] = math.Min(b.BySpan[i], s)
	}
	b.Residual = math.Min(b.Residual, short.Residual)
	return b
}

// rod is Rod for a disc; on a shelf it is stretched more.
func (o Outline) rod(long sim.Outcome) Bound {
	tension, residual := rodFactors(o.slender())
	if o.OnShelf {
		tension = math.Min(rodFactor, 0.9+0.8*(o.slender()-0.5))
	}
	return scaled(long, tension, residual, Side, Compared)
}

// rodFactors raise tension and left of the long cylinder for a rod by its length
// over its diameter.
func rodFactors(slender float64) (tension, residual float64) {
	tension = math.Min(rodFactor, 0.66+0.88*(slender-0.5))
	residual = 0.57 + 0.43/0.75*(slender-0.5)
	if slender > 1.25 {
		residual = math.Min(rodFactor, 1+0.2*(slender-1.25))
	}
	return tension, residual
}

// Rod returns the bound of a rod or cylinder cooled on all sides from the long
// cylinder. Its ends, ahead of the middle, add axial tension at mid-length; a
// short one has not the middle of a long one. Slender is the length over the
// diameter.
//
//	tension × 1.10, below a length of one diameter less: 0.66 at half of one
//	left    × 1.10, below 1.75 diameters less: 1.00 at 1.25, 0.57 at half of one
//
// Valid: slender of 0.5 and more. Against finite elements 1.03 and 1.05
// (50 × 100 mm), 1.00 and 1.04 (25 × 50 mm); against package axial 0.97 to 1.5
// for 10 to 100 mm and 30 to 400 K/h.
//
// Source: in-plane study, sec. 3, for the 1.10 [derived]; package axial for the
// rest [derived in bounds_test.go of that package].
//
// Checked: testdata/cases/revolution.toml
func Rod(long sim.Outcome, slender float64) Bound {
	tension, residual := rodFactors(math.Max(slender, 0.5))
	return scaled(long, tension, residual, Side, Compared)
}

// TubeWall returns the body of sim that stands for the wall of a tube [m] with
// a free end: a slab cooled from both faces when the bore is open to the kiln,
// from one and held flat when it is closed.
func TubeWall(wall float64, boreOpen bool) sim.Body {
	if boreOpen {
		return sim.Body{Form: sim.Slab, Outer: wall / 2}
	}
	return sim.Body{Form: sim.Slab, Outer: wall, OneFace: true, Held: true}
}

// TubeEnds returns the bound of a tube with a free end, where cooling ahead adds
// bending, from the slab of TubeWall. MeanRadius and wall in any one unit.
//
//	bore open    tension × (1.4 + 0.25 a/t), left × (1.1 + 0.15 a/t)
//	bore closed  tension × (1.1 + 0.1 a/t), at least 1.4; left × (1.3 + 0.08 a/t), 1.5 to 1.8
//
// with a the mean radius and t the wall.
//
// Valid: a/t from 2 to 12. Against finite elements of three open tubes and a
// closed one over by 1.07 to 1.32 and 1.05 to 1.55; against package axial by
// 0.97 and more. A fit, not a theory.
//
// Source: in-plane study, sec. 3, for the open bore [derived]; package axial for
// the closed one [derived in bounds_test.go of that package].
//
// Deviates: the in-plane study has 1.4 and 1.5 for any closed bore, from one
// tube; a more slender one exceeds that by a third.
//
// Checked: testdata/cases/revolution.toml
func TubeEnds(wallSlab sim.Outcome, meanRadius, wall float64, boreOpen bool) Bound {
	slender := meanRadius / wall
	tension, residual := 1.4+0.25*slender, 1.1+0.15*slender
	if !boreOpen {
		tension = math.Max(1.4, 1.1+0.1*slender)
		residual = math.Min(1.8, math.Max(1.5, 1.3+0.08*slender))
	}
	return scaled(wallSlab, tension, residual, End, Fitted)
}

// scaled is a bound that multiplies a one-dimensional outcome: the tension at
// its surface by one factor, and that inside by the other as far as it is what
// stays. More inside is that of heating, which counts like the surface's.
func scaled(o sim.Outcome, tension, residual float64, place Place, basis Basis) Bound {
	stays := math.Max(0, o.Residual.MaxTension())
	b := Bound{Residual: residual * stays, ResidualPlace: Inside, Basis: basis, BySpan: make([]float64, len(o.PeakBySpan))}
	for i := range o.PeakBySpan {
		surface, inside := o.Surface.BySpan[i], o.Inside.BySpan[i]
		factor := residual
		if inside > 1.01*stays {
			factor = tension
		}
		at, x := place, tension*surface
		if factor*inside > x {
			at, x = Inside, factor*inside
		}
		b.BySpan[i] = x
		if x > b.Tension {
			b.Tension, b.TensionSpan, b.TensionPlace = x, i, at
		}
	}
	if b.TensionPlace == Inside == (o.PeakRho < 0.5) {
		b.TensionTime = o.PeakTime
	}
	return b
}

// Bounds runs all that the outline needs and returns its bound for each
// variant, with the lags of temperature as Run gives them, the slab's added.
// The problem and the settings are those of the slab; both the depth and the
// radius have Settings.Cells.
func Bounds(p sim.Problem, s sim.Settings, o Outline) ([]Bound, Result, error) {
	if err := o.check(); err != nil {
		return nil, Result{}, err
	}
	conductivity := 1.0
	if p.Material.Conductivity != nil && p.Kiln.At != nil {
		conductivity = p.Material.Conductivity(p.Kiln.At(0))
	}
	need := o.Needs(conductivity)
	var rod, slab sim.Result
	var err error
	out := make([]Bound, len(p.Variants))
	var all Result
	if need.Rod.Outer > 0 {
		p.Body = need.Rod
		if rod, err = sim.Run(p, s); err != nil {
			return nil, Result{}, err
		}
		all.MaxLag, all.MarkLag, all.Stats = rod.MaxLag, rod.MarkLag, rod.Stats
	}
	var flat []Result
	if need.Slab {
		p.Body = o.Slab()
		if slab, err = sim.Run(p, s); err != nil {
			return nil, Result{}, err
		}
		for _, d := range need.Discs {
			r, err := Run(p, s, d)
			if err != nil {
				return nil, Result{}, err
			}
			flat = append(flat, r)
		}
		all = flat[0]
		all.MaxLag += slab.MaxLag
		all.MarkLag += slab.MarkLag
	}
	for i := range out {
		switch {
		case len(flat) == 2:
			out[i] = o.CombineSides(slab.Outcomes[i], flat[0].Outcomes[i], flat[1].Outcomes[i])
		case len(flat) == 1:
			out[i] = o.Combine(slab.Outcomes[i], flat[0].Outcomes[i])
		}
		if need.Rod.Outer > 0 {
			out[i] = o.ThickDisc(out[i], rod.Outcomes[i])
		}
	}
	return out, all, nil
}
