package verify

import (
	"context"
	"math"
	"slices"
	"sync"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/internal/parallel"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/sim"
	"lehr/anneal/sim/plane"
	"lehr/anneal/spread"
	"lehr/glass/unit"
)

// PieceReport is what a program does to one kind of piece: in average glass and in
// the worst case over what is not known of it, at the worse place in the kiln.
type PieceReport struct {
	Piece piece.Piece
	Body  piece.Body

	Peak            unit.Stress // greatest tension at any time, worst case
	PeakTime        float64     // [s]
	PeakPlace       Place
	PeakSegment     int         // index of the segment in which it occurs
	Opened          unit.Stress // greatest tension when the kiln is opened hot, worst case; 0 if it is not
	Opening         Tension     // the numbers behind it
	Doors           []AtDoor    // what each opening before the program did, in order of time
	ResidualSurface unit.Stress // worst case, as are the next two
	ResidualCenter  unit.Stress
	Residual        unit.Stress // greatest tension left anywhere
	Retardation     unit.Length // between crossed polarizers, where [piece.Piece.Shown] says
	MaxLag          unit.Delta  // greatest difference between core and surface
	SoakLag         unit.Delta  // the same at the end of the soak
	Relaxed         float64     // least share of a starting stress relaxed by then
	SoakJudged      bool        // there is a soak to judge
	ResidualJudged  bool        // the program cools to the room, so that left stress means something

	// ClosedPeak and ClosedResidual are the closed forms' opinion of the same
	// program, zero where they have none.
	ClosedPeak, ClosedResidual unit.Stress

	Within  bool             // every limit is kept; see Verdict for what was not judged
	Over    finding.List     // which limits are exceeded, and what was not judged
	Decides program.Purposes // what of the program this piece decided

	SpanPeak []float64 // greatest tension in each segment, worst case [Pa]
	SpanUse  []float64 // the share of its limit that this uses up
	// Tension and ResidualTension are the numbers behind Peak and Residual.
	Tension, ResidualTension Tension
	// Inside is what lies in the piece and the program do together, nil if nothing
	// does.
	Inside *Inside
	// Basis is how well the rule for the rim or the ends is supported.
	Basis plane.Basis
	// The fictive temperatures left in the middle variant.
	FictiveSurface, FictiveCenter unit.Temp
	// ResidualByDepth is the stress left from the surface inward, as a share of the way
	// to the middle, or of a tube's wall to its bore, in the worst case.
	ResidualByDepth []AtDepth
	// PeakByDepth is the stress at the moment of the greatest tension; empty for a
	// flat piece, whose rim decides.
	PeakByDepth []AtDepth
	// Fall is the time constant of the kiln in which the tension is greatest, where
	// nobody measured how it falls; zero: as programmed.
	Fall time.Duration

	// Refined says that the stresses are those of the body as it is.
	Refined Refined

	uses       [3]float64 // of the limits, by the tension at the surface, inside, and left
	asResidual residualTension
	ratios     boundRatios // computed once for a program that is judged in full
	// revolve computes it for this program, where it is that of a like one.
	revolve    func() boundRatios
	bounds     boundUses // before its body was computed
	noWorse    bool      // its bound says that its body bears no more than as programmed
	group      *Group
	worst      factors
	EvenJudged bool         // the core must be even at the end of the soak
	notBorne   finding.List // what the program does that the piece does not bear
}

// firing is a program ready to be simulated.
type firing struct {
	schedule program.Schedule
	timeline program.Timeline // what the pieces are taken to see
	cools    bool             // to the room, so that left stress means something
	finished bool             // what follows the program needs no judging
	replayed bool             // it is what a kiln did: no program, and nothing to come
	offsets  []float64        // how far the place of a piece may differ from the reading [K]
	room     unit.Temp
	limits   kiln.Limits
	units    unit.System
	kinks    []float64
	kinkSeg  []int // segment of each kink
	into     piece.Into
	even     bool // pieces count as even at the start, whatever they are
	bodies   bool // bodies as they are may wait: until then they are those of a like program, or their bounds
	far      bool // pieces far below their limits are as in a like program
}

