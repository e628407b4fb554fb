// Package shortest searches for the shortest program of a load that keeps every
// limit in the worst case, on the kiln and the controller of the studio.
//
// The search knows the structure of the problem: the tension left is nearly
// linear in the cooling rates, with a weight for each temperature that the
// simulation gives; tension while cooling is linear in the rate of the moment.
// So it finds the weights, chooses break temperatures and rates by dynamic
// programming, brings the program to its limits by simulation, and repeats. Then it
// follows the slopes of all numbers at once, in whole numbers, and changes single ones,
// and two or three of which one pays for the others; then it halves and joins ramps. Where
// the answer stays far from the floor, or the controller has few segments, it does all of
// this from other starts, and follows the slopes from other soaks.
//
// Most programs are simulated coarsely and only in the groups and variants that may
// decide; each that is kept has been simulated finely in the whole load.
// What it returns has been rounded to the controller and judged by
// [verify.Program]; it is a good program, not proved the best one. See [Floor]
// for what no program can beat.
//
// Its work is bounded by counts, never by time, so that one load gives one
// answer; one that is interrupted gives what was judged by then.
package shortest

import (
	"context"
	"math"
	"sync/atomic"
	"time"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/program"
	"lehr/anneal/verify"

	"lehr/glass/unit"
)

// Options choose how the search goes.
type Options struct {
	plan.Options // limits, and the rule to begin with and to compare with
	// Progress is called from time to time by the goroutine that called
	// Shortest (default: not at all).
	Progress func(Progress)

	// thorough takes no shortcut: every variant of every group is simulated finely,
	// from both starts. It is what the search is compared with.
	thorough bool
}

// Progress says how far a search is.
type Progress struct {
	Share float64       // of the work, from 0 to 1
	Best  time.Duration // the best program so far, 0 if none
}

// Result is the answer of a search.
type Result struct {
	Report *verify.Report // the shortest program found, verified
	// Rule is the program by the rule, nil if the rule has none; RuleError then
	// says why.
	Rule      *verify.Report
	RuleError error
	Floor     Floor
	// Interrupted says that the search was stopped: the program is the best that was
	// judged by then.
	Interrupted bool
	Simulations int
}

// solver carries one search.
type solver struct {
	ctx         context.Context
	load        *piece.Load
	st          kiln.Studio
	o           Options
	evaluator   *verify.Evaluator
	frame       plan.Frame
	heating     float64 // [K/s]
	slowest     float64
	fastest     float64
	calibrated  bool
	closer      bool      // nothing is simulated coarsely
	degree      float64   // the step of rates that can be keyed in, 0 if there is none [K/s]
	watched     []bool    // groups that may decide
	leading     []bool    // groups near the limit of tension left
	soaks       grid      // the soaks that may be chosen
	bias        []float64 // tension left, full over coarse, by group
	tensionBias []float64 // the same of tension
	count       *atomic.Int64
	shown       float64      // progress
	ruled       *atomic.Bool // the rule has answered, so that there is something to stop with
	bound       Floor        // zero until it is known
	best        *program.Schedule
	seconds     float64 // length of best
	slid        string  // key of the best program when slopes had last been followed
	keeper      *keeper // shared by all starts
}

// Shortest searches for the shortest program of the load to the opening
// temperature. When ctx ends it returns the best program that was judged so far, marked
// as Interrupted; the rule's program, which is planned beside the search, is the least it
// has, and is the answer where nothing within the limits is found. The load must stay as it
// is for a moment longer: a body that is being computed then is computed to its end.
//
// Errors: *[plan.ConflictError] when the pieces have no soak in common; those of
// [plan.Plan] about the load, the glasses and the controller.
func Shortest(ctx context.Context, l *piece.Load, st kiln.Studio, o Options) (*Result, error) {
	aimed, to, limits := plan.Aimed(st, o.Options)
	o.Options = to
	res, err := search(ctx, l, aimed, o)
	if err == nil && res.Report != nil {
		res.Report = verify.Whole(res.Report, st, limits)
	}
	return res, err
}

