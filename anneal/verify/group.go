package verify

import (
	"fmt"
	"math"
	"sync"
	"sync/atomic"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/rule"
	"lehr/anneal/sim"
	"lehr/anneal/sim/axial"
	"lehr/anneal/sim/plane"
	"lehr/anneal/spread"
	"lehr/glass"
	"lehr/glass/unit"
)

// Group is one kind of piece of a load; pieces that behave the same are one.
//
// It is posed in variants: the middle one gives what average glass carries, and
// each of the others changes one thing that is not known exactly. How they
// combine to a worst case is in package spread.
type Group struct {
	Piece piece.Piece
	Body  piece.Body

	outline *plane.Outline // of a flat piece, nil for the others
	surface sim.Surface
	glasses []glassOf // first that of the middle variants
	pairs   pairs
	inside  Inside // what lies in it, for a search
	steady  rule.SteadyBody

	revolution axial.Body // as the piece is, where it is a body of revolution
	revolves   bool
	inBed      bool // the factors of its bed are not in that body

	worst  []factors   // by place, of the program that a search calibrated with
	ratios boundRatios // of the same program
	last   atomic.Pointer[measuredFully]
	uneven sync.Map // how the heat of the flame evens out, by the path of the program
}

// glassOf is one way to pose the glass for heat: variants that share its
// temperatures are simulated together.
type glassOf struct {
	material sim.Material
	light    *sim.Light
	variants []variant
}

// variant is one of the glasses that the ranges allow.
type variant struct {
	sim sim.Variant
	// property is what is moved to one end of its range, alternative the question
	// of which it is one answer; both empty for the middle variant.
	property, alternative spread.Unknown
	answer                string // to the question
	// also are properties of which the same variant stands for more, by how much
	// of its share: a wider range counts more.
	also map[spread.Unknown]float64
}

// newGroup prepares a piece. Errors as [NewEvaluator].
func newGroup(p piece.Piece) (*Group, error) {
	g := &Group{Piece: p, Body: p.Body(), surface: piece.Surface(p.Glass)}
	m, curves, err := piece.Material(p.Glass)
	if err != nil {
		return nil, err
	}
	if o, ok := p.Outline(); ok {
		g.outline = &o
	}
	if g.revolution, g.inBed, g.revolves = p.Revolved(); g.revolves {
		g.revolution = g.revolution.Kept()
	}
	g.pairs, g.steady = pairsOf(p), rule.SteadyOf(g.Body, p.Glass)
	g.glasses = []glassOf{{material: m}}
	if p.Textbook {
		for _, c := range curves[:1] {
			g.glasses[0].variants = []variant{{sim: c.Middle}}
		}
		return g, nil
	}
	ranges := spread.Ranges(p.Glass)
	g.glasses[0].variants = g.sameHeat(curves, ranges)
	if err := g.otherHeat(m, ranges); err != nil {
		return nil, fmt.Errorf("%s: %w", p.Glass.Name, err)
	}
	return g, nil
}

// sameHeat lists the variants that change no temperature.
func (g *Group) sameHeat(curves []piece.Curve, ranges []spread.Range) []variant {
	middle := curves[0].Middle
	out := []variant{{sim: middle}}
	add := func(v sim.Variant, property, alternative spread.Unknown) {
		out = append(out, variant{sim: v, property: property, alternative: alternative})
	}
	for _, c := range curves[1:] {
		add(c.Middle, spread.Viscosity, "")
	}
	for _, r := range ranges {
		switch {
		case r.Absolute > 0 && g.Piece.Glass.Pin == nil:
			for _, d := range []float64{-r.Absolute, r.Absolute} {
				v, property := middle, r.Key
				if r.Key == spread.FixedPoints { // all points move with it
					v.T0 += d
					if v.Straight > 0 {
						v.Straight += d
					}
				} else if c, curve, ok := g.Piece.Glass.Moved(string(r.Key), unit.Delta(d)); ok {
					v.A, v.B, v.T0, v.Straight = c.A, c.B, c.T0, c.Straight.Kelvin()
					if curve > 0 {
						property = spread.Viscosity // widens what that curve stands for
					}
				}
				v.Name += fmt.Sprintf(", %s %+g K", r.Key, d)
				add(v, property, "")
			}
		case r.Key == spread.LiquidExpansion && middle.ExpansionLiquid > 0:
			for _, end := range []float64{1 - r.Relative, 1 + r.Relative} {
				v := middle
				v.ExpansionLiquid *= end
				v.Name += fmt.Sprintf(", liquid expansion × %.2f", end)
				add(v, r.Key, "")
			}
		}
	}
	if middle.ExpansionLiquid > 0 {
		add(curves[0].FastStructure, "", spread.Structure)
		out[len(out)-1].answer = "fast"
	}
	return out
}