// firing is that of a report.
func (rep *Report) firing() firing {
	return newFiring(rep.Schedule, rep.Studio, rep.Load, rep.Limits)
}

// newFiring prepares a schedule for the pieces that may see it.
func newFiring(s program.Schedule, st kiln.Studio, l *piece.Load, limits kiln.Limits) firing {
	f := firing{schedule: s, into: l.Into, limits: limits, timeline: s.Followed(st), room: st.Kiln.Fall.Room, units: st.Units}
	for i, span := range f.timeline.Spans {
		for _, t := range [2]float64{span.RampEnds, span.End} {
			if n := len(f.kinks); t > 0 && (n == 0 || t > f.kinks[n-1]) {
				f.kinks, f.kinkSeg = append(f.kinks, t), append(f.kinkSeg, i)
			}
		}
	}
	if d := float64(st.Kiln.Spread)/2 + float64(st.Kiln.ProbeError); d > 0 {
		f.offsets = []float64{-d, d}
	} else {
		f.offsets = []float64{0}
	}
	last := s.Segments[len(s.Segments)-1].To
	f.cools = true
	for _, p := range l.Pieces {
		f.cools = f.cools && !piece.SetPoint(p.Glass).Less(last)
	}
	f.finished = f.cools || l.Into == piece.WarmOnly
	return f
}

// simulate runs the firing for one piece and books the worst place in the kiln.
//
// Of a like program there may be a report. Its worst case is then taken over, or
// with anew found again; what the body as it is has over its bound is taken over
// where it is far below, and found for the answer by [AsBodies].
func (f firing) simulate(p piece.Piece, settings sim.Settings, like *PieceReport, anew bool) (PieceReport, error) {
	r := PieceReport{Piece: p, Body: p.Body(), Relaxed: 1, Within: true, ResidualJudged: f.cools,
		SpanPeak: make([]float64, len(f.schedule.Segments)), SpanUse: make([]float64, len(f.schedule.Segments))}
	var known *factors
	if like != nil {
		if r.group, r.ratios = like.group, like.ratios; !anew {
			known = &like.worst
		}
	} else {
		var err error
		if r.group, err = newGroup(p); err != nil {
			return r, err
		}
	}
	g := r.group
	mark, even, soaks := f.soakMark(p)
	r.SoakJudged, r.EvenJudged = soaks, even
	for n, off := range f.offsets {
		l, err := g.loads(f.problem(g, off, mark), settings, known, true)
		if err != nil {
			return r, err
		}
		switch {
		case known != nil || n > 0 || !g.revolves:
		case anew && p.Profile == nil && (!r.ratios.near() || f.bodies):
			problem, middle := f.problem(g, off, mark), l.middle
			r.revolve = sync.OnceValue(func() boundRatios {
				k, _ := g.revolve(problem, middle) // no error without an outline of one's own
				return k
			})
		default:
			if r.ratios, err = g.revolve(f.problem(g, off, mark), l.middle); err != nil {
				return r, err
			}
		}
		l = l.raisedBy(r.ratios, g)
		r.worst = r.worst.worse(l.worst)
		r.book(f, l, soaks, n == 0)
		if !p.Contents.Empty() {
			if err := r.bookInside(f, g, off, l, settings); err != nil {
				return r, err
			}
		}
	}
	if even {
		lag, err := f.uneven(g, mark)
		if err != nil {
			return r, err
		}
		r.SoakLag = max(r.SoakLag, lag)
	}
	return r, nil
}

