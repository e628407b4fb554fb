package verify

import (
	"context"
	"fmt"
	"math"
	"slices"

	"lehr/anneal/finding"
	"lehr/anneal/formula"
	"lehr/anneal/internal/parallel"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/unit"
)

// PieceReport is what a program does to one kind of piece, worst case over the
// uncertain properties of its glass and over the places in the kiln.
type PieceReport struct {
	Piece piece.Piece
	Body  piece.Body

	Peak            unit.Stress // greatest tension at any time, raised by Body.Tension
	PeakTime        float64     // [s]
	PeakPlace       Place
	PeakSegment     int         // index of the segment in which it occurs
	Opened          unit.Stress // greatest tension when the kiln is opened hot, raised by Body.Tension; 0 if it is not
	ResidualSurface unit.Stress // raised by Body.Left, as are the next two
	ResidualCenter  unit.Stress
	Residual        unit.Stress // greatest tension left anywhere
	Retardation     unit.Length // brightest place between crossed polarizers
	MaxLag          unit.Delta  // greatest difference between core and surface
	SoakLag         unit.Delta  // the same at the end of the soak
	Relaxed         float64     // least share of a starting stress relaxed by then
	SoakAsked       bool        // there is a soak to judge
	ResidualAsked   bool        // the program cools to the room, so that left stress means something
	Worst           string      // the reading of the properties that decided

	// ClosedPeak and ClosedLeft are the closed forms' opinion of the same
	// program, zero where they have none.
	ClosedPeak, ClosedResidual unit.Stress

	Within  bool              // every limit is kept; see Verdict for what was not judged
	Over    finding.List      // which limits are exceeded, and what was not judged
	Decides []program.Purpose // what of the program this piece decided

	SpanPeak  []float64    // greatest tension in each segment [Pa], raised
	EvenAsked bool         // the core must be even at the end of the soak
	notBorne  finding.List // what the program does that the piece does not bear
}

// DefaultSettings is the accuracy of the simulations inside the loop and of the
// last one, which is what the report shows.
var DefaultSettings = sim.Settings{}

// firing is a program ready to be simulated.
type firing struct {
	schedule program.Schedule
	timeline program.Timeline // what the pieces are taken to see
	cools    bool             // to the room, so that left stress means something
	finished bool             // what follows the program needs no judging
	offsets  []float64        // how far the place of a piece may differ from the reading [K]
	room     unit.Temp
	units    unit.System
	kinks    []float64
	kinkSeg  []int // segment of each kink
}

