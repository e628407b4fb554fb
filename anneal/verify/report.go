package verify

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/rule"
	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// Report is the answer to a plan or a verification.
type Report struct {
	Load     *piece.Load
	Studio   kiln.Studio
	Limits   kiln.Limits
	Schedule program.Schedule
	// Clock is the program as the kiln can follow it: the hours of the report.
	// Told is the program exactly as keyed in.
	Actual, Nominal program.Timeline
	Pieces          []PieceReport
	Within          bool
	// Unjudged says that the program ends too hot for what follows to be judged;
	// Within is false then.
	Unjudged    bool
	Rule        string // the rule it was planned by, "" for a program that was given
	Assumptions []string
	Sources     []string
	// Reasons says why each segment is as it is, one per segment; empty for a
	// program that was given.
	Reasons []string
	Notes   []string // what the reader should know first, such as a kiln that lags
	Ready   *Ready   // whether it is ready by a time of day, nil if nobody asked
	// Shortest compares it with what else is possible, nil if nobody searched.
	Shortest *Shortest
}

// Assume notes what the report assumes, once.
func (rep *Report) Assume(s string) {
	if s != "" && !slices.Contains(rep.Assumptions, s) {
		rep.Assumptions = append(rep.Assumptions, s)
	}
}

// AddSource names a source of the report, once.
func (rep *Report) AddSource(s string) {
	if s != "" && !slices.Contains(rep.Sources, s) {
		rep.Sources = append(rep.Sources, s)
	}
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
// Errors as Plan, those of the schedule itself, and *UnmeasuredError.
func Program(ctx context.Context, s program.Schedule, l *piece.Load, st kiln.Studio, limits kiln.Limits) (*Report, error) {
	limits = limits.Or(st.Limits)
	if err := limits.Check(); err != nil {
		return nil, err
	}
	if err := s.Check(); err != nil {
		return nil, err
	}
	return Judge(ctx, s, l, st, limits, DefaultSettings)
}

// Judge is the one place where a program is judged: it simulates
// exactly the numbers given.
func Judge(ctx context.Context, s program.Schedule, l *piece.Load, st kiln.Studio, limits kiln.Limits, settings sim.Settings) (*Report, error) {
	s, err := s.Fulfilled(st)
	if err != nil {
		return nil, err
	}
	f := newFiring(s, st, l)
	pieces, err := f.simulateAll(ctx, l.Pieces, settings)
	if err != nil {
		return nil, err
	}
	at, opens := f.opensAt(st)
	if opens = opens && l.Into != piece.WarmOnly; opens {
		if err := f.open(ctx, pieces, settings); err != nil {
			return nil, err
		}
	}
	rep := &Report{Load: l, Studio: st, Limits: limits, Schedule: s, Pieces: pieces, Within: true,
		Actual: clock(s, st.Kiln), Nominal: f.timeline}
	for i := range rep.Pieces {
		r := &rep.Pieces[i]
		r.judge(limits)
		r.judgeOpened(limits)
		rep.Within = rep.Within && r.Within
		if err := r.secondOpinion(f, limits); err != nil {
			return nil, err
		}
	}
	rep.explain(f)
	if opens {
		rep.noteOpened(at)
	}
	return rep, nil
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
	cooling, left, err := rule.Implied(q, stages)
	if err != nil {
		return nil // outside the closed forms: they have no opinion
	}
	r.ClosedPeak, r.ClosedResidual = cooling, left
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
		case dt <= 1e-9:
			continue
		case d > 1e-9:
			return nil, false
		case d < -1e-9:
			out = append(out, rule.Stage{Rate: unit.Rate(d / dt), To: unit.Kelvin(p.Temp)})
		default:
			out = append(out, rule.Stage{To: unit.Kelvin(p.Temp), Hold: time.Duration(dt * float64(time.Second))})
		}
		at = p
	}
	return out, true
}

// Differs reports whether simulation and closed form differ by more than two
// times where either matters (above a tenth of its limit).
func (r PieceReport) Differs(l kiln.Limits) string {
	apart := func(a, b, limit unit.Stress) bool {
		x, y := math.Abs(float64(a)), math.Abs(float64(b))
		return math.Max(x, y) > 0.1*float64(limit) && (x > 2*y || y > 2*x)
	}
	if r.ResidualAsked && r.ClosedResidual > 0 && apart(r.Residual, r.ClosedResidual, l.Residual) {
		return fmt.Sprintf("tension left: simulated %s, closed form %s", r.Residual.Text(unit.Metric), r.ClosedResidual.Text(unit.Metric))
	}
	if r.ClosedPeak > 0 && apart(r.Peak, r.ClosedPeak, l.Tension) && r.PeakPlace == AtSurface {
		return fmt.Sprintf("tension while cooling: simulated %s, closed form %s", r.Peak.Text(unit.Metric), r.ClosedPeak.Text(unit.Metric))
	}
	return ""
}

