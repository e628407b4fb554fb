package plan

import (
	"errors"
	"fmt"
	"slices"
	"sort"

	"lehr/anneal/piece"
	"lehr/anneal/verify"
)

// answer is what the planner says of a set of groups.
type answer struct {
	rep       *verify.Report
	by        *planner // that was asked for few notes, nil for a planner that is given
	err       error    // a refusal, or a failure of the planner
	refused   bool
	overLimit []int // the groups that the set puts over a limit, if it was simulated
}

// evaluate plans a set of groups, once. A group by itself is never refused.
func (s *Sharing) evaluate(sp *splitter, set []int) *answer {
	key := fmt.Sprint(set)
	if a := sp.asked[key]; a != nil {
		return a
	}
	which := sp.expand(set)
	a := &answer{}
	a.rep, a.by, a.err = sp.plan(which)
	var conflict *ConflictError
	switch {
	case errors.As(a.err, &conflict) || unfit(a.err):
		a.refused = true
	case a.err == nil:
		over := s.overLimit(which, a.rep)
		for _, k := range set {
			if slices.ContainsFunc(sp.members[k], func(m int) bool { return slices.Contains(over, m) }) {
				a.overLimit = append(a.overLimit, k)
			}
		}
		a.refused = len(a.overLimit) > 0
	}
	a.refused = a.refused && len(set) > 1
	if a.refused {
		sp.refused = append(sp.refused, set)
	}
	sp.asked[key] = a
	sp.work += len(set)
	sp.progressed(len(set))
	return a
}

// Bounds of the split. Up to fewGroups different pieces all sets that the closed
// forms offer are simulated; beyond, splitting by what the simulation finds over a
// limit comes first, and together no more than mostWork different pieces are
// simulated: six times the largest load that is split exactly. Without a bound a
// load of twelve took four minutes.
const (
	fewGroups = 4
	mostWork  = 6 * MostExact
)

// split fills in the firings of a load that was refused as a whole.
//
// A set whose program puts some of its pieces over a limit is split into these and
// the others, and so on: that takes few simulations. The closed forms say which sets
// of pieces have no conflict; a set whose simulated program finds one after all
// is refused, with all sets that contain it, and the rest is split again: that
// takes many, and finds the fewest.
func (s *Sharing) split(sp *splitter) error {
	var byOverLimit [][]int
	if len(sp.groups) > fewGroups {
		var err error
		if byOverLimit, err = s.byOverLimit(sp); err != nil {
			return err
		}
		// The whole was refused: two are the fewest.
		if len(byOverLimit) == 2 {
			return s.fire(sp, byOverLimit, true)
		}
	}
	byForms, done, err := s.byForms(sp)
	if err != nil {
		return err
	}
	sets := byForms
	if !done || byOverLimit != nil && len(byOverLimit) < len(byForms) {
		sets = byOverLimit
	}
	untested, err := sp.fewerUntested(len(sets))
	if err != nil {
		return err
	}
	return s.fire(sp, sets, sp.exact() && !untested)
}

// fire makes firings of sets that were planned.
func (s *Sharing) fire(sp *splitter, sets [][]int, exact bool) error {
	s.Firings, s.Exact = nil, exact
	sort.Slice(sets, func(i, j int) bool { return slices.Compare(sets[i], sets[j]) < 0 })
	for _, set := range sets {
		a := s.evaluate(sp, set)
		if a.err != nil {
			return a.err
		}
		if err := a.notes(sp); err != nil {
			return err
		}
		s.Firings = append(s.Firings, Firing{sp.expand(set), a.rep})
	}
	return nil
}

// notes adds to a program that is an answer what the many that only led to it were
// not asked for: what rounding and controller cost, and the bodies as they are.
func (a *answer) notes(sp *splitter) error {
	if a.by == nil || a.by.load.Into == piece.WarmOnly {
		return nil
	}
	by := a.by
	a.by = nil
	rep, err := verify.AsBodies(sp.ctx, a.rep)
	if err == nil {
		rep, err = verify.After(sp.ctx, rep)
	}
	if err != nil {
		return err
	}
	a.rep = rep
	if err := by.noteRounding(a.rep); err != nil {
		return err
	}
	return by.noteController(a.rep)
}

// byOverLimit splits the load by what the simulation finds over a limit. Where all
// of a set is, or nobody knows what, the closed forms say which of it goes
// together, and what they do not part is halved.
func (s *Sharing) byOverLimit(sp *splitter) (out [][]int, err error) {
	every := make([]int, len(sp.groups))
	for k := range every {
		every[k] = k
	}
	for open := [][]int{every}; len(open) > 0; {
		set := open[len(open)-1]
		open = open[:len(open)-1]
		a := s.evaluate(sp, set)
		if err := sp.ctx.Err(); err != nil {
			return nil, err
		}
		if !a.refused {
			if a.err != nil {
				return nil, a.err
			}
			out = append(out, set)
			continue
		}
		parts := [][]int{a.overLimit, without(set, a.overLimit)}
		if len(parts[0]) == 0 || len(parts[1]) == 0 {
			if parts, err = sp.greedy(set); err != nil {
				return nil, err
			}
		}
		if len(parts) < 2 {
			parts = [][]int{set[:len(set)/2], set[len(set)/2:]}
		}
		open = append(open, parts...)
	}
	return out, nil
}

// without returns the groups of a set that are not in another.
func without(set, other []int) []int {
	return slices.DeleteFunc(slices.Clone(set), func(k int) bool { return slices.Contains(other, k) })
}

// byForms splits the load by the closed forms and what the simulation refused;
// false if the bound was reached before all sets held.
func (s *Sharing) byForms(sp *splitter) ([][]int, bool, error) {
	for {
		sets, err := sp.fewest()
		if err != nil {
			return nil, false, err
		}
		refused := false
		for _, set := range sets {
			if len(sp.groups) > fewGroups && sp.work+len(set) > mostWork {
				return nil, false, nil
			}
			a := s.evaluate(sp, set)
			if err := sp.ctx.Err(); err != nil {
				return nil, false, err
			}
			if a.err != nil && !a.refused {
				return nil, false, a.err
			}
			refused = refused || a.refused
		}
		if !refused {
			return sets, true, nil
		}
	}
}

// quick returns the hours of a program for the requirements by the closed forms,
// or a conflict: the cheap question that the split asks thousands of times.
func (pl *planner) quick() (float64, error) {
	if pl.load.Into == piece.WarmOnly {
		return 0, nil
	}
	if err := pl.propose(); err != nil {
		return 0, err
	}
	hours, at := pl.draft.hold.Hours(), pl.draft.soak
	for _, r := range pl.draft.ramps {
		hours += float64(at.Sub(r.to))/r.rate/3600 + r.hold.Hours()
		at = r.to
	}
	return hours, nil
}
