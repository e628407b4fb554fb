package verify

import (
	"context"
	"errors"
	"math"
	"slices"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/rule"
	"lehr/anneal/sim"
	"lehr/anneal/sim/plane"
	"lehr/anneal/spread"
	"lehr/glass/unit"
)

// Report is the answer to a plan or a verification.
type Report struct {
	Load     *piece.Load
	Studio   kiln.Studio
	Limits   kiln.Limits
	Schedule program.Schedule
	// Actual is the program as the kiln can follow it: the hours of the report.
	// Nominal is the program that the pieces were computed for: exactly as keyed
	// in, unless the kiln was measured.
	Actual, Nominal program.Timeline
	Pieces          []PieceReport
	// Within says that every piece keeps its limits; see Verdict for what was not
	// judged.
	Within      bool
	Rule        string // the rule it was planned by, "" for a program that was given
	Assumptions finding.List
	Sources     finding.Sources
	// Reasons says why each segment is as it is, one per segment; empty for a
	// program that was given.
	Reasons []finding.List
	// Questions says what not knowing something costs; empty where nobody asked.
	Questions finding.List
	// Mend is the smallest change with which a given program keeps its limits; empty
	// where it keeps them, or none was found.
	Mend  finding.List
	Notes finding.List // what the reader should know first, such as a kiln that lags
	Ready *Ready       // whether it is ready by a time of day, nil if nobody asked
	// Replayed says that Schedule is what a kiln did, one segment for each line
	// between readings, not what it was told.
	Replayed bool
	// Kilns is what the program comes to in the kilns that one which nobody measured
	// may be, the quickest first; empty for a measured one.
	Kilns []InKiln
	// Shortest compares it with what else is possible, nil if nobody searched.
	Shortest *Shortest

	others []*Report // of Kilns, until their uses are known
	whole  float64   // what these are multiplied by, 0 for 1
}

// copied is the report with all of its own that the steps below change: a report that
// was given out stays as it is.
func (rep *Report) copied() *Report {
	c := *rep
	c.Pieces, c.Sources, c.others = slices.Clone(rep.Pieces), slices.Clone(rep.Sources), slices.Clone(rep.others)
	for i, other := range c.others {
		c.others[i] = other.copied()
	}
	for i := range c.Pieces {
		r := &c.Pieces[i]
		r.Decides = slices.Clone(r.Decides)
		r.SpanPeak, r.SpanUse, r.Doors = slices.Clone(r.SpanPeak), slices.Clone(r.SpanUse), slices.Clone(r.Doors)
	}
	c.Kilns, c.Notes, c.Assumptions = slices.Clone(rep.Kilns), slices.Clone(rep.Notes), slices.Clone(rep.Assumptions)
	c.Reasons = slices.Clone(rep.Reasons)
	for i, why := range c.Reasons {
		c.Reasons[i] = slices.Clone(why)
	}
	return &c
}

// Ends returns the clock time at the end and how many midnights lie before it;
// ok is false when the load does not say when it starts.
func (rep *Report) Ends() (end unit.Clock, days int, ok bool) {
	if rep.Load.Start == nil {
		return 0, 0, false
	}
	end, days = rep.Load.Start.Add(rep.Actual.Total())
	return end, days, true
}

