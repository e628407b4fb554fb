package anneal_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"lehr/anneal"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/program"
	"lehr/anneal/shortest"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// planned plans an attempt. A program that the controller does not take, or
// pieces that have no soak in common, are no finding.
func planned(ctx context.Context, a attempt, o anneal.Options) (*anneal.Report, error) {
	l, st, err := a.read()
	if err != nil {
		return nil, errSkip
	}
	rep, err := anneal.Plan(ctx, l, st, o)
	if err != nil {
		return nil, errSkip
	}
	return rep, nil
}

// keeps holds the numbers of a report against its limits.
func keeps(rep *anneal.Report) error {
	for _, p := range rep.Pieces {
		for _, b := range []struct {
			what string
			got  unit.Stress
			by   verify.Tension
			ask  bool
		}{{"tension", p.Peak, p.Tension, true}, {"left", p.Residual, p.ResidualTension, p.ResidualJudged}} {
			// Both in average glass and in the worst case, each against its own.
			if b.ask && (b.got > b.by.Limit() || b.by.Use > 1) {
				return fmt.Errorf("%s: %s %s, limit %s, use %.3f", p.Piece.What, b.what, b.got, b.by.Limit(), b.by.Use)
			}
		}
		if p.SoakJudged && p.Relaxed < rep.Limits.Relaxed {
			return fmt.Errorf("%s: relaxed %.4f, limit %.4f", p.Piece.What, p.Relaxed, rep.Limits.Relaxed)
		}
		if p.EvenJudged && p.SoakLag > rep.Limits.Even {
			return fmt.Errorf("%s: uneven by %s, limit %s", p.Piece.What, p.SoakLag, rep.Limits.Even)
		}
	}
	return nil
}

func withinMeansWithin(ctx context.Context, a attempt) error {
	rep, err := itsPlan(ctx, a)
	if err != nil {
		return err
	}
	if rep.Verdict() == verify.WithinLimits {
		return keeps(rep)
	}
	for _, p := range rep.Pieces {
		if len(p.Over) > 0 {
			return nil
		}
	}
	return fmt.Errorf("%s, and no piece says why", rep.Verdict())
}

// same compares what two reports say, to the last digit.
func same(a, b *anneal.Report) error { return near(a, b, 0) }

func near(a, b *anneal.Report, rel float64) error {
	if a.Verdict() != b.Verdict() {
		return fmt.Errorf("%s and %s", a.Verdict(), b.Verdict())
	}
	if x, y := a.Actual.Total(), b.Actual.Total(); x != y && rel == 0 {
		return fmt.Errorf("%s and %s", x, y)
	}
	for i, p := range a.Pieces {
		q := b.Pieces[i]
		for _, v := range [][2]float64{{float64(p.Peak), float64(q.Peak)}, {float64(p.Residual), float64(q.Residual)}, {p.Relaxed, q.Relaxed}} {
			if math.Abs(v[0]-v[1]) > rel*math.Abs(v[0]) {
				return fmt.Errorf("%s: %g and %g", p.Piece.What, v[0], v[1])
			}
		}
	}
	return nil
}

func writtenIsVerified(ctx context.Context, a attempt) error {
	rep, err := itsPlan(ctx, a)
	if err != nil {
		return err
	}
	var text bytes.Buffer
	if err := program.WriteFor(&text, rep.Schedule, "tonight", rep.Studio.Controller); err != nil {
		return err
	}
	s, err := program.Read(&text, "tonight.toml")
	if err != nil {
		return err
	}
	again, err := anneal.Verify(ctx, s, rep.Load, rep.Studio, anneal.Limits{})
	if err != nil {
		return err
	}
	return near(rep, again, 1e-9) // a rate goes through its text
}

func scalesAgree(ctx context.Context, a attempt) error {
	rep, err := itsPlan(ctx, a)
	if err != nil {
		return err
	}
	for _, sys := range []unit.System{unit.Metric, unit.US} {
		st := rep.Studio
		st.Units = sys // only the display: opening and controller are the owner's
		again, err := anneal.Verify(ctx, rep.Schedule, rep.Load, st, anneal.Limits{})
		if err != nil {
			return err
		}
		if err := near(rep, again, 1e-9); err != nil {
			return fmt.Errorf("shown in %v: %w", sys, err)
		}
	}
	return nil
}

// schedule is a program as text.
func schedule(rep *anneal.Report) string {
	var b strings.Builder
	for _, s := range rep.Schedule.Segments {
		fmt.Fprintf(&b, "%v to %v at %v, %v; ", s.Purpose, s.To, s.Rate, s.Hold)
	}
	return b.String()
}

