package verify

import (
	"fmt"
	"math"
	"slices"
	"time"

	"lehr/anneal/formula"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/sim"
	"lehr/anneal/spread"
	"lehr/glass/unit"
)

// Evaluator measures many programs for one load. It is what a search asks; the
// answer a person sees always comes from [Program].
type Evaluator struct {
	Groups []*Group
	load   *piece.Load
	st     kiln.Studio
	limits kiln.Limits
}

// Accuracy says how a program is simulated.
type Accuracy int

// Full poses every variant, as a report does. Average simulates as finely, but
// average glass alone, and takes the worst case from the last
// [Evaluator.Calibrate]; AverageCooling does so without the soak, of which it says
// nothing. Coarse does so with few cells and few steps, at a tenth of the time of
// Full: tension left differs by some per cent, and for like programs by the same to
// 0.2 %, so that who knows the ratio for one knows it for all of them; what the soak
// relaxes only CoarseSoak says. CoarseWorst is coarse, too, but poses every variant: it
// follows a worst case that moves with the program, in several times the time. Before the
// first Calibrate all of them pose every variant.
const (
	Full Accuracy = iota
	Average
	AverageCooling
	Coarse
	CoarseSoak
	CoarseWorst
)

// coarseSettings are few cells and few steps: one without the other saves little.
var coarseSettings = sim.Settings{Cells: 4, MaxChange: 24, Tolerance: 0.5}

func (a Accuracy) settings() sim.Settings {
	if a == Coarse || a == CoarseSoak || a == CoarseWorst {
		return coarseSettings
	}
	return sim.Settings{}
}

// Measured is what a program does to one kind of piece, as shares of the
// limits: 1 is at the limit.
type Measured struct {
	Span      []float64  // greatest tension in each segment, as a share of its limit
	Residual  float64    // tension left, as a share of the limit it reaches first; 0 if it means nothing here
	Left      []float64  // the same at each place in the kiln, inside and at the surface
	Unrelaxed float64    // share of a stress at the start that the end of the soak leaves; 0 unless Soaked
	Lag       unit.Delta // greatest difference between core and surface at the end of the soak; 0 unless Soaked
	Soaked    bool       // there was a soak, and the accuracy judges it
}

// Tension returns the largest of Span.
func (m Measured) Tension() float64 {
	t := 0.0
	for _, s := range m.Span {
		t = math.Max(t, s)
	}
	return t
}

// NewEvaluator prepares a load. Errors: *[piece.MissingError] and *[glass.RangeError]
// for a glass that cannot be simulated, and those of the limits.
func NewEvaluator(l *piece.Load, st kiln.Studio, limits kiln.Limits) (*Evaluator, error) {
	j := &Evaluator{load: l, st: st, limits: limits.Or(st.Limits)}
	if err := j.limits.Check(); err != nil {
		return nil, err
	}
	seen := map[piece.ThermalKey]bool{}
	for _, p := range l.Pieces {
		if seen[p.ThermalKey()] {
			continue
		}
		seen[p.ThermalKey()] = true
		k, err := newGroup(p)
		if err != nil {
			return nil, err
		}
		if k.inside, err = misfit(k, j.limits); err != nil {
			return nil, fmt.Errorf("%s: %w", p.What, err)
		}
		j.Groups = append(j.Groups, k)
	}
	return j, nil
}

// Limits returns what programs are judged by.
func (j *Evaluator) Limits() kiln.Limits { return j.limits }

// Calibrate measures a program fully in the group with the given index, and keeps
// by how much the worst case exceeds the middle, and a body of revolution as it is
// its bound: what is measured otherwise counts with that from then on. Nothing may
// measure the group meanwhile.
func (j *Evaluator) Calibrate(s program.Schedule, group int) (Measured, error) {
	g := j.Groups[group]
	if g.ratios.near() {
		f := j.firing(s)
		mark, _, _ := f.soakMark(g.Piece)
		p := f.problem(g, f.offsets[0], mark)
		l, err := g.loads(p, sim.Settings{}, &factors{}, false)
		if err != nil {
			return Measured{}, err
		}
		if g.ratios, err = g.revolve(p, l.middle); err != nil {
			return Measured{}, err
		}
	}
	if last := g.last.Load(); last != nil && last.of(s) && last.ratios == g.ratios {
		g.worst = last.worst
		return last.m, nil
	}
	m, worst, err := j.measure(s, g, Full, nil)
	if err == nil {
		g.worst = worst
	}
	return m, err
}

// measuredFully is what a full measurement found, for a calibration with the same
// program after it.
type measuredFully struct {
	s      program.Schedule
	m      Measured
	worst  []factors
	ratios boundRatios // that counted
}

func (f *measuredFully) of(s program.Schedule) bool {
	return f.s.From == s.From && slices.Equal(f.s.Segments, s.Segments)
}

