package verify

import (
	"fmt"
	"math"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/seal"
	"lehr/anneal/seal/contents"
	"lehr/anneal/sim"
	"lehr/anneal/spread"
	"lehr/glass/unit"
)

// Pull is a tension in average glass and in the worst case.
type Pull struct{ Expected, Worst unit.Stress }

// Inside is what lies in a piece and the program do to it together, each tension
// at one place and one moment. The misfit of its worst case is the upper end of
// its range, and compression by the program counts for nothing there.
type Inside struct {
	Misfit seal.Report // by what the program makes of the temperature at its place
	Limit  unit.Stress // what the outer surface may carry for good
	// Alone is the greatest misfit at the surface, Together the greatest there with
	// the program, at Time [s] in Segment; Stays what both leave.
	Alone, Together, Stays Pull
	Time                   float64
	Segment                int
	Carrier                string // the material that carries it
	Buried                 []Buried
	middle                 bool   // the first stone lies in the middle
	other                  string // the first material in it that is not its clear glass
}

// Buried is the tension at a place inside, which no limit is known for.
type Buried struct {
	Place    seal.Place
	Together unit.Stress // greatest, worst case
	Time     float64     // [s]
}

// longLimit is what the outer surface of a piece may carry for good: that of its
// glass, less where the piece must bear more, and that of a person who gives one.
func longLimit(g *Group, l kiln.Limits) unit.Stress {
	if l.TensionGiven { // the margin of a planner is none for what no program changes
		return l.Tension / unit.Stress(l.Share())
	}
	limit := unit.Stress(contents.SurfaceLimit(g.Piece.Glass).Number)
	for _, x := range spread.Limits() {
		if x.Key == "left-surface" {
			limit *= x.At(0, g.Piece.Wear).Worst / x.At(0, spread.Ordinary).Worst
		}
	}
	return limit
}

// pulls is what the program does at one moment, in average glass: to the surface,
// and to the middle of the body.
type pulls struct {
	time            float64
	surface, middle float64
	segment         int
}

// middleFrom is the depth of a stone, in percent of the size of its body, from which
// it lies in the middle, half of the size down: nobody places it to 2 % of that.
const middleFrom = 49

// bookInside computes what lies in a piece at one place in the kiln, and keeps
// the worse.
func (r *PieceReport) bookInside(f firing, g *Group, off float64, l loads, settings sim.Settings) error {
	samples, o, err := f.average(g, off, settings)
	if err != nil {
		return err
	}
	body, err := g.Piece.SealBody()
	if err != nil {
		return err
	}
	in := Inside{Limit: longLimit(g, f.limits)}
	if all := g.Piece.Contents.Inside; len(all) > 0 {
		in.middle = all[0].Depth == 0 || all[0].Depth > body.Size*middleFrom/100
	}
	in.other = g.Piece.Contents.Other(g.Piece.Glass.Name)
	problem := seal.Problem{Clear: g.Piece.Glass, Body: body, Contents: g.Piece.Contents, Limit: in.Limit,
		At: func(depth float64) seal.History { return seal.HistoryAt(samples, g.depth(body, depth)) }}
	in.Misfit, err = problem.Judge()
	if err != nil {
		return fmt.Errorf("%s: %w", g.Piece.What, err)
	}
	during := f.during(g, samples, o, l)
	in.bookSurface(f, during, l, o)
	if in.Together.Worst > in.Limit { // what must change, with the program as it is
		problem.Already = max(0, in.Together.Worst-in.Alone.Worst)
		again, err := problem.Judge()
		if err != nil {
			return fmt.Errorf("%s: %w", g.Piece.What, err)
		}
		in.Misfit.Greatest, in.Misfit.LeastCover = again.Greatest, again.LeastCover
	}
	in.bookBuried(f, g, body, during, l, o)
	in.limitSpans(r, during, l.worst.surface.Factor)
	if r.Inside == nil || in.worse(r.Inside) {
		r.Inside = &in
	}
	return nil
}

// average runs the middle variant of a piece again and returns its history.
func (f firing) average(g *Group, off float64, settings sim.Settings) (samples []sim.Sample, o sim.Outcome, err error) {
	p := f.averageProblem(g, off, 0)
	if g.outline != nil {
		p.Body = g.outline.Slab()
	}
	settings.Record = func(s sim.Sample) { samples = append(samples, s) }
	res, err := sim.Run(p, settings)
	if err != nil {
		return nil, o, fmt.Errorf("%s: %w", g.Piece.What, err)
	}
	return samples, res.Outcomes[0], nil
}