func orderChangesNothing(ctx context.Context, a attempt) error {
	head, pieces := a.parts()
	if len(pieces) < 2 {
		return errSkip
	}
	rep, err := itsPlan(ctx, a)
	if err != nil {
		return err
	}
	slices.Reverse(pieces)
	other, err := planned(ctx, a.with(head, pieces), anneal.Options{})
	if err != nil {
		return errors.New("reversed it has no program")
	}
	if x, y := schedule(rep), schedule(other); x != y || rep.Verdict() != other.Verdict() {
		return fmt.Errorf("reversed %s %s, before %s %s", other.Verdict(), y, rep.Verdict(), x)
	}
	return nil
}

func copiesChangeNothing(ctx context.Context, a attempt) error {
	rep, err := itsPlan(ctx, a)
	if err != nil {
		return err
	}
	head, pieces := a.parts()
	other, err := planned(ctx, a.with(head, append(slices.Clone(pieces), pieces...)), anneal.Options{})
	if err != nil {
		return errors.New("twice the pieces have no program")
	}
	if x, y := schedule(rep), schedule(other); x != y || rep.Verdict() != other.Verdict() {
		return fmt.Errorf("twice the pieces %s %s, before %s %s", other.Verdict(), y, rep.Verdict(), x)
	}
	return nil
}

// The loop that slows a program to its limits ends up to 3 % below them, and
// rates are rounded to what the controller takes: so much is left to a
// comparison of two programs.
const slack = 0.04

// rounded is the share by which the rounding of a rate can lengthen a program.
func rounded(rep *anneal.Report) float64 {
	least := math.Inf(1)
	for _, s := range rep.Schedule.Segments {
		if r := math.Abs(s.Rate.KelvinPerHour()); r > 0 && !s.Full {
			least = min(least, r)
		}
	}
	return 1.1 / max(least, 1) // a degree of either scale
}

func notLonger(what string, short, long *anneal.Report) error {
	x, y := short.Actual.Total().Hours(), long.Actual.Total().Hours()
	if x > y*(1+slack+max(rounded(short), rounded(long)))+0.1 {
		return fmt.Errorf("%s: %.2f h, and %.2f h", what, x, y)
	}
	return nil
}

func moreIsNeverShorter(ctx context.Context, a attempt) error {
	head, pieces := a.parts()
	if len(pieces) < 2 {
		return errSkip
	}
	all, err := itsPlan(ctx, a)
	if err != nil || !all.Within {
		return errSkip
	}
	for i := range pieces {
		less, err := planned(ctx, a.with(head, slices.Delete(slices.Clone(pieces), i, i+1)), anneal.Options{})
		if err != nil {
			return fmt.Errorf("without piece %d it has no program, with it one within limits", i+1)
		}
		if !less.Within {
			return fmt.Errorf("without piece %d %s, with it within limits", i+1, less.Verdict())
		}
		if err := notLonger(fmt.Sprintf("without piece %d, and with it", i+1), less, all); err != nil {
			return err
		}
	}
	return nil
}

func looserIsNeverLonger(ctx context.Context, a attempt) error {
	tight := anneal.Limits{Tension: 2.5 * unit.Megapascal, Residual: 0.8 * unit.Megapascal}
	x, err := planned(ctx, a, anneal.Options{Limits: tight})
	if err != nil || !x.Within {
		return errSkip
	}
	for _, loose := range []anneal.Limits{
		{Tension: 1.4 * tight.Tension, Residual: 1.4 * tight.Residual},
		{Tension: 3 * tight.Tension, Residual: tight.Residual},
		{Tension: tight.Tension, Residual: 1.4 * tight.Residual},
	} {
		y, err := planned(ctx, a, anneal.Options{Limits: loose})
		if err != nil || !y.Within {
			return fmt.Errorf("nothing is within the looser limits %v, something within the tighter", loose)
		}
		if err := notLonger(fmt.Sprintf("looser, to %s and %s, and tighter", loose.Tension, loose.Residual), y, x); err != nil {
			return err
		}
	}
	return nil
}

var millimeters = regexp.MustCompile(`[\d.]+mm`)