// worse keeps the larger of each factor.
func (a factors) worse(b factors) factors {
	for _, p := range [][2]*spread.Combined{{&a.surface, &b.surface}, {&a.inside, &b.inside}, {&a.residual, &b.residual}, {&a.residualSurface, &b.residualSurface}} {
		if p[1].Factor > p[0].Factor {
			*p[0] = *p[1]
		}
	}
	a.markLag, a.maxLag = max(a.markLag, b.markLag), max(a.maxLag, b.maxLag)
	return a
}

// firing prepares a program for a search. It can change nothing of what pieces
// bring along but how long they soak, so they count as even, and a soak that ends
// before they are as uneven.
func (j *Evaluator) firing(s program.Schedule) firing {
	f := newFiring(s, j.st, j.load, j.limits)
	f.even = true
	return f
}

// unevenLag is above the limit, the more the earlier, at a time [s] at which a
// piece is not even yet that went in hot, and zero from then on.
func (f firing) unevenLag(p piece.Piece, at float64) unit.Delta {
	short := EvenAt(p, f.into, f.schedule.From).Seconds() - at
	if short <= 0 {
		return 0
	}
	return f.limits.Even + unit.Delta(short/60)
}

// Measure simulates a program in the group with the given index, at every place
// in the kiln that the studio makes possible.
func (j *Evaluator) Measure(s program.Schedule, group int, a Accuracy) (Measured, error) {
	g := j.Groups[group]
	known := g.worst
	if a == Full || a == CoarseWorst {
		known = nil
	}
	m, worst, err := j.measure(s, g, a, known)
	if a == Full && err == nil {
		g.last.Store(&measuredFully{s, m, worst, g.ratios})
	}
	return m, err
}

// measure does so with the factors known for each place, or finds them.
func (j *Evaluator) measure(s program.Schedule, g *Group, a Accuracy, known []factors) (Measured, []factors, error) {
	f := j.firing(s)
	p := g.pairs.within(j.limits).beside(g.inside)
	m := Measured{Span: make([]float64, len(s.Segments))}
	mark, even, soaks := f.soakMark(g.Piece)
	asked := a != Coarse && a != CoarseWorst && a != AverageCooling // what the soak relaxes
	m.Soaked, even = soaks && asked, even && asked
	if even {
		lag, err := f.uneven(g, mark)
		if err != nil {
			return m, nil, err
		}
		m.Lag = max(lag, f.unevenLag(g.Piece, mark))
	}
	var worst []factors
	for n, off := range f.offsets {
		var at *factors
		if known != nil {
			at = &known[n]
		}
		l, err := g.loads(f.problem(g, off, mark), a.settings(), at, asked)
		if err != nil {
			return m, nil, err
		}
		worst = append(worst, l.worst)
		l = l.raisedBy(g.ratios, g)
		if even {
			m.Lag = max(m.Lag, unit.Delta(math.Abs(l.result.MarkLag)))
		}
		for i := range l.middle.surface.bySpan {
			seg := f.kinkSeg[i]
			m.Span[seg] = math.Max(m.Span[seg], l.span(i, p).use())
		}
		if m.Soaked {
			m.Unrelaxed = math.Max(m.Unrelaxed, l.unrelaxed)
		}
		if f.cools {
			inside, surface := l.left(p)
			m.Left = append(m.Left, math.Max(inside.use(), l.even(p).use()), surface.use())
			m.Residual = slices.Max(m.Left)
		}
	}
	return m, worst, nil
}

// problem puts the firing of one group, at a place that differs from the reading
// by off kelvin. Everything that simulates asks it; the glass comes from the
// group's variants.
func (f firing) problem(g *Group, off, mark float64) sim.Problem {
	room, place := f.room.Kelvin(), f.place(off)
	start := place(f.schedule.From.Kelvin())
	if core := f.coreOf(g.Piece); !core.IsZero() {
		start = core.Kelvin()
	}
	return sim.Problem{
		Body: g.Body.Sim, Surface: g.surface,
		Kiln:  sim.Kiln{At: func(t float64) float64 { return place(f.timeline.At(t)) }, Kinks: f.kinks},
		Start: func(float64) float64 { return start },
		Mark:  mark, Room: room,
	}
}

// averageProblem is problem in average glass alone.
func (f firing) averageProblem(g *Group, off, mark float64) sim.Problem {
	p := f.problem(g, off, mark)
	of := g.glasses[0]
	p.Material, p.Light, p.Variants = of.material, of.light, []sim.Variant{of.variants[0].sim}
	return p
}

// place returns what a place is at that differs from the reading by off kelvin
// where the kiln is hottest, and by less where it is cooler.
func (f firing) place(off float64) func(kelvin float64) float64 {
	room, hottest := f.room.Kelvin(), f.schedule.From.Kelvin()
	for _, q := range f.timeline.Points {
		hottest = math.Max(hottest, q.Temp)
	}
	return func(kelvin float64) float64 {
		if hottest <= room+1 {
			return kelvin
		}
		return kelvin + off*math.Max(0, (kelvin-room)/(hottest-room))
	}
}