// Program simulates a given program in every piece of the load and judges it by
// the limits, or those of the studio where they are zero.
// A kiln that nobody measured is taken to follow the program exactly and to fall
// with any time constant from [kiln.QuickestFall] to [kiln.SlowestFall]; the worst counts.
//
// Errors as Plan and those of the schedule itself.
func Program(ctx context.Context, s program.Schedule, l *piece.Load, st kiln.Studio, limits kiln.Limits) (*Report, error) {
	limits = limits.Or(st.Limits)
	if err := limits.Check(); err != nil {
		return nil, err
	}
	if err := s.Check(); err != nil {
		return nil, err
	}
	if err := s.Bears(st.Kiln); err != nil {
		return nil, err
	}
	rep, err := Judge(ctx, s, l, st, limits, sim.Settings{}, nil)
	var notMeasured *program.UnmeasuredError
	if errors.As(err, &notMeasured) {
		if rep, err = unmeasured(ctx, s, l, st, limits); err != nil {
			return nil, err
		}
		return Completed(ctx, rep)
	}
	if err != nil {
		return nil, err
	}
	if rep, err = AsBodies(ctx, rep); err != nil {
		return nil, err
	}
	if rep, err = OverKilns(ctx, rep); err != nil {
		return nil, err
	}
	if err := rep.refineKilns(ctx); err != nil {
		return nil, err
	}
	return Completed(ctx, rep)
}

// secondOpinion asks the closed forms about the same program, as the kiln
// follows it. They have none about one that heats again after the soak.
func (r *PieceReport) secondOpinion(f firing, l kiln.Limits) error {
	b := r.Body
	q := rule.Request{Glass: r.Piece.Glass, Shape: b.Form, Size: b.Size, OneFace: b.OneFace,
		DesignCooling: l.Tension, DesignResidual: l.Residual, TensionFactor: b.TensionFactor, ResidualFactor: b.ResidualFactor}
	soak := soakSegment(f.schedule, r.Piece)
	if soak < 0 {
		return nil
	}
	stages, ok := stagesFrom(f.timeline, f.timeline.Spans[soak].End)
	if !ok {
		return nil
	}
	cooling, residual, err := rule.Implied(q, stages)
	if err != nil {
		return nil // outside the closed forms: they have no opinion
	}
	r.ClosedPeak, r.ClosedResidual = cooling, residual
	return nil
}

// stagesFrom returns the program from a moment [s] on as stages of the closed
// forms, the first one only the temperature there. ok is false if it heats.
func stagesFrom(t program.Timeline, from float64) (out []rule.Stage, ok bool) {
	at := program.Point{Time: from, Temp: t.At(from)}
	out = []rule.Stage{{To: unit.Kelvin(at.Temp)}}
	for _, p := range t.Points {
		dt, d := p.Time-at.Time, p.Temp-at.Temp
		switch {
		case dt <= rounding:
			continue
		case d > rounding:
			return nil, false
		case d < -rounding:
			out = append(out, rule.Stage{Rate: unit.Rate(d / dt), To: unit.Kelvin(p.Temp)})
		default:
			out = append(out, rule.Stage{To: unit.Kelvin(p.Temp), Hold: unit.Seconds(dt)})
		}
		at = p
	}
	return out, true
}

// differs reports whether simulation and closed form differ by more than two
// times where either matters (above a tenth of its limit), and in what.
func (r PieceReport) differs(l kiln.Limits) (f finding.Finding, ok bool) {
	apart := func(a, b, limit unit.Stress) bool {
		x, y := math.Abs(float64(a)), math.Abs(float64(b))
		return math.Max(x, y) > 0.1*float64(limit) && (x > 2*y || y > 2*x)
	}
	if r.ResidualJudged && r.ClosedResidual > 0 && apart(r.Residual, r.ClosedResidual, l.Residual) {
		return finding.Of(finding.ClosedFormDiffers).Pulled(r.Residual, r.ClosedResidual).Which(true), true
	}
	if r.ClosedPeak > 0 && apart(r.Peak, r.ClosedPeak, l.Tension) && r.PeakPlace.AtSurface() {
		return finding.Of(finding.ClosedFormDiffers).Pulled(r.Peak, r.ClosedPeak), true
	}
	return finding.Finding{}, false
}