func thickerIsNeverFaster(ctx context.Context, a attempt) error {
	x, err := itsPlan(ctx, a)
	if err != nil {
		return err
	}
	thick := a
	thick.load = millimeters.ReplaceAllStringFunc(a.load, func(s string) string {
		mm, err := strconv.ParseFloat(strings.TrimSuffix(s, "mm"), 64)
		if err != nil {
			return s
		}
		return strconv.FormatFloat(1.25*mm, 'f', 2, 64) + "mm"
	})
	y, err := planned(ctx, thick, anneal.Options{})
	if err != nil || !y.Within || !x.Within {
		return errSkip
	}
	return notLonger("as it is, and a quarter larger", x, y)
}

func twiceIsTheSame(ctx context.Context, a attempt) error {
	x, err := itsPlan(ctx, a)
	if err != nil {
		return err
	}
	y, err := planned(ctx, a, anneal.Options{})
	if err != nil {
		return errors.New("the second time it has no program")
	}
	if schedule(x) != schedule(y) {
		return fmt.Errorf("%s and %s", schedule(x), schedule(y))
	}
	return same(x, y)
}

func readyKeepsItsWord(ctx context.Context, a attempt) error {
	l, st, err := a.read()
	if err != nil {
		return errSkip
	}
	l.Start = nil
	by := unit.Clock(8*60 + 17)
	rep, err := plan.ReadyBy(ctx, l, st, anneal.Options{}, plan.ReadyHow{By: by, Planner: anneal.Plan})
	if err != nil {
		return errSkip
	}
	r, total := rep.Ready, rep.Actual.Total().Minutes()
	spare := float64(r.Before*24*60) + float64(by) - float64(r.Latest) - total
	if !r.Met || spare < -1e-6 || spare >= 1+1e-6 {
		return fmt.Errorf("met %v, starts %s, %d days before %s, takes %.2f min: %.2f min to spare", r.Met, r.Latest, r.Before, by, total, spare)
	}
	// From this start on it is met, and from a minute later it is not.
	for late, want := range []bool{true, false} {
		start, _ := r.Latest.Add(time.Duration(late) * time.Minute)
		l.Start = &start
		again, err := plan.ReadyBy(ctx, l, st, anneal.Options{}, plan.ReadyHow{By: by, Planner: func(context.Context, *piece.Load, kiln.Studio, plan.Options) (*verify.Report, error) {
			keep := *rep
			keep.Within = false // no ways are asked for
			return &keep, nil
		}})
		if err != nil {
			return err
		}
		if rep.Actual.Total() < 24*time.Hour-time.Minute && again.Ready.Met != want {
			return fmt.Errorf("started %d min after the latest: met %v", late, again.Ready.Met)
		}
	}
	return nil
}

func shareAgrees(ctx context.Context, a attempt) error {
	l, st, err := a.read()
	if err != nil || len(l.Pieces) > 4 {
		return errSkip
	}
	rep, planErr := anneal.Plan(ctx, l, st, anneal.Options{})
	s, err := anneal.Share(ctx, l, st, anneal.Options{})
	var conflict *plan.ConflictError
	if err != nil {
		if planErr == nil {
			return fmt.Errorf("it has a program, and share says %w", err)
		}
		return errSkip
	}
	if s.Shareable {
		switch {
		case planErr != nil:
			return fmt.Errorf("shareable, and plan says %w", planErr)
		case len(s.Firings) != 1:
			return fmt.Errorf("shareable in %d programs", len(s.Firings))
		case schedule(s.Firings[0].Report) != schedule(rep):
			return fmt.Errorf("share has %s, plan %s", schedule(s.Firings[0].Report), schedule(rep))
		}
		return nil
	}
	if errors.As(planErr, &conflict) || planErr != nil {
		return nil
	}
	if rep.Within {
		return fmt.Errorf("plan has a program within limits, share says %v", s.Reasons)
	}
	return nil
}

func shortestKeepsAndShortens(ctx context.Context, a attempt) error {
	l, st, err := a.read()
	if err != nil {
		return errSkip
	}
	rule, err := anneal.Plan(ctx, l, st, anneal.Options{})
	if err != nil {
		return errSkip
	}
	res, err := shortest.Shortest(ctx, l, st, shortest.Options{})
	if err != nil {
		return fmt.Errorf("the rule has a program, the search none: %w", err)
	}
	found := res.Report
	if found.Verdict() == verify.WithinLimits {
		if err := keeps(found); err != nil {
			return err
		}
	}
	if rule.Within && (!found.Within || found.Actual.Total() > rule.Actual.Total()) {
		return fmt.Errorf("%s in %s, the rule %s in %s", found.Verdict(), found.Actual.Total(), rule.Verdict(), rule.Actual.Total())
	}
	return nil
}