// Shortest is what a report says of a search for the shortest program.
type Shortest struct {
	Rule  time.Duration // the program by the rule, 0 if it has none within the limits
	Floor time.Duration // no program is shorter, by the closed forms
	Kiln  time.Duration // what the kiln takes without any piece
	// Interrupted says that the search was stopped: the program is the best
	// judged by then.
	Interrupted bool
	// None says that the search found no program within the limits: the program
	// is the rule's.
	None bool
}

// SegmentPeak returns the greatest tension in a segment of the program, raised
// by Body.TensionFactor.
func (r PieceReport) SegmentPeak(segment int) unit.Stress { return unit.Stress(r.SpanPeak[segment]) }

// SpanLimit returns the limit of tension that decides in a segment, as one of the
// worst case.
func (r PieceReport) SpanLimit(segment int) unit.Stress {
	if r.SpanUse[segment] > 0 {
		return unit.Stress(r.SpanPeak[segment] / r.SpanUse[segment])
	}
	return r.Tension.Limit()
}

// Steady returns what the closed forms say of steady cooling of this kind of
// piece: the tension at its surface while it is elastic, raised by
// Body.TensionFactor, and the tension left inside, raised by Body.ResidualFactor
// and by half of what the [formula.StructuralFactor] adds. rate is positive [K/s],
// kappa the thermal diffusivity [m²/s]. compressed is by how much the
// stress that a tension left inside leaves at the surface lowers the tension there.
func (k *Group) Steady(rate, kappa float64) (surface, inner, residual unit.Stress, compressed float64) {
	b := k.steady
	at := func(n float64) unit.Stress { return b.Stress(n, unit.Rate(rate), kappa) }
	surface = at(b.Surface) * unit.Stress(k.Body.TensionFactor)
	inner = at(b.Inner) * unit.Stress(k.Body.TensionFactor)
	// Average glass is raised by about half of what the closed forms allow for, and
	// heat that goes through clear glass as light leaves a fifth less behind.
	structural := 1 + (b.Structural-1)/2
	if k.Piece.Light == piece.Clear {
		structural *= 0.8
	}
	residual = at(b.Inner) * unit.Stress(structural*k.Body.ResidualFactor)
	return surface, inner, residual, b.Surface / b.Inner * k.Body.TensionFactor / k.Body.ResidualFactor
}

// Lag returns how long the middle of the piece trails its surface at a steady
// rate [s], and the surface the kiln at a kiln temperature.
func (k *Group) Lag(kappa, kelvin float64) (inside, surface float64) {
	l := float64(k.steady.Size)
	n := map[formula.Form]float64{formula.FormSlab: 2, formula.FormCylinder: 4, formula.FormSphere: 6}[k.Body.Form]
	inside = l * l / (n * kappa)
	s := piece.Surface(k.Piece.Glass)
	if s.Follows {
		return inside, 0
	}
	h := s.HeatTransfer + 4*s.Emissivity*sim.StefanBoltzmann*kelvin*kelvin*kelvin
	m := map[formula.Form]float64{formula.FormSlab: 1, formula.FormCylinder: 2, formula.FormSphere: 3}[k.Body.Form]
	if k.Body.Sim.Inner > 0 { // the outside of a hollow piece is larger than its inside: less to cool per area
		m = 1
	}
	g := k.Piece.Glass
	return inside, k.glasses[0].material.Density * g.SpecificHeat.At(kelvin) * l / (m * h)
}

// Kappa returns the largest diffusivity [m²/s] that the piece may have at a
// kiln temperature while its inside is hotter by no more than lag.
func (k *Group) Kappa(kelvin, lag float64) float64 {
	best := 0.0
	for _, t := range []float64{kelvin, kelvin + lag/2, kelvin + lag} {
		best = math.Max(best, k.glasses[0].material.Conductivity(t)/k.glasses[0].material.SpecificHeat(kelvin))
	}
	return best / k.glasses[0].material.Density
}

// Relaxation returns the share of a stress in average glass that is left after a
// time at a temperature, by the closed form of a glass in equilibrium there.
func (k *Group) Relaxation() (tau func(kelvin float64) float64, terms []sim.Term) {
	average := k.glasses[0]
	v := average.variants[0].sim
	g := average.material.Young / (2 * (1 + average.material.Poisson))
	terms = average.material.Shear
	if len(terms) == 0 {
		terms = []sim.Term{{Weight: 1, Time: 1}}
	}
	return func(kelvin float64) float64 {
		if kelvin <= v.T0+1 {
			return math.Inf(1)
		}
		return math.Pow(10, v.Log10(kelvin)) / g
	}, terms
}