// search is [Shortest] for limits that are used up.
func search(ctx context.Context, l *piece.Load, st kiln.Studio, o Options) (*Result, error) {
	res := &Result{}
	if l.Into == piece.WarmOnly {
		res.Rule, res.RuleError = plan.Plan(ctx, l, st, o.Options)
		return warm(res)
	}
	sv, err := newSolver(ctx, l, st, o)
	if err != nil {
		if _, of := plan.Plan(ctx, l, st, o.Options); of != nil && !conflicts(of) {
			return nil, of // which says what would help
		}
		return nil, err
	}
	found, err := sv.besideRule(res)
	if err != nil {
		return nil, err
	}
	if err = found; err == nil && sv.best != nil {
		res.Report, err = sv.judgedBest(ctx)
	}
	if err == nil && sv.best != nil && res.Report.Within {
		sv.keeper.keep(res.Report)
		res.Report, err = sv.leftToKiln(ctx, res.Report)
	}
	switch {
	case err == nil && sv.best != nil && res.Report.Within: // whatever came by then
	case ctx.Err() != nil:
		res.Interrupted = true
		if res.Report = sv.keeper.report(); res.Report == nil {
			return sv.byRule(res)
		}
	case err != nil:
		return nil, err
	case sv.best == nil, !res.Report.Within: // by what the search does not follow, as opening the kiln
		return sv.byRule(res)
	}
	return sv.answer(res), nil
}

// answer completes the result with the program that was found, or that of the rule
// where it is no longer.
func (sv *solver) answer(res *Result) *Result {
	res.Floor = sv.known()
	res.Simulations = int(sv.count.Load())
	if r := res.Rule; r != nil && r.Within && r.Actual.Total() <= res.Report.Actual.Total() {
		res.Report = r
	}
	if res.Floor.Total > res.Report.Actual.Total() && res.Report.Within {
		res.Floor.Total = 0 // the closed forms know no piece about as thick as wide
	}
	sv.explain(res)
	return res
}

// byRule answers with the program by the rule, over a limit or not, where the
// search has none within the limits. Errors: that of the rule if it has no program
// either.
func (sv *solver) byRule(res *Result) (*Result, error) {
	if res.Rule == nil {
		return nil, res.RuleError
	}
	res.Report = res.Rule
	sv.answer(res).Report.Shortest.None = !res.Interrupted || !res.Rule.Within
	return res, nil
}

// known is the floor as far as the search has come to it.
func (sv *solver) known() Floor {
	if sv.bound.Total == 0 {
		sv.bound = sv.floor()
	}
	return sv.bound
}

// newSolver prepares a search.
func newSolver(ctx context.Context, l *piece.Load, st kiln.Studio, o Options) (*solver, error) {
	sv := &solver{ctx: ctx, load: l, st: st, o: o, seconds: math.Inf(1), count: new(atomic.Int64), ruled: new(atomic.Bool), keeper: new(keeper)}
	var err error
	if sv.frame, err = plan.NewFrame(l, st, o.Options); err != nil {
		return nil, err
	}
	if sv.evaluator, err = verify.NewEvaluator(l, st, o.Limits); err != nil {
		return nil, err
	}
	for range sv.evaluator.Groups {
		sv.bias, sv.tensionBias = append(sv.bias, 1), append(sv.tensionBias, 1)
	}
	sv.heating = float64(sv.frame.Heating)
	sv.slowest, sv.fastest = float64(st.Controller.SlowestKeyed()), float64(st.Controller.FastestKeyed())
	if !st.Controller.Minutes {
		sv.degree = float64(st.Controller.Degree()) / 3600
	}
	return sv, nil
}

// warm answers for a load that is only brought up: the rule already heats as
// fast as the limits let it.
func warm(res *Result) (*Result, error) {
	if res.RuleError != nil {
		return nil, res.RuleError
	}
	res.Report = res.Rule
	res.Floor.Total = res.Report.Actual.Total()
	res.Report.Shortest = &verify.Shortest{Rule: res.Floor.Total, None: !res.Rule.Within}
	return res, nil
}