// depth turns a relative depth of the piece into one of the body that stands for
// it, as far below the surface.
func (g *Group) depth(b seal.Body, rho float64) float64 {
	below := (1 - rho) * float64(b.Size) / 2
	outer := g.Body.Sim.Outer
	if g.outline != nil {
		outer = g.outline.Slab().Outer
	}
	return math.Min(1, math.Max(0, 1-below/outer))
}

// during lists what the program does to a piece, raised by its bed. The rim of a
// flat piece is known by segment alone: there the greatest of each counts all
// through it.
func (f firing) during(g *Group, samples []sim.Sample, o sim.Outcome, l loads) []pulls {
	raise := ratio(l.middle.surface.stress, o.Surface.Tension)
	inside := g.Body.TensionFactor
	out := make([]pulls, 0, len(samples))
	span := 0
	for _, s := range samples {
		for span < len(f.kinks)-1 && s.Time > f.kinks[span]*(1+rounding) {
			span++
		}
		surface := s.SurfaceStress
		switch {
		case g.outline != nil:
			surface = math.Max(surface, l.middle.surface.bySpan[span])
		case surface > 0:
			surface *= raise
		}
		middle := s.CenterStress
		if middle > 0 {
			middle *= inside
		}
		out = append(out, pulls{s.Time, surface, middle, f.kinkSeg[span]})
	}
	return out
}

// share is how much of the misfit there is at a moment.
func (in *Inside) share(seconds float64) float64 {
	if !(in.Misfit.Falls.Fall > 0) {
		return 1
	}
	return math.Max(0, float64(in.Misfit.Falls.At(seconds)/in.Misfit.Falls.Fall))
}

// together adds what the program does to a misfit: average glass as it is, the
// worst case without what compression takes away, by either.
func together(misfit seal.Range, share, program, factor float64) Pull {
	return Pull{unit.Stress(float64(misfit.Expected)*share + program), unit.Stress(math.Max(0, float64(misfit.High)*share) + math.Max(0, program*factor))}
}

// bookSurface finds the greatest tension of program and misfit at the surface.
func (in *Inside) bookSurface(f firing, during []pulls, l loads, o sim.Outcome) {
	place, ok := in.Misfit.AtSurface()
	if !ok {
		return
	}
	if in.loose() { // then it presses nothing
		place.Hoop.Expected, place.Hoop.High = max(0, place.Hoop.Expected), max(0, place.Hoop.High)
	}
	in.Alone, in.Carrier = Pull{place.Hoop.Expected, place.Hoop.High}, place.In
	see := func(p Pull, time float64, segment int) {
		in.Together.Expected = max(in.Together.Expected, p.Expected)
		if p.Worst > in.Together.Worst {
			in.Together.Worst, in.Time, in.Segment = p.Worst, time, segment
		}
	}
	in.Together = Pull{unit.Stress(math.Inf(-1)), unit.Stress(math.Inf(-1))}
	for _, d := range during {
		see(together(place.Hoop, in.share(d.time), d.surface, l.worst.surface.Factor), d.time, d.segment)
	}
	in.Stays = in.Alone
	if f.cools {
		n := len(o.Residual.Plane) - 1
		residual := math.Max(o.Residual.Plane[n], o.Residual.Axial[n])
		if residual > 0 {
			residual *= ratio(l.middle.residual, o.Residual.MaxTension())
		}
		in.Stays = together(place.Hoop, 1, residual, l.worst.residualSurface.Factor)
	}
	see(in.Stays, f.kinks[len(f.kinks)-1], len(f.schedule.Segments)-1)
}

// cracks reports whether something in the piece, or its surface, cannot hold.
func (in *Inside) cracks() bool {
	_, ok := in.Misfit.Find(seal.Cracks)
	return ok
}

// worse reports whether it is the worse of two: by what cracks, then by the surface.
func (in *Inside) worse(b *Inside) bool {
	if in.cracks() != b.cracks() {
		return in.cracks()
	}
	return in.Together.Worst > b.Together.Worst
}