// otherHeat adds the ways to pose the glass that change its temperatures: a
// conductivity at the low end of its range, which stands for the specific heat
// at the high end of its own too, and what light does where nobody says.
//
// Young's modulus and the expansion raise every stress by their own share, and
// need no variant.
func (g *Group) otherHeat(m sim.Material, ranges []spread.Range) error {
	middle := g.glasses[0].variants[0].sim
	var conducts, stores float64
	for _, r := range ranges {
		switch r.Key {
		case spread.Conductivity:
			conducts = r.Relative
		case spread.SpecificHeat:
			stores = r.Relative
		}
	}
	light := g.Piece.Light
	if err := g.setLight(&g.glasses[0], light, m); err != nil {
		return err
	}
	if conducts > 0 {
		low := g.glasses[0]
		k := low.material.Conductivity
		low.material.Conductivity = func(t float64) float64 { return (1 - conducts) * k(t) }
		v := middle
		v.Name += fmt.Sprintf(", conductivity × %.2f", 1-conducts)
		low.variants = []variant{{sim: v, property: spread.Conductivity, also: map[spread.Unknown]float64{spread.SpecificHeat: stores / conducts}}}
		g.glasses = append(g.glasses, low)
	}
	if light != piece.LightUnknown || !g.Piece.Glass.ConductivityPhonon.Known() {
		return nil
	}
	for _, l := range []piece.Light{piece.Clear, piece.Opaque} {
		other := glassOf{material: m}
		if err := g.setLight(&other, l, m); err != nil {
			return err
		}
		if l == piece.Clear && other.light == nil {
			continue // this body has no rays of its own: dark and opaque enclose it
		}
		v := middle
		v.Name += ", " + string(l)
		other.variants = []variant{{sim: v, alternative: spread.Light, answer: string(l)}}
		g.glasses = append(g.glasses, other)
	}
	return nil
}

// lightCells is the number of cells of clear glass: good to 1 % of stress.
const lightCells = 16

// setLight poses a glass as clear, dark or opaque. Dark glass has the conductivity of
// the table, which is measured on thick samples; so has glass of which nobody
// says, and clear glass whose bands or whose rays are not known.
func (g *Group) setLight(to *glassOf, l piece.Light, m sim.Material) error {
	to.material = m
	gl := g.Piece.Glass
	phonon := gl.ConductivityPhonon
	switch {
	case l == piece.Opaque && phonon.Known():
		to.material.Conductivity = phonon.At
	case l == piece.Clear && phonon.Known() && len(gl.Absorption) > 0 && g.outline == nil && g.Body.Sim.Inner == 0 && !gl.SurfaceFollows:
		light, err := sim.NewLight(g.Body.Sim, optics(gl), sim.Layer{}, lightCells)
		if err != nil {
			return err
		}
		to.light, to.material.Conductivity = light, phonon.At
	}
	return nil
}

// optics is what a glass does to its own heat.
func optics(g *glass.Glass) sim.Optics {
	o := sim.Optics{Index: g.InfraredIndex.Number}
	for _, b := range g.Absorption {
		o.Bands = append(o.Bands, sim.Band{To: b.To, Absorption: b.Number})
	}
	return o
}

// pairs are what the tension of a piece is held against.
type pairs struct{ surface, inside, residual, residualSurface spread.Pair }

// pairsOf are the published limits for a piece of its size and use.
func pairsOf(p piece.Piece) pairs {
	b := p.Body()
	size := spread.Sphere(unit.Length(2*b.Sim.Outer), b.Sim.Form == sim.Slab)
	var out pairs
	for _, l := range spread.Limits() {
		pair := l.At(size, p.Wear)
		switch l.Key {
		case "surface-hours":
			out.surface = pair
		case "inside-hours":
			out.inside = pair
		case "left-inside":
			out.residual = pair
		case "left-surface":
			out.residualSurface = pair
		}
	}
	return out
}

// ResidualLimit returns what the tension left inside a piece is held against: the
// limit of a person if one is given, else the pair for its size and wear. A plan
// holds average glass against the first number and the worst case against the
// second; a piece that was measured is neither, and what it bears is the second.
func ResidualLimit(p piece.Piece, l kiln.Limits) spread.Pair { return pairsOf(p).within(l).residual }

// factors are by how much the worst case of each tension exceeds what average
// glass carries, and the greatest difference of temperature what is in its core.
type factors struct {
	surface, inside, residual, residualSurface spread.Combined
	markLag, maxLag                            float64
}

// combine finds the worst case of one tension from its value in each variant, in
// shares of a base [Pa].
func (g *Group) combine(of func(glass, variant int) float64, base float64) (spread.Combined, error) {
	middle := of(0, 0)
	adverse := map[spread.Unknown]float64{}
	alternatives := map[spread.Unknown][]spread.Answer{}
	for i, gl := range g.glasses {
		for j, r := range gl.variants {
			ratio := 1 + (math.Max(of(i, j), 0)-middle)/base
			switch {
			case r.property != "":
				adverse[r.property] = math.Max(adverse[r.property], ratio-1)
				for unknown, times := range r.also {
					adverse[unknown] = math.Max(adverse[unknown], (ratio-1)*times)
				}
			case r.alternative != "":
				alternatives[r.alternative] = append(alternatives[r.alternative], spread.Answer{Name: r.answer, Factor: math.Max(ratio, 1e-3)})
			}
		}
	}
	if !g.Piece.Textbook {
		for _, r := range spread.Ranges(g.Piece.Glass) {
			if r.Key == spread.Expansion || r.Key == spread.Young {
				adverse[r.Key] = r.Relative * math.Max(middle, 0) / base // of the stress itself
			}
		}
	}
	var shares []spread.Share
	var questions []spread.Alternative
	for _, unknown := range spread.Unknowns() {
		if share, ok := adverse[unknown]; ok {
			shares = append(shares, spread.Share{Of: unknown, Adverse: share})
		}
		if answers, ok := alternatives[unknown]; ok {
			questions = append(questions, spread.Alternative{Of: unknown, Answers: append(answers, spread.Answer{Name: "middle", Factor: 1})})
		}
	}
	if len(shares) < len(adverse) || len(questions) < len(alternatives) { // one left out would lower the worst case
		return spread.Combined{}, fmt.Errorf("verify: a worst case of %v and %v, of which not all are known", adverse, alternatives)
	}
	return spread.Combine(shares, questions)
}