// noteClosedForms has the notes about closed forms say of each piece what the report
// says of it by now: they stay where they are, and new ones come last.
func (rep *Report) noteClosedForms() {
	for i, r := range rep.Pieces {
		at := slices.IndexFunc(rep.Notes, func(f finding.Finding) bool { return f.Kind == finding.ClosedFormDiffers && f.Piece == i })
		switch d, differs := r.differs(rep.Limits); {
		case !differs && at >= 0:
			rep.Notes = slices.Delete(rep.Notes, at, at+1)
		case differs && at >= 0:
			rep.Notes[at] = d.In(i)
		case differs:
			rep.Notes.Add(d.In(i))
		}
	}
}

// unsaidAbove is how far above the hottest reading of a measured fall a program may
// begin without a word: a kiln that is switched off hotter passes it in minutes.
const unsaidAbove unit.Delta = 20

// explain lists what every report must say about its own footing.
func (rep *Report) explain(f firing) {
	k := rep.Studio.Kiln
	say := rep.Assumptions.Add
	if k.Measured {
		say(finding.Of(finding.FallMeasured))
	} else {
		say(finding.Of(finding.FallGuessed).Lasting(k.Fall.TimeConstant, 0))
	}
	if hottest := rep.Schedule.Hottest(); k.Fall.Points > 0 && hottest.Sub(k.Fall.From) > unsaidAbove {
		say(finding.Of(finding.BeyondMeasured).At(hottest))
	}
	if len(f.offsets) > 1 {
		say(finding.Of(finding.PlacesDiffer).Apart(unit.Delta(f.offsets[1])))
	} else {
		say(finding.Of(finding.PlacesEven))
	}
	say(finding.Of(finding.WorstVariants))
	rep.sayGivenLimits()
	for _, i := range rep.Schedule.Guessed(k) {
		guess := finding.OfSegment(finding.HeatsAsGuessed, i).Falling(rep.Schedule.Segments[i].Rate)
		rep.Notes.Add(guess)
		say(guess)
	}
	if !k.HeatingGiven && k.Measured && rep.Schedule.Heats() {
		say(finding.Of(finding.HeatsAsProgrammed))
	}
	for _, late := range rep.lateness() {
		rep.Notes.Add(late)
	}
	rep.noteAfter()
	rep.explainEnergy()

	for i, span := range rep.Actual.Spans {
		if to := rep.Schedule.Segments[i].To; to.Less(span.From) && to.Less(k.Fall.Room.Add(program.NearRoom)) {
			rep.Notes.Add(finding.Of(finding.DownToRoom).At(to))
			break
		}
	}
	if last := rep.Schedule.Segments[len(rep.Schedule.Segments)-1].To; !f.finished {
		rep.Notes.Add(finding.Of(finding.NotJudgedToEnd).At(last))
	}
	rep.noteOtherScale()
	rep.noteHazards()
	for i, r := range rep.Pieces {
		rep.explainPiece(f, i, r)
	}
	rep.noteLightUnsaid()
	rep.explainFlame(f)
	rep.sayOneGlass()
	if rep.Load.Into == piece.ColdKiln && slices.ContainsFunc(rep.Load.Pieces, func(p piece.Piece) bool { return p.Wear != spread.Doubtful }) {
		rep.Notes.Add(finding.Of(finding.NoStressBefore))
	}
	for _, s := range sources {
		rep.Sources.Add(s)
	}
	for _, p := range rep.Load.Pieces {
		for _, s := range sourcesOf(p.Glass, rep.Limits) {
			rep.Sources.Add(s)
		}
	}
}

// sayGivenLimits says which limits a person gave, in the place of the
// published ones: a kiln's factor reaches a program by them alone.
func (rep *Report) sayGivenLimits() {
	given, used := rep.Studio.Limits, rep.Limits
	if given.TensionGiven && used.Tension == given.Tension {
		rep.Assumptions.Add(finding.Of(finding.TensionLimitGiven).Pulled(given.Tension, 0))
	}
	if given.ResidualGiven && used.Residual == given.Residual {
		rep.Assumptions.Add(finding.Of(finding.ResidualLimitGiven).Pulled(given.Residual, 0))
	}
}