// natural is how fast the kiln falls by itself [K/s].
func (sv *solver) natural(t unit.Temp) float64 { return float64(sv.st.Kiln.Fall.Rate(t)) }

// measure simulates a program in one group of pieces.
func (sv *solver) measure(s program.Schedule, group int, a verify.Accuracy) (verify.Measured, error) {
	if err := sv.ctx.Err(); err != nil {
		return verify.Measured{}, err
	}
	sv.count.Add(1)
	if sv.o.thorough {
		a = verify.Full
	}
	if sv.closer && a == verify.Coarse {
		a = verify.AverageCooling
	}
	return sv.evaluator.Measure(s, group, a)
}

// measureAll simulates a program in every group, in parallel and fixed order.
func (sv *solver) measureAll(s program.Schedule, a verify.Accuracy) ([]verify.Measured, error) {
	out := make([]verify.Measured, len(sv.evaluator.Groups))
	return out, parallel.Each(sv.ctx, len(out), func(k int) (err error) {
		out[k], err = sv.measure(s, k, a)
		return err
	})
}

// calibrate simulates a program fully in the groups that may decide; measurements
// that are not full take the worst case from it. It is no part of what is done in
// parallel, so that one load gives one answer.
func (sv *solver) calibrate(s program.Schedule) ([]verify.Measured, error) {
	out := make([]verify.Measured, len(sv.evaluator.Groups))
	err := parallel.Each(sv.ctx, len(out), func(k int) (err error) {
		if !sv.watches(k) {
			out[k], err = sv.measure(s, k, verify.Average)
			return err
		}
		sv.count.Add(1)
		out[k], err = sv.evaluator.Calibrate(s, k)
		return err
	})
	sv.calibrated = err == nil
	return out, err
}

// measureWatched simulates a program coarsely in the groups that may decide. The
// others leave nothing and are under no tension.
func (sv *solver) measureWatched(s program.Schedule) ([]verify.Measured, error) {
	out := make([]verify.Measured, len(sv.evaluator.Groups))
	return out, parallel.Each(sv.ctx, len(out), func(k int) (err error) {
		if !sv.watches(k) {
			out[k].Span = make([]float64, len(s.Segments))
			return nil
		}
		out[k], err = sv.measure(s, k, verify.Coarse)
		return err
	})
}

// watches says that a group may decide; until [solver.tune] has simulated all of
// them each may.
func (sv *solver) watches(group int) bool {
	return sv.o.thorough || group >= len(sv.watched) || sv.watched[group]
}

// target is the share of the limit of tension left that a coarse simulation of
// a group may show.
func (sv *solver) target(group int) float64 { return aimedAt / sv.bias[group] }

// progress tells how far the search is, once the rule has answered. It never goes back.
func (sv *solver) progress(share float64) {
	if sv.o.Progress == nil || !sv.ruled.Load() {
		return
	}
	sv.shown = math.Max(sv.shown, share)
	p := Progress{Share: sv.shown}
	if sv.best != nil {
		p.Best = unit.Seconds(sv.seconds)
	}
	sv.o.Progress(p)
}

// bears reports whether every piece bears the soak of a program.
func (sv *solver) bears(s program.Schedule) bool {
	soak := time.Duration(0)
	for _, seg := range s.Segments {
		if seg.Purpose == program.PurposeSoak {
			soak += seg.Hold
		}
	}
	return sv.frame.Longest == 0 || soak <= sv.frame.Longest
}

// offer keeps a program that keeps every limit if it is the shortest so far.
func (sv *solver) offer(s program.Schedule) {
	if sv.better(s) {
		sv.best, sv.seconds = &s, hours(s, sv.st.Kiln)
		sv.keeper.offer(s, sv.seconds)
	}
}

// better says that a program is the shortest so far, and borne.
func (sv *solver) better(s program.Schedule) bool {
	return sv.bears(s) && hours(s, sv.st.Kiln) < sv.seconds-1e-6
}