// loose reports whether the glass pulls something loose.
func (in *Inside) loose() bool {
	_, ok := in.Misfit.Find(seal.PullsLoose)
	return ok
}

// bookBuried does the same at every place inside.
func (in *Inside) bookBuried(f firing, g *Group, b seal.Body, during []pulls, l loads, o sim.Outcome) {
	for _, p := range in.Misfit.Places {
		if p.Kind.AtSurface() || p.Kind == seal.InFoil {
			continue
		}
		rho := g.depth(b, p.Depth)
		at := func(surface, middle float64) float64 { return middle + (surface-middle)*rho*rho }
		worst := Buried{Place: p, Together: unit.Stress(math.Inf(-1))}
		for _, d := range during {
			if s := together(p.Hoop, in.share(d.time), at(d.surface, d.middle), l.worst.inside.Factor).Worst; s > worst.Together {
				worst.Together, worst.Time = s, d.time
			}
		}
		if f.cools {
			n := len(o.Residual.Plane) - 1
			residual := at(math.Max(o.Residual.Plane[n], o.Residual.Axial[n]), math.Max(o.Residual.Plane[0], o.Residual.Axial[0])) * g.Body.ResidualFactor
			if s := together(p.Hoop, 1, residual, l.worst.residual.Factor).Worst; s > worst.Together {
				worst.Together, worst.Time = s, f.kinks[len(f.kinks)-1]
			}
		}
		in.Buried = append(in.Buried, worst)
	}
}

// leastRoom is the share of the limit that a misfit must leave for the program,
// or the program is not slowed for it: it would take days, for little.
const leastRoom = 0.2

// helps reports whether a slower program can bring the surface within its limit.
func (in *Inside) helps() bool {
	return in.Alone.Worst <= unit.Stress(1-leastRoom)*in.Limit
}

// limitSpans lets each segment use up what the misfit leaves of the limit, for
// whoever slows the program.
func (in *Inside) limitSpans(r *PieceReport, during []pulls, factor float64) {
	if !in.helps() || in.Carrier == "" {
		return
	}
	for _, d := range during {
		share := unit.Stress(in.share(d.time))
		program := unit.Stress(d.surface)
		use := math.Max(float64(program/(in.Limit-in.Alone.Expected*share)), float64(program*unit.Stress(factor)/(in.Limit-in.Alone.Worst*share)))
		if use > r.SpanUse[d.segment] {
			r.SpanUse[d.segment], r.SpanPeak[d.segment] = use, float64(program)*factor
		}
	}
}

// judgeInside says what cracks, and holds the surface against its limit, with what
// opening the kiln does there.
func (r *PieceReport) judgeInside() {
	in := r.Inside
	if in == nil {
		return
	}
	if f, ok := in.Misfit.Find(seal.Cracks); ok {
		r.Over.Add(finding.Of(finding.MisfitCracks).Named(f.Of).Pulled(f.Stress, seal.StrengthReached))
	}
	if in.Carrier == "" {
		return
	}
	all := in.Together
	if r.Opened > 0 {
		all.Expected = max(all.Expected, in.Alone.Expected+r.Opening.Expected)
		all.Worst = max(all.Worst, in.Alone.Worst+r.Opened)
	}
	add := func(k finding.Kind, s, misfit unit.Stress) {
		r.Over.Add(finding.OfGlass(k, in.Carrier).Pulled(s, in.Limit).Also(misfit, 0).Which(in.helps()))
	}
	switch {
	case !(in.Alone.Expected <= in.Limit):
		add(finding.MisfitOver, in.Alone.Expected, in.Alone.Worst)
	case !(all.Expected <= in.Limit):
		add(finding.TogetherOver, all.Expected, in.Alone.Expected)
	case !(in.Alone.Worst <= in.Limit):
		add(finding.MisfitUnproven, in.Alone.Worst, in.Alone.Worst)
	case !(all.Worst <= in.Limit):
		add(finding.TogetherUnproven, all.Worst, in.Alone.Worst)
	}
}

// programMatters reports whether another program may do away with a finding.
func programMatters(f finding.Finding) bool {
	switch f.Kind {
	case finding.RimNotComputed, finding.OverDoor, finding.MisfitCracks, finding.MisfitOver, finding.MisfitUnproven:
		return false
	case finding.TogetherOver, finding.TogetherUnproven:
		return f.Yes
	}
	return true
}
