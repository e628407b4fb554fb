package plan

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/rule"
	"lehr/anneal/verify"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// Options choose how a program is planned.
type Options struct {
	Rule      string      // name of the rule, "" for the design-stress rule
	CountFull bool        // count a sphere at its whole diameter
	Limits    kiln.Limits // zero value: those of the studio

	quiet bool // nobody asks what rounding and controller cost: those are plans themselves
}

// ConflictError says why a load cannot share one program.
type ConflictError struct {
	Load    *piece.Load // that the findings are about
	Reasons finding.List
	Alone   bool // a piece is in conflict with itself: sharing is not to blame
}

// Error says that there is a conflict; the reasons are findings.
func (e *ConflictError) Error() string {
	if e.Alone {
		return "a piece needs more than it bears"
	}
	return "this load cannot share one program"
}

// Hint leads to the command that splits the load.
func (e *ConflictError) Hint() string { return e.Advice().String() }

// Advice is the hint as data.
func (e *ConflictError) Advice() strict.Advice {
	if e.Alone {
		return "raise {piece.longest_soak}, or {piece.hottest_soak} if it is given, as far as the piece bears it; of its time all above the strain point counts, that of cooling to it, too"
	}
	return "{split the fewest firings and what goes in each}"
}

// Plan proposes a program for the load, rounds it to the controller, simulates
// exactly the rounded program in every piece, and slows what exceeds a limit
// until nothing does or a bounded number of tries is used up; the report then
// says so. It never calls a program good that the simulation refuses.
//
// A margin of the limits is left unused where that is possible.
//
// Errors: *[ConflictError] when the pieces cannot share a program; *[rule.Error]
// and *[glass.RangeError] when the rule does not cover a piece; *[kiln.SlowError]
// when the controller cannot be set slowly enough; *[glass.MissingError] and
// *[piece.MissingError] when the rule or the simulation needs what is not known.
func Plan(ctx context.Context, l *piece.Load, st kiln.Studio, o Options) (*verify.Report, error) {
	rep, _, err := planned(ctx, l, st, o)
	return rep, err
}

// planned is [Plan], and answers the planner too.
func planned(ctx context.Context, l *piece.Load, st kiln.Studio, o Options) (*verify.Report, *planner, error) {
	if len(l.Pieces) == 0 {
		return nil, nil, errors.New("the load has no pieces")
	}
	aimed, to, limits := Aimed(st, o)
	if err := limits.Check(); err != nil {
		return nil, nil, err
	}
	pl := planner{stillSets: stillSets, ctx: ctx, load: l, st: aimed, o: to, limits: aimed.Limits}
	rep, err := pl.plan()
	if err == nil {
		rep = verify.Whole(rep, st, limits)
	}
	return rep, &pl, err
}

// plan plans for the limits of the planner. What the controller cannot be set for
// is an error with the nearest settings for which it can.
func (pl *planner) plan() (*verify.Report, error) {
	rep, err := pl.asSet()
	if err != nil && !pl.o.quiet {
		if pl.nearest(err); pl.ctx.Err() != nil {
			return nil, pl.ctx.Err()
		}
	}
	return rep, err
}

// asSet plans for the controller as it is set.
func (pl *planner) asSet() (*verify.Report, error) {
	if err := pl.require(); err != nil {
		return nil, err
	}
	if pl.load.Into == piece.WarmOnly {
		return pl.warm()
	}
	if err := pl.propose(); err != nil {
		return nil, err
	}
	if pl.inAll || !pl.climbs() {
		rep, err := pl.keyable()
		if pl.inAll || err != nil || !pl.climbs() {
			return rep, err
		}
	}
	return pl.inAnySegments()
}

// planner carries one plan from the requirements of the pieces to the report.
type planner struct {
	ctx          context.Context
	load         *piece.Load
	st           kiln.Studio
	o            Options
	limits       kiln.Limits
	requirements []requirement
	draft        draft
	longer       int           // times the soak was lengthened
	merged       bool          // ramps were joined for want of segments
	inAll        bool          // no fewer segments are tried than the controller has
	has          int           // segments of the controller, where it is planned for fewer
	anyDoes      bool          // it is only asked whether there is a program
	fewerTried   bool          // it was planned for one segment less
	chosen       *draft        // that it is planned from, where the rule's cannot be keyed in
	joined       bool          // what is chosen has ramps joined for want of segments
	most         time.Duration // how long a program is slowed at most, 0 for any
	own          bool          // bodies as they are are those of the program itself
	stillSets    unit.Delta    // how far below the set point a ramp counts for what is left
	asked        time.Duration // the soak before
	// ceiling is the hottest soak that the load bears, where that counts.
	ceiling unit.Temp
	// wanted is the soak that the kiln's highest temperature stood against, zero
	// if it did not.
	wanted unit.Temp
}