// book keeps the worse of what is known and one more place in the kiln.
func (r *PieceReport) book(f firing, l loads, marked, first bool) {
	p := r.group.pairs.within(f.limits)
	r.MaxLag = max(r.MaxLag, unit.Delta(l.result.MaxLag))
	if marked && math.Abs(l.result.MarkLag) > math.Abs(float64(r.SoakLag)) {
		r.SoakLag = unit.Delta(l.result.MarkLag)
	}
	if marked {
		r.Relaxed = math.Min(r.Relaxed, 1-l.unrelaxed)
	}
	r.Basis = max(r.Basis, l.middle.basis)
	o := l.middle.outcome
	for i := range l.middle.surface.bySpan {
		h, seg := l.span(i, p), f.kinkSeg[i]
		if u := h.use(); u >= r.SpanUse[seg] {
			r.SpanUse[seg], r.SpanPeak[seg] = u, float64(h.worst)
		}
	}
	surface, inside := l.surface(p), l.inside(p)
	r.uses[0], r.uses[1] = max(r.uses[0], surface.use()), max(r.uses[1], inside.use())
	if f.cools {
		if even := l.even(p); even.use() > r.uses[2] {
			r.uses[2], r.asResidual = even.use(), residualTension{tensionOf(even), f.kinks[len(f.kinks)-1], placeOf(r.Body, l.middle.residualRho), len(f.schedule.Segments) - 1}
		}
	}
	peak, at := surface, l.middle.surface
	if inside.use() > surface.use() {
		peak, at = inside, l.middle.inside
	}
	if first || peak.use() > r.Tension.Use {
		r.Tension = tensionOf(peak)
		r.Peak, r.PeakTime, r.PeakPlace = peak.worst, at.time, placeOf(r.Body, at.rho)
		r.PeakPlace.Flat, r.PeakPlace.At = at.flat, at.place
		r.PeakSegment = f.segmentAt(at, o)
		if r.PeakByDepth = nil; !at.flat && at.time == o.PeakTime {
			r.PeakByDepth = byDepth(o.AtPeak.Stress, ratio(float64(r.Peak), o.AtPeak.Stress.MaxTension()))
		}
	}
	if residual := l.residual(p); first || residual.use() > r.ResidualTension.Use {
		r.ResidualTension = tensionOf(residual)
		r.bookResidual(l, residual)
	}
	// What is left counts as tension too, once the piece has evened out.
	if even := l.even(p); f.cools && even.use() > r.Tension.Use {
		r.Tension = tensionOf(even)
		r.Peak, r.PeakTime, r.PeakSegment = even.worst, f.kinks[len(f.kinks)-1], len(f.schedule.Segments)-1
		r.PeakPlace = placeOf(r.Body, l.middle.residualRho)
		r.PeakByDepth = byDepth(o.Residual, ratio(float64(r.Peak), o.Residual.MaxTension()))
	}
}

// bookResidual keeps the profile of what is left.
func (r *PieceReport) bookResidual(l loads, residual held) {
	o := l.middle.outcome
	n := len(o.Residual.Plane) - 1
	raise := 1.0 // of the one-dimensional body to the piece in its worst case
	if most := o.Residual.MaxTension(); most > 0 {
		raise = l.middle.residual * l.worst.residual.Factor / most
	}
	r.Residual = residual.worst
	r.ResidualByDepth = byDepth(o.Residual, raise)
	r.ResidualSurface = unit.Stress(math.Max(o.Residual.Plane[n], o.Residual.Axial[n]) * raise)
	r.ResidualCenter = unit.Stress(math.Max(o.Residual.Plane[0], math.Max(o.Residual.Axial[0], o.Residual.Radial[0])) * raise)
	if r.Retardation = 0; r.Piece.Shown() != piece.NotShown {
		c := math.Abs(r.Piece.Glass.StressOptic.Number)
		if share, ok := r.Piece.Edge(r.Piece.Path()); ok { // of the slab alone
			c, raise = c*share, l.worst.residual.Factor
		}
		r.Retardation = unit.Length(c * o.Residual.PathStress(r.Body.Sim, float64(r.Piece.Path())) * raise)
	}
	r.FictiveSurface, r.FictiveCenter = unit.Kelvin(o.FictiveSurface), unit.Kelvin(o.FictiveCenter)
}

// segmentAt returns the segment in which a top is reached; one of which only the
// span is known is in the span with as much.
func (f firing) segmentAt(t top, o sim.Outcome) int {
	if t.flat || t.time == 0 {
		best := 0
		for i, s := range t.bySpan {
			if s > t.bySpan[best] {
				best = i
			}
		}
		return f.kinkSeg[best]
	}
	for i, k := range f.kinks {
		if t.time <= k*(1+rounding) {
			return f.kinkSeg[i]
		}
	}
	return f.kinkSeg[len(f.kinkSeg)-1]
}