// explain lists what every report must say about its own footing.
func (rep *Report) explain(f firing) {
	sys := rep.Studio.Units
	k := rep.Studio.Kiln
	if k.Measured {
		rep.Assume("the kiln falls by itself " + k.Fall.Text(sys) + "; stress is computed for a fall one tenth faster, as on a night with less in the kiln")
	} else {
		rep.Assume("stress is computed for a kiln that follows the program exactly; the hours allow for a kiln that falls by itself with a time constant of " +
			unit.FormatDuration(k.Fall.TimeConstant) + " (common practice; give cooling_time_constant or cooling_points in the studio file)")
	}
	if k.Fall.Points > 0 && float64(rep.hottest().Sub(k.Fall.From)) > 20 {
		rep.Assume("the program begins hotter than the kiln's cooling was measured; its law is carried on up to " + rep.hottest().Text(sys))
	}
	if len(f.offsets) > 1 {
		rep.Assume("every piece was simulated at both ends of the kiln's error, " + unit.Delta(f.offsets[1]).Text(sys) + " hotter and colder than the reading at the hottest time")
	} else {
		rep.Assume("the kiln is taken to be as hot everywhere as its reading; give spread and probe_error in the studio file")
	}
	rep.Assume("worst case over the viscosity curves and the range of the liquid expansion of each glass")
	for _, g := range rep.Schedule.Guessed(k, sys) {
		rep.Notes = append(rep.Notes, g)
		rep.Assume(g)
	}
	if !k.HeatingGiven && k.Measured && rep.heats() {
		rep.Assume("stress is computed for a kiln that heats exactly as told: nobody gave its fastest_heating")
	}
	rep.Notes = append(rep.Notes, rep.lateness()...)
	rep.explainEnergy()

	for i, span := range rep.Actual.Spans {
		if to := rep.Schedule.Segments[i].To; to.Less(span.From) && to.Less(k.Fall.Room.Add(program.NearRoom)) {
			rep.Notes = append(rep.Notes, "the program leads down to "+to.Text(sys)+", the room; a kiln never quite gets there, so the last hours are an estimate")
			break
		}
	}
	last := rep.Schedule.Segments[len(rep.Schedule.Segments)-1].To
	rep.Unjudged = !f.finished
	if !f.finished {
		rep.Notes = append(rep.Notes, "the program ends at "+last.Text(sys)+": tension left and soak were not judged; write the rest of the cooling into the schedule, or off = true with the temperature at which the kiln is opened, to have them judged")
	}

	for _, r := range rep.Pieces {
		rep.Assume(r.Piece.What + ": " + r.Body.Text)
		rep.Assume(r.Body.Note)
		if most := r.Piece.LongestSoak; most > 0 {
			rep.Assume(r.Piece.What + ": bears a soak of " + unit.FormatDuration(most) + "; waiting before the program and slow cooling after the soak are not counted")
		}
		if d := r.Differs(rep.Limits); d != "" {
			rep.Notes = append(rep.Notes, r.Piece.What+": "+d+"; they differ by more than two times, the simulation decides")
		}
		g := r.Piece.Glass
		for _, s := range f.beyond(g) {
			rep.Assume(s)
		}
		if g.Anneal.Known() && g.Pin == nil {
			rep.Assume(fmt.Sprintf("%s: annealing point %s%s; if its maker's sheet says otherwise, put that into a glass file", g.Name, g.Anneal.Temp().Text(sys), plusMinus(g.Anneal.Spread, sys)))
		}
		if g.StressOptic.Number < 0 {
			rep.Assume(g.Name + ": its stress-optic coefficient is negative: tension looks as compression does in other glass; the retardation is given without its sign")
		}
		if !g.ExpansionLiquid.Known() {
			rep.Assume(g.Name + ": no liquid expansion known, so structural relaxation is left out")
		}
	}
	rep.Assume("each piece is of one glass: stress from an inclusion or a color that expands differently is not in these numbers, and no annealing removes it")
	if rep.Load.Into == piece.ColdKiln {
		rep.Assume("finished work goes in without stress of its own; what a poor first annealing left adds to the tension while heating")
	}
	rep.AddSource("uneven cooling of spheres and discs on a shelf: finite-element study [derived]")
	rep.AddSource("permissible tension of borosilicate 3.3, 7 N/mm²: EN 1595, as a maker's tubing sheet gives it [verified]")
	rep.AddSource("six-term relaxation of soda-lime glass: Duffrène and Gy, as used by Daudeville and Carré (1998), J. Thermal Stresses 21, 667 [corroborated]")
}

// plusMinus writes how far a temperature may be off, "" if that is not known.
func plusMinus(kelvin float64, sys unit.System) string {
	if kelvin == 0 {
		return ""
	}
	return " ± " + unit.Delta(kelvin).Text(sys)
}

// ActualTime turns a moment of the program as told [s] into the same moment of the
// program as the kiln follows it: the same share of the same ramp or hold.
func (rep *Report) ActualTime(told float64) float64 {
	for i, a := range rep.Nominal.Spans {
		b := rep.Actual.Spans[i]
		switch {
		case told <= a.RampEnds && a.RampEnds > a.Start:
			// The same temperature: the kiln is there when it gets there.
			kelvin := rep.Nominal.At(told)
			return rep.Actual.When(kelvin, b.Start, b.RampEnds)
		case told <= a.End:
			return b.RampEnds + (told - a.RampEnds)
		}
	}
	return rep.Actual.Points[len(rep.Actual.Points)-1].Time
}