// require applies the rule to every piece.
func (pl *planner) require() error {
	name := pl.o.Rule
	if name == "" {
		name = rule.Stress
	}
	chosen, err := rule.Find(name)
	if err != nil {
		return err
	}
	for _, p := range pl.load.Pieces {
		b := p.Body()
		// What is left counts as tension too once the piece is even, raised as
		// tension is: where that limit is the tighter one, design for it.
		residual := min(pl.limits.Residual, pl.limits.Tension*unit.Stress(b.ResidualFactor/math.Max(b.TensionFactor, b.ResidualFactor)))
		res, err := chosen.Apply(rule.Request{Glass: p.Glass, Shape: b.Form, Size: b.Size, OneFace: b.OneFace, CountFull: pl.o.CountFull,
			DesignCooling: pl.limits.Tension, DesignResidual: residual, TensionFactor: b.TensionFactor, ResidualFactor: b.ResidualFactor})
		if err != nil {
			return &PieceError{p.What, err}
		}
		pl.requirements = append(pl.requirements, requirement{piece: p, rule: res, stages: res.Stages[1:], hold: res.Stages[0].Hold})
	}
	return nil
}

// soak chooses the common soak temperature and what each piece needs there.
func (pl *planner) soak() (unit.Temp, int, error) {
	pieces := pl.load.Pieces
	b, err := band(pieces, pl.st)
	if err != nil {
		return unit.Temp{}, 0, err
	}
	// One glass: the temperature its rule asks for, unless a piece bears less.
	want, by := pl.requirements[0].rule.Stages[0].To, 0
	for i, a := range pl.requirements {
		if to := a.rule.Stages[0].To; want.Less(to) {
			want, by = to, i
		}
	}
	glasses := map[string]bool{}
	for _, p := range pieces {
		glasses[p.Glass.Name] = true
	}
	ceiling := b.high.Add(-unit.Delta(b.margin))
	if len(glasses) > 1 || !pieces[b.highBy].HottestSoak.IsZero() {
		if b.width() < narrowest && len(glasses) > 1 {
			return want, 0, &ConflictError{Load: pl.load, Reasons: pl.bandReasons(b)}
		}
		pl.ceiling = ceiling
		if ceiling.Less(want) {
			want, by = ceiling, b.highBy
		}
	} else if ceiling.Less(want) && !pl.o.published() {
		want, by = ceiling, b.highBy
	}
	return pl.underHighest(want, by, b)
}

// underHighest keeps a soak to what the kiln is built for, and refuses a kiln in
// which a piece does not anneal: at its highest a published rule asks for more, or
// stress would not relax.
func (pl *planner) underHighest(want unit.Temp, by int, b soakBand) (unit.Temp, int, error) {
	most := pl.st.HighestSet()
	if most.IsZero() || !most.Less(want) {
		return want, by, nil
	}
	if pl.o.published() {
		return want, by, &PieceError{pl.load.Pieces[by].What, &HighestError{want, pl.st.Kiln.Highest}}
	}
	if least := b.low.Add(unit.Delta(b.margin)); most.Less(least) {
		return want, b.lowBy, &PieceError{pl.load.Pieces[b.lowBy].What, &HighestError{pl.st.Controller.Temp(least), pl.st.Kiln.Highest}}
	}
	pl.ceiling, pl.wanted = most, want
	return most, by, nil
}

// HighestError says that a kiln is not built for the soak that a piece needs.
type HighestError struct {
	Needs, Highest unit.Temp
}

func (e *HighestError) Error() string {
	return fmt.Sprintf("needs a soak at %s at least, and the highest temperature of the kiln is %s", unit.LimitFor(e.Highest, e.Needs), unit.AsTyped(e.Highest))
}

// Hint names what the person can do.
func (e *HighestError) Hint() string {
	return "anneal it in a kiln that goes that high, or correct highest in [kiln] of the studio file"
}