// Tension is the tension of a piece in average glass and in the worst case, and what each is
// held against.
type Tension struct {
	Expected, Worst unit.Stress
	Pair            spread.Pair
	Use             float64 // the greater share of the two limits
	Why             spread.Combined
}

func tensionOf(h held) Tension { return Tension{h.expected, h.worst, h.pair, h.use(), h.why} }

// Limit returns the limit that decides, as one of the worst case.
func (b Tension) Limit() unit.Stress {
	if !(b.Use > 0) {
		return b.Pair.Worst
	}
	return unit.Stress(float64(b.Worst) / b.Use)
}

// judge compares the report with the limits.
func (r *PieceReport) judge(l kiln.Limits) {
	r.Over = nil
	r.judgeTension(finding.OverTension, finding.UnprovenTension, r.Tension)
	if r.ResidualJudged {
		r.judgeTension(finding.OverResidual, finding.UnprovenResidual, r.ResidualTension)
	}
	if r.SoakJudged && r.ResidualJudged {
		if !(r.Relaxed >= l.Relaxed) {
			r.Over.Add(finding.Of(finding.OverRelaxed).Counting(r.Relaxed))
		}
		if r.EvenJudged && !(math.Abs(float64(r.SoakLag)) <= float64(l.Even)) {
			r.Over.Add(finding.Of(finding.OverEven).Apart(r.SoakLag))
		}
	}
	r.judgeTension(finding.OverOpening, finding.OverOpening, r.Opening)
	r.judgeTension(finding.OverDoor, finding.OverDoor, r.worstDoor().Tension)
	for _, s := range r.notBorne {
		r.Over.Add(s)
	}
	r.judgeInside()
	r.Within = !slices.ContainsFunc(r.Over, programMatters)
}

// judgeTension notes a tension that exceeds its pair: over where average glass does,
// not proven where only the worst case does. Written so that a number that is
// none exceeds every limit.
func (r *PieceReport) judgeTension(over, unproven finding.Kind, b Tension) {
	switch v := b.Pair.Judge(b.Expected, b.Worst); {
	case b.Pair == spread.Pair{}, v == spread.Within:
	case v == spread.NotProven:
		f := finding.Of(unproven).Pulled(b.Worst, b.Pair.Worst)
		if len(b.Why.Parts) > 0 {
			f.Name, f.Like = string(b.Why.Parts[0].Of), b.Why.Parts[0].Answer
		}
		r.Over.Add(f)
	default:
		f := finding.Of(over).Pulled(b.Expected, b.Pair.Expected)
		if b.Expected <= b.Pair.Expected { // a limit that a person gave
			f = f.Pulled(b.Worst, b.Pair.Worst)
		}
		r.Over.Add(f)
	}
}

// simulateAll runs all pieces, identical ones once, and keeps their order.
func (f firing) simulateAll(ctx context.Context, pieces []piece.Piece, settings sim.Settings, like *Report, anew bool) ([]PieceReport, error) {
	reports := make([]PieceReport, len(pieces))
	first := map[piece.ThermalKey]int{}
	var different []int
	for i, p := range pieces {
		if _, seen := first[p.ThermalKey()]; !seen {
			first[p.ThermalKey()] = i
			different = append(different, i)
		}
	}
	err := parallel.Each(ctx, len(different), func(n int) (err error) {
		i := different[n]
		var known *PieceReport
		if like != nil {
			known = &like.Pieces[i]
		}
		if known != nil && f.far && known.farBelow(f.limits) {
			reports[i] = known.carried(f)
			return nil
		}
		reports[i], err = f.simulate(pieces[i], settings, known, anew)
		return err
	})
	if err != nil {
		return nil, err
	}
	for i, p := range pieces {
		if j := first[p.ThermalKey()]; i != j {
			reports[i] = reports[j]
			reports[i].Piece = p
			reports[i].SpanPeak, reports[i].SpanUse = slices.Clone(reports[j].SpanPeak), slices.Clone(reports[j].SpanUse)
		}
	}
	// What a piece bears is its own: equal numbers, not equal verdicts.
	for i, p := range pieces {
		reports[i].notBorne = f.notBorne(p)
	}
	return reports, nil
}