// newFiring prepares a schedule for the pieces that may see it.
func newFiring(s program.Schedule, st kiln.Studio, l *piece.Load) firing {
	f := firing{schedule: s, timeline: s.Followed(st), room: st.Kiln.Fall.Room, units: st.Units}
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

// simulate runs the firing for one piece and books the worst case.
func (f firing) simulate(p piece.Piece, settings sim.Settings) (PieceReport, error) {
	b := p.Body()
	r := PieceReport{Piece: p, Body: b, Relaxed: 1, Within: true, ResidualAsked: f.cools,
		Peak: -1, Residual: unit.Stress(math.Inf(-1)), SpanPeak: make([]float64, len(f.schedule.Segments))}
	k, err := newGroup(p)
	if err != nil {
		return r, err
	}
	mark, even, asked := f.soakMark(p)
	r.SoakAsked, r.EvenAsked = asked, even
	for _, off := range f.offsets {
		res, err := sim.Run(f.problem(k, k.variants, off, mark), fineEnough(p, f.schedule, settings))
		if err != nil {
			return r, fmt.Errorf("%s: %w", p.What, err)
		}
		r.book(f, res, asked)
	}
	return r, nil
}

// fineEnough raises the accuracy for a piece that starts hotter inside: its
// first minutes are a boundary layer.
func fineEnough(p piece.Piece, s program.Schedule, settings sim.Settings) sim.Settings {
	if !p.Core.IsZero() && p.Core != s.From {
		settings.Cells = max(settings.Cells, 64)
	}
	return settings
}

// beyond lists the properties of the glass that the program takes beyond the
// range they are known for; there they keep the value of the end.
func (f firing) beyond(g *glass.Glass) (out finding.List) {
	low, high := f.schedule.From, f.schedule.From
	for _, s := range f.schedule.Segments {
		if s.To.Less(low) {
			low = s.To
		}
		if high.Less(s.To) {
			high = s.To
		}
	}
	for _, p := range []struct {
		name string
		glass.Property
	}{{"conductivity", g.Conductivity}, {"specific heat", g.SpecificHeat}} {
		if p.Check(low) != nil && float64(p.Low.Sub(low)) > 30 || p.Check(high) != nil {
			out.Add(finding.OfGlass(finding.BeyondRange, g.Name).Family(p.name).At(p.Low).Against(p.High))
		}
	}
	return out
}

// book keeps the worse of what is known and one more run.
func (r *PieceReport) book(f firing, res sim.Result, marked bool) {
	b := r.Body
	r.MaxLag = max(r.MaxLag, unit.Delta(res.MaxLag))
	if marked && math.Abs(res.MarkLag) > math.Abs(float64(r.SoakLag)) {
		r.SoakLag = unit.Delta(res.MarkLag)
	}
	for _, o := range res.Outcomes {
		if peak := unit.Stress(o.Peak * b.TensionFactor); peak > r.Peak {
			r.Peak, r.PeakTime = peak, o.PeakTime
			r.PeakPlace = placeOf(b, o.PeakRho)
			r.Worst = o.Variant.Name
			for i, t := range f.kinks {
				if o.PeakTime <= t*(1+1e-9) {
					r.PeakSegment = f.kinkSeg[i]
					break
				}
			}
		}
		for i, s := range o.PeakBySpan {
			seg := f.kinkSeg[i]
			r.SpanPeak[seg] = math.Max(r.SpanPeak[seg], s*b.TensionFactor)
		}
		if marked {
			r.Relaxed = math.Min(r.Relaxed, 1-o.Unrelaxed)
		}
		if left := unit.Stress(o.Left.MaxTension() * b.ResidualFactor); left > r.Residual {
			n := len(o.Left.Plane) - 1
			r.Residual = left
			r.ResidualSurface = unit.Stress(math.Max(o.Left.Plane[n], o.Left.Axial[n]) * b.ResidualFactor)
			r.ResidualCenter = unit.Stress(math.Max(o.Left.Plane[0], math.Max(o.Left.Axial[0], o.Left.Radial[0])) * b.ResidualFactor)
			c := math.Abs(r.Piece.Glass.StressOptic.Number)
			r.Retardation = unit.Length(c * o.Left.PathStress(b.Sim, float64(r.Piece.Path())) * b.ResidualFactor)
			if f.cools && left > r.Peak { // while the piece evens out at the end
				r.Peak, r.PeakTime, r.PeakSegment = left, f.kinks[len(f.kinks)-1], len(f.schedule.Segments)-1
				_, rho := o.Left.Greatest()
				r.PeakPlace, r.Worst = placeOf(b, rho), o.Variant.Name
			}
		}
	}
}

// Place says where in a piece something is: its relative depth from the middle,
// 0, to the surface, 1.
type Place struct {
	Depth float64
	Inner Inner // what lies at depth 0
}

// Inner is what lies at the middle of a body.
type Inner int

// What the middle of a body may be.
const (
	Center     Inner = iota // of a sphere or rod
	Bore                    // of a tube
	ClosedFace              // of a slab that cools from one face
	Middle                  // of a slab that cools from both
)

// AtSurface reports whether the place is the surface.
func (p Place) AtSurface() bool { return p.Depth > 0.98 }

// AtInner reports whether the place is the middle.
func (p Place) AtInner() bool { return p.Depth < 0.02 }

// placeOf is a relative depth in a body.
func placeOf(b piece.Body, rho float64) Place {
	p := Place{Depth: rho}
	switch {
	case b.Sim.Inner > 0:
		p.Inner = Bore
	case b.OneFace:
		p.Inner = ClosedFace
	case b.Form == formula.FormSlab:
		p.Inner = Middle
	}
	return p
}

// judge compares the report with the limits.
func (r *PieceReport) judge(l kiln.Limits) {
	r.Over = nil
	// Written so that a number that is none exceeds every limit.
	const slack = 1 + 1e-9
	if !(r.Peak <= l.Tension*slack) {
		r.Over.Add(finding.Of(finding.OverTension).Pulled(r.Peak, l.Tension))
	}
	if r.ResidualAsked && !(r.Residual <= l.Residual*slack) {
		r.Over.Add(finding.Of(finding.OverResidual).Pulled(r.Residual, l.Residual))
	}
	if r.SoakAsked && r.ResidualAsked {
		if !(r.Relaxed >= l.Relaxed) {
			r.Over.Add(finding.Of(finding.OverRelaxed).Counting(r.Relaxed))
		}
		if r.EvenAsked && !(math.Abs(float64(r.SoakLag)) <= float64(l.Even)) {
			r.Over.Add(finding.Of(finding.OverEven).Apart(r.SoakLag))
		}
	}
	if !(r.Opened <= l.Tension*slack) {
		r.Over.Add(finding.Of(finding.OverOpening).Pulled(r.Opened, l.Tension))
	}
	for _, s := range r.notBorne {
		r.Over.Add(s)
	}
	r.Within = !slices.ContainsFunc(r.Over, func(f finding.Finding) bool { return f.Kind != finding.RimNotComputed })
}

// simulateAll runs all pieces, identical ones once, and keeps their order.
func (f firing) simulateAll(ctx context.Context, pieces []piece.Piece, settings sim.Settings) ([]PieceReport, error) {
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
		reports[i], err = f.simulate(pieces[i], settings)
		return err
	})
	if err != nil {
		return nil, err
	}
	for i, p := range pieces {
		if j := first[p.ThermalKey()]; i != j {
			reports[i] = reports[j]
			reports[i].Piece = p
			reports[i].SpanPeak = append([]float64(nil), reports[j].SpanPeak...)
		}
	}
	// What a piece bears is its own: equal numbers, not equal verdicts.
	for i, p := range pieces {
		reports[i].notBorne = f.notBorne(p)
	}
	return reports, nil
}

// clock is the program as the kiln can follow it, for the hours.
func clock(s program.Schedule, k kiln.Kiln) program.Timeline { return s.As(&k) }