// bandReasons says why there is no common soak temperature.
func (pl *planner) bandReasons(b soakBand) (out finding.List) {
	out.Add(finding.OfPiece(finding.SoakBandLow, b.lowBy).At(b.low).Counting(piece.SoakSlowLog10))
	if q := pl.load.Pieces[b.highBy]; !q.HottestSoak.IsZero() && q.HottestSoak == b.high {
		out.Add(finding.OfPiece(finding.SoakBandHottest, b.highBy).At(b.high))
	} else {
		out.Add(finding.OfPiece(finding.SoakBandHigh, b.highBy).At(b.high).Counting(piece.SoakHotLog10))
	}
	if b.margin > 0 {
		out.Add(finding.Of(finding.SoakBandError).Apart(unit.Delta(b.margin)))
	}
	out.Add(finding.Of(finding.SoakBandNarrow).Apart(unit.Delta(narrowest)))
	return out
}

// propose composes the requirements into one program.
func (pl *planner) propose() error {
	soak, by, err := pl.soak()
	if err != nil {
		return err
	}
	for i := range pl.requirements {
		a := &pl.requirements[i]
		if own := a.rule.Stages[0].To; math.Abs(float64(own.Sub(soak))) > 0.5 {
			need, err := relaxTime(a.piece, soak.Add(-unit.Delta(float64(pl.st.Kiln.Spread)/2+float64(pl.st.Kiln.ProbeError))), pl.limits.Relaxed)
			if err != nil {
				return &PieceError{a.piece.What, err}
			}
			a.hold = max(need, a.hold)
			if soak.Less(own) && a.rule.Rule == rule.Stress {
				a.hold = need
			}
		}
	}
	pl.draft = compose(pl.requirements, soak, by)
	pl.draft.ceiling = pl.ceiling
	pl.heat()
	for i := range pl.requirements {
		if even := pl.evensOut(i); even > pl.draft.hold {
			pl.draft.hold, pl.draft.holdBy = even, i
		}
	}
	pl.asked = pl.draft.hold
	if err := pl.bearsSoak(); err != nil {
		return err
	}
	pl.open()
	return nil
}

// evensOut is the least soak after which a piece that went in hot is even with the
// kiln: what is left of that time when the kiln has reached the soak.
func (pl *planner) evensOut(i int) time.Duration {
	p := pl.draft
	even := verify.EvenAt(pl.requirements[i].piece, pl.load.Into, p.from)
	if d := float64(p.soak.Sub(p.from)); d > 0 {
		even -= unit.Seconds(d / p.heatRate)
	}
	return max(0, even)
}

// heat sets where the program begins and how fast it heats.
func (pl *planner) heat() {
	k := pl.st.Kiln
	pl.draft.from = pl.draft.soak
	switch {
	case pl.load.Into == piece.ColdKiln:
		pl.draft.from = k.Fall.Room
	case !k.Holding.IsZero():
		pl.draft.from = k.Holding
	}
	pl.draft.heatRate = pl.heatingLimit(pl.draft.from, pl.draft.soak)
	pl.draft.heatBy = pl.slowestHeater()
}

// heatingLimit is the fastest heating that kiln, controller and every piece
// bear all the way between two temperatures, by the closed forms.
func (pl *planner) heatingLimit(from, to unit.Temp) float64 {
	rate := math.Min(float64(pl.st.Kiln.FollowsHeating(from, to)), float64(pl.st.Controller.Fastest))
	for _, a := range pl.requirements {
		if h := float64(a.rule.HeatRate); h > 0 {
			rate = math.Min(rate, h)
		}
	}
	return rate
}

// open ends the program at the temperature at which the kiln may be opened.
func (pl *planner) open() {
	p := &pl.draft
	to := pl.st.Opening
	for len(p.ramps) > 1 && !to.Less(p.ramps[len(p.ramps)-2].to) {
		p.ramps = p.ramps[:len(p.ramps)-1]
	}
	p.ramps[len(p.ramps)-1].to = to
	lines := 1 + int(p.hold/pl.st.Controller.Longest) // the soak, in as many segments as it takes
	before := len(p.ramps)
	p.merge(max(1, pl.st.Controller.Segments-lines))
	pl.merged = len(p.ramps) < before && len(p.ramps)+lines >= pl.st.Controller.Segments
}

// quietly are the options for a plan that only its hours are asked of.
func (pl *planner) quietly() Options {
	o := pl.o
	o.quiet = true
	return o
}
