package anneal

import (
	"fmt"
	"math"
	"slices"
	"time"

	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// Judge measures many programs for one load. It is what a search asks; the
// answer a person sees always comes from [Verify].
type Judge struct {
	Kinds  []Kind
	load   *Load
	st     Studio
	limits Limits
}

// Kind is one kind of piece of a load; pieces that behave the same are one.
type Kind struct {
	Piece    Piece
	Body     Body
	material sim.Material
	variants []sim.Variant
}

// newKind prepares a piece. Errors as [NewJudge].
func newKind(p Piece) (*Kind, error) {
	m, v, err := material(p.Glass)
	return &Kind{Piece: p, Body: p.Body(), material: m, variants: v}, err
}

// Variants returns the number of readings of the uncertain properties.
func (k Kind) Variants() int { return len(k.variants) }

// Accuracy says how finely a program is simulated.
type Accuracy int

// Full is what a report is made with. Coarse is several times faster; tension
// left differs by about 1 %, nearly the same for like programs.
const (
	Full Accuracy = iota
	Coarse
)

func (a Accuracy) settings() sim.Settings {
	if a == Coarse {
		return sim.Settings{Cells: 8}
	}
	return planSettings
}

// Measured is what a program does to one kind of piece, as shares of the
// limits: 1 is at the limit.
type Measured struct {
	Span      []float64 // greatest tension in each segment, as a share of its limit
	Left      []float64 // tension left by each reading asked for, as a share of the limit it reaches first; empty if it means nothing here
	Unrelaxed float64   // share of a stress at the start that the end of the soak leaves
	Lag       unit.Delta
	Soaked    bool // there was a soak to judge
}

// Tension returns the largest of Span.
func (m Measured) Tension() float64 {
	t := 0.0
	for _, s := range m.Span {
		t = math.Max(t, s)
	}
	return t
}

// WorstLeft returns the largest of Left.
func (m Measured) WorstLeft() float64 {
	t := 0.0
	for _, s := range m.Left {
		t = math.Max(t, s)
	}
	return t
}

// NewJudge prepares a load. Errors: *MissingError and *glass.RangeError for a
// glass that cannot be simulated, and those of the limits.
func NewJudge(l *Load, st Studio, limits Limits) (*Judge, error) {
	j := &Judge{load: l, st: st, limits: limits.or(st.Limits)}
	if err := j.limits.check(); err != nil {
		return nil, err
	}
	seen := map[twin]bool{}
	for _, p := range l.Pieces {
		if seen[p.twin()] {
			continue
		}
		seen[p.twin()] = true
		k, err := newKind(p)
		if err != nil {
			return nil, err
		}
		j.Kinds = append(j.Kinds, *k)
	}
	return j, nil
}

// Limits returns what programs are judged by.
func (j *Judge) Limits() Limits { return j.limits }

// Measure simulates a program in the kind of piece with the given index, for
// the readings listed, all of them if the list is nil, at every place in the
// kiln that the studio makes possible.
func (j *Judge) Measure(s Schedule, kind int, a Accuracy, readings []int) (Measured, error) {
	k := &j.Kinds[kind]
	f := newFiring(s, j.st, j.load)
	variants := k.variants
	if readings != nil {
		variants = make([]sim.Variant, len(readings))
		for i, r := range readings {
			variants[i] = k.variants[r]
		}
	}
	m := Measured{Span: make([]float64, len(s.Segments))}
	mark, even, asked := f.soakMark(k.Piece)
	m.Soaked = asked
	if f.cools {
		m.Left = make([]float64, len(variants))
	}
	for _, off := range f.offsets {
		res, err := sim.Run(f.posed(k, variants, off, mark), fineEnough(k.Piece, s, a.settings()))
		if err != nil {
			return m, fmt.Errorf("%s: %w", k.Piece.What, err)
		}
		if even {
			m.Lag = max(m.Lag, unit.Delta(math.Abs(res.MarkLag)))
		}
		for i, o := range res.Outcomes {
			for n, stress := range o.PeakBySpan {
				seg := f.kinkSeg[n]
				m.Span[seg] = math.Max(m.Span[seg], stress*k.Body.Tension/float64(j.limits.Tension))
			}
			if m.Soaked {
				m.Unrelaxed = math.Max(m.Unrelaxed, o.Unrelaxed)
			}
			if f.cools {
				m.Left[i] = math.Max(m.Left[i], o.Left.MaxTension()/j.leftLimit(k))
			}
		}
	}
	return m, nil
}

// leftLimit is the tension left, not raised, at which a kind of piece is at a
// limit: that of what is left, or that of tension at any time, which what is
// left counts as too once the piece has evened out.
func (j *Judge) leftLimit(k *Kind) float64 {
	b, l := k.Body, j.limits
	return math.Min(float64(l.Left)/b.Left, float64(l.Tension)/math.Max(b.Tension, b.Left))
}

// posed puts the firing of one kind of piece, at a place that differs from the
// reading by off kelvin. Everything that simulates asks it.
func (f firing) posed(k *Kind, variants []sim.Variant, off, mark float64) sim.Problem {
	room, from := f.room.Kelvin(), f.schedule.From.Kelvin()
	hottest := from
	for _, q := range f.timeline.Points {
		hottest = math.Max(hottest, q.Temp)
	}
	place := func(kelvin float64) float64 {
		if hottest <= room+1 {
			return kelvin
		}
		return kelvin + off*math.Max(0, (kelvin-room)/(hottest-room))
	}
	start := place(from)
	core := start
	if p := k.Piece; !p.Core.IsZero() && p.Core != f.schedule.From {
		core = p.Core.Kelvin()
	}
	return sim.Problem{
		Body: k.Body.Sim, Material: k.material, Variants: variants, Surface: surface(k.Piece.Glass),
		Kiln:  sim.Kiln{At: func(t float64) float64 { return place(f.timeline.At(t)) }, Kinks: f.kinks},
		Start: func(rho float64) float64 { return start + (core-start)*(1-rho*rho) },
		Mark:  mark, Room: room,
	}
}

// Frame is what a search for a program may choose from, and where the rule
// would begin.
type Frame struct {
	From             unit.Temp     // where the program begins
	Coolest, Hottest unit.Temp     // soak temperatures that kiln and every piece bear
	Longest          time.Duration // longest soak that every piece bears, 0 for no limit
	LongestBy        int           // index of the piece that bears least
	Soak             unit.Temp     // the rule's, as are the next two
	Hold             time.Duration
	Ramps            []FrameRamp
	Heating          unit.Rate // fastest heating of kiln and controller
}

// FrameRamp is one cooling ramp of the rule before rounding.
type FrameRamp struct {
	To   unit.Temp
	Rate unit.Rate // positive
}

// NewFrame asks the rule about the load without judging the answer. Errors as
// [Plan]; a soak longer than a piece bears is none here.
func NewFrame(l *Load, st Studio, o Options) (Frame, error) {
	pl := planner{load: l, st: st, o: o, limits: o.Limits.or(st.Limits)}
	bare := *l
	bare.Pieces = append([]Piece(nil), l.Pieces...)
	var f Frame
	for i := range bare.Pieces {
		p := &bare.Pieces[i]
		if p.LongestSoak > 0 && (f.Longest == 0 || p.LongestSoak < f.Longest) {
			f.Longest, f.LongestBy = p.LongestSoak, i
		}
		p.LongestSoak = 0
	}
	pl.load = &bare
	if err := pl.ask(); err != nil {
		return f, err
	}
	if err := pl.propose(); err != nil {
		return f, err
	}
	b, err := band(bare.Pieces, st)
	if err != nil {
		return f, err
	}
	margin := unit.Delta(b.margin)
	f.Coolest, f.Hottest = b.low.Add(margin), b.high.Add(-margin)
	if f.Hottest.Less(pl.prop.soak) {
		f.Hottest = pl.prop.soak
	}
	if pl.prop.soak.Less(f.Coolest) {
		f.Coolest = pl.prop.soak
	}
	f.From, f.Soak, f.Hold = pl.prop.from, pl.prop.soak, pl.prop.hold
	f.Heating = min(st.Kiln.Heating, st.Controller.Fastest)
	for _, r := range pl.prop.ramps {
		f.Ramps = append(f.Ramps, FrameRamp{r.to, unit.Rate(r.rate)})
	}
	return f, nil
}

// Shortest is what a report says of a search for the shortest program.
type Shortest struct {
	Rule  time.Duration // the program by the rule, 0 if it has none within the limits
	Floor time.Duration // no program is shorter, by the closed forms
	Kiln  time.Duration // what the kiln takes without any piece
	// Interrupted says that the search was stopped: the program is the best
	// found so far.
	Interrupted bool
	// None says that the search found no program within the limits: the program
	// is the rule's.
	None bool
}

// Decide notes which piece decided a number of the program.
func (rep *Report) Decide(piece int, what string) {
	if d := &rep.Pieces[piece].Decides; !slices.Contains(*d, what) {
		*d = append(*d, what)
	}
}

// SegmentPeak returns the greatest tension in a segment of the program, raised
// by Body.Tension.
func (r PieceReport) SegmentPeak(segment int) unit.Stress { return unit.Stress(r.spanPeak[segment]) }

// Steady returns what the closed forms say of steady cooling of this kind of
// piece: the tension at its surface while it is elastic, raised by
// Body.Tension, and the tension left inside, raised by Body.Left and by the
// [StructuralFactor]. rate is positive [K/s], kappa the thermal diffusivity
// [m²/s]. compressed is by how much the stress that a tension of left inside
// leaves at the surface lowers the tension there.
func (k Kind) Steady(rate, kappa float64) (surface, inner, left unit.Stress, compressed float64) {
	b := steadyOf(k.Body, k.Piece.Glass)
	at := func(n float64) unit.Stress { return b.stress(n, unit.Rate(rate), kappa) }
	surface = at(b.surface) * unit.Stress(k.Body.Tension)
	inner = at(b.inner) * unit.Stress(k.Body.Tension)
	left = at(b.inner) * unit.Stress(b.structural*k.Body.Left)
	return surface, inner, left, b.surface / b.inner * k.Body.Tension / k.Body.Left
}

// Lag returns how long the middle of the piece trails its surface at a steady
// rate [s], and the surface the kiln at a kiln temperature.
func (k Kind) Lag(kappa, kelvin float64) (inside, film float64) {
	b := steadyOf(k.Body, k.Piece.Glass)
	l := float64(b.size)
	n := map[Form]float64{FormSlab: 2, FormCylinder: 4, FormSphere: 6}[k.Body.Form]
	inside = l * l / (n * kappa)
	s := surface(k.Piece.Glass)
	if s.Follows {
		return inside, 0
	}
	h := s.Film + 4*s.Emissivity*sim.StefanBoltzmann*kelvin*kelvin*kelvin
	m := map[Form]float64{FormSlab: 1, FormCylinder: 2, FormSphere: 3}[k.Body.Form]
	if k.Body.Sim.Inner > 0 { // the outside of a tube is larger than its inside: less to cool per area
		m = 1
	}
	g := k.Piece.Glass
	return inside, k.material.Density * g.SpecificHeat.At(kelvin) * l / (m * h)
}

// Kappa returns the largest diffusivity [m²/s] that the piece may have at a
// kiln temperature while its inside is hotter by no more than lag.
func (k Kind) Kappa(kelvin, lag float64) float64 {
	best := 0.0
	for _, t := range []float64{kelvin, kelvin + lag/2, kelvin + lag} {
		best = math.Max(best, k.material.Conductivity(t)/k.material.SpecificHeat(kelvin))
	}
	return best / k.material.Density
}

// Relaxation returns, for each reading of the glass, the share of a stress that
// is left after a time at a temperature, by the closed form of a glass in
// equilibrium there.
func (k Kind) Relaxation(reading int) (tau func(kelvin float64) float64, terms []sim.Term) {
	v := k.variants[reading]
	g := k.material.Young / (2 * (1 + k.material.Poisson))
	terms = k.material.Shear
	if len(terms) == 0 {
		terms = []sim.Term{{Weight: 1, Time: 1}}
	}
	return func(kelvin float64) float64 {
		if kelvin <= v.T0+1 {
			return math.Inf(1)
		}
		return math.Pow(10, v.A+v.B/(kelvin-v.T0)) / g
	}, terms
}