// worthSaying is the share of a worst case from which a question is put to the
// person who can answer it.
const worthSaying = 0.03

// noteLightUnsaid says what would be gained by saying how clear a piece is, for the
// piece nearest to its limits of those for which it matters.
func (rep *Report) noteLightUnsaid() {
	question, most := finding.Finding{}, 0.0
	for i, r := range rep.Pieces {
		for j, b := range []Tension{r.Tension, r.ResidualTension} {
			for _, part := range b.Why.Parts {
				gain := part.Costs / b.Why.Factor
				if part.Of == spread.Light && gain >= worthSaying && b.Use > most {
					question, most = finding.OfPiece(finding.LightUnsaid, i).Counting(gain).Which(j == 1), b.Use
				}
			}
		}
	}
	if most > 0 {
		rep.Notes.Add(question)
	}
}

// untested reports whether the rule for the shape of a piece was compared with
// nothing outside.
func (r PieceReport) untested() bool {
	p := r.Piece
	if p.Textbook || r.ratios.known() {
		return false
	}
	if p.Shape == piece.SphereShape && p.Wall > 0 {
		return true
	}
	if p.Shape == piece.DomeShape && plane.Dome(float64(p.Across), float64(p.Size), p.Resting != piece.Raised).Basis == plane.Untested {
		return true
	}
	return r.Basis == plane.Untested
}

// explainPiece lists what a report must say about a piece and its glass.
func (rep *Report) explainPiece(f firing, i int, r PieceReport) {
	say := rep.Assumptions.Add
	say(finding.OfPiece(finding.BodyOf, i))
	if most := r.Piece.LongestSoak; most > 0 {
		say(finding.OfPiece(finding.SoakCounted, i).Lasting(0, most))
	}
	if r.Piece.Textbook {
		rep.Notes.Add(finding.OfPiece(finding.TextbookOnly, i))
	}
	if k := r.ratios; k.known() {
		say(finding.OfPiece(finding.SectionComputed, i).Counting(k.surface).Pulled(unit.Stress(k.residual), 1))
	}
	if r.untested() {
		say(finding.OfPiece(finding.ShapeUntested, i))
	}
	rep.explainInside(i, r)
	if d, differs := r.differs(rep.Limits); differs {
		rep.Notes.Add(d.In(i))
	}
	g := r.Piece.Glass
	for _, s := range f.beyond(g) {
		say(s)
	}
	if g.Anneal.Known() && g.Pin == nil {
		say(finding.OfGlass(finding.AnnealingPoint, g.Name).At(g.Anneal.Temp()).Apart(unit.Delta(g.Anneal.Spread)))
	}
	if g.StressOptic.Number < 0 {
		say(finding.OfGlass(finding.NegativeOptic, g.Name))
	}
	if g.BorrowsSpectra() {
		say(finding.OfGlass(finding.SpectraBorrowed, g.Name))
	}
	if !g.ExpansionLiquid.Known() {
		say(finding.OfGlass(finding.NoRelaxation, g.Name))
	}
}

// ActualTime turns a moment of the nominal program [s] into the same moment of the
// program as the kiln follows it: the same share of the same ramp or hold.
func (rep *Report) ActualTime(nominal float64) float64 {
	for i, a := range rep.Nominal.Spans {
		b := rep.Actual.Spans[i]
		switch {
		case nominal <= a.RampEnds && a.RampEnds > a.Start:
			// The same temperature: the kiln is there when it gets there.
			kelvin := rep.Nominal.At(nominal)
			return rep.Actual.When(kelvin, b.Start, b.RampEnds)
		case nominal <= a.End:
			return b.RampEnds + (nominal - a.RampEnds)
		}
	}
	return rep.Actual.Points[len(rep.Actual.Points)-1].Time
}

// actualTimeline is the program as the kiln can follow it, for the hours.
func actualTimeline(s program.Schedule, k kiln.Kiln) program.Timeline { return s.As(&k) }
