package week

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"lehr/glass/unit"
)

// Kind is one kind of piece that is ordered.
type Kind struct {
	What   string
	Count  int
	Foot   Foot
	Height unit.Length
	Due    time.Time // the latest moment at which it may come out; zero for none
}

// Kiln is a kiln and when it is free.
type Kiln struct {
	Name         string
	Width, Depth unit.Length   // of the shelf, the part that heats evenly
	Height       unit.Length   // above the shelf
	Nights       []time.Time   // at which a firing may begin, in order
	Heat         int           // kilns of one number heat alike: what shares in one does in all
	Empty        time.Duration // from the end of a program until it may begin again
}

// Share says whether kinds of piece can share a program in a kiln, and for how
// long. apart is why, if they cannot; err is of one that could not find out. It is
// asked about each set once, of kilns that heat alike in one of them; it may answer
// apart with [ErrUnasked].
type Share func(kiln int, kinds []int) (hours time.Duration, apart, err error)

// Firing is one night of one kiln.
type Firing struct {
	Kiln   int
	Start  time.Time
	Hours  time.Duration
	Counts []int   // of each kind
	Free   float64 // share of the depth of the shelf
}

// Ready returns when the program ends.
func (f Firing) Ready() time.Time { return f.Start.Add(f.Hours) }

// Pieces returns how many pieces lie in the firing.
func (f Firing) Pieces() (n int) {
	for _, c := range f.Counts {
		n += c
	}
	return n
}

// Plan is an order spread over nights.
type Plan struct {
	Firings []Firing
	Left    []int // of each kind, what found no place in the nights there are
	Late    []Late
	// Least is a number of firings below which no plan in bands goes. Because
	// says by what: "shelf", "conflict" for what cannot share, "both" together,
	// or "search" where every way with fewer was tried.
	Least   int
	Because string
	// Fewest says that no plan in bands, in which each kiln takes first what is
	// due first, has fewer firings. If not, or if some are late, Untried and Unasked
	// say what was not tried.
	Fewest    bool
	Untried   Untried
	Tried     int  // the firings that Untried speaks of
	Unasked   bool // of some kinds it was not asked whether they share a program
	Conflicts []Conflict
}

// Untried is why a plan is not proved the best.
type Untried int

// The reasons.
const (
	Nothing     Untried = iota // was left untried
	NoPlace                    // not all of it fits into the nights that are free
	OneWay                     // more than [MostKinds] kinds: longest first alone was tried
	SomeWays                   // Tried firings were searched for within a number of steps
	NoneInTime                 // no plan of up to Tried firings is in time
	Interrupted                // the search was
)

// Late is a kind of which pieces come out after their day.
type Late struct {
	Kind, Count int
	By          time.Duration
}

// Conflict is two kinds that cannot share a program.
type Conflict struct {
	A, B int
	Why  error // of the last kiln that was asked of
}

// AloneError is a kind that no kiln can fire, not even alone.
type AloneError struct {
	What string
	Why  error
}

func (e *AloneError) Error() string { return e.What + ": cannot be fired even alone: " + e.Why.Error() }

// Unwrap returns why.
func (e *AloneError) Unwrap() error { return e.Why }

// MostKinds and MostSteps are how far a search for fewer firings goes, beside
// [MostWork].
const (
	MostKinds = 12
	MostSteps = 1000000
)

// planner holds what one plan needs.
type planner struct {
	kinds []Kind
	kilns []Kiln
	gap   unit.Length
	share Share
	asked map[question]answer
	steps int
	err   error
	prune *prune
	pairs []uint64 // of each kind, those that it never shares with

	budget
	unasked bool // some sets of kinds are kept apart unasked
}

// question is whether a set of kinds shares a program in kilns of a heat.
type question struct {
	heat int
	set  uint64
}

type answer struct {
	hours time.Duration
	apart error // nil if they share
}

// can asks, once, whether a set of kinds shares a program.
func (p *planner) can(kiln int, set uint64) answer {
	heat := p.kilns[kiln].Heat
	key := question{heat, set}
	if a, ok := p.asked[key]; ok {
		return a
	}
	// What a part cannot, the whole cannot.
	for rest := set; rest != 0; rest &= rest - 1 {
		if a, ok := p.asked[question{heat, set &^ (rest & -rest)}]; ok && a.apart != nil {
			p.asked[key] = a
			return a
		}
	}
	var members []int
	for i := range p.kinds {
		if set>>i&1 == 1 {
			members = append(members, i)
		}
	}
	a := answer{apart: ErrUnasked}
	if p.look(); !p.ended {
		hours, apart, err := p.share(kiln, members)
		switch {
		case err != nil && p.ctx.Err() != nil:
			p.ended = true
		default:
			if err != nil && p.err == nil {
				p.err = err
			}
			a = answer{hours, apart}
		}
	}
	p.unasked = p.unasked || a.apart == ErrUnasked
	p.asked[key] = a
	return a
}

// Make spreads an order over the nights of the kilns, in the fewest firings it
// finds.
//
// gap is the least distance between two pieces. At most 60 kinds. Beyond
// [MostKinds] kinds, or [MostWork] of the search, the plan is the one that takes
// what fires longest first, and it says so. So it does when ctx ends, if there is
// a plan by then.
//
// Errors: no kind or kiln, two kilns of one name, a kind that fits in no kiln
// or that no kiln can fire alone, those of share, and that of ctx.
func Make(ctx context.Context, kinds []Kind, kilns []Kiln, gap unit.Length, how How) (*Plan, error) {
	return newPlanner(ctx, kinds, kilns, gap, how.Share).make(how)
}

func (p *planner) make(how How) (*Plan, error) {
	now := Progress{}
	if how.Progress != nil {
		p.tell = func() {
			now.Sets = len(p.asked)
			how.Progress(now)
		}
	}
	if err := p.check(); err != nil {
		return nil, cmp.Or(p.ctx.Err(), err)
	}
	out := &Plan{Left: make([]int, len(p.kinds))}
	best := p.greedy()
	if p.ended {
		return nil, p.ctx.Err()
	}
	now.Firings = len(best)
	pairs := p.conflicts(out)
	out.Least, out.Because = p.least(pairs)
	if p.err != nil {
		return nil, p.err
	}
	for i, k := range p.kinds {
		out.Left[i] = k.Count
		for _, f := range best {
			out.Left[i] -= f.Counts[i]
		}
	}
	best = p.improve(out, best, pairs)
	if p.err != nil {
		return nil, p.err
	}
	for _, at := range placesBy(len(best), func(a, b int) int {
		return cmp.Or(best[a].Start.Compare(best[b].Start), best[a].Kiln-best[b].Kiln)
	}) {
		out.Firings = append(out.Firings, best[at])
	}
	return out, nil
}

func newPlanner(ctx context.Context, kinds []Kind, kilns []Kiln, gap unit.Length, share Share) *planner {
	return &planner{kinds: kinds, kilns: kilns, gap: gap, share: share, asked: map[question]answer{}, budget: budget{ctx: ctx, limit: MostWork, until: MostWork}}
}

// improve looks for a plan with fewer firings than the best, or in time, and says
// what is proved of the one it returns.
func (p *planner) improve(out *Plan, best []Firing, pairs []uint64) []Firing {
	var ps *patterns
	if len(best) > out.Least && len(p.kinds) <= MostKinds {
		p.allow(3)
		ps = p.newPatterns(pairs, best)
		if n := ps.least(); n > out.Least {
			out.Least, out.Because = n, "both"
		}
	}
	whole := !slices.ContainsFunc(out.Left, func(n int) bool { return n > 0 })
	late := p.late(best)
	switch {
	case !whole:
		out.Untried = NoPlace
	case len(late) == 0 && len(best) <= out.Least:
		out.Fewest = true
	case len(p.kinds) > MostKinds:
		out.Untried = OneWay
	default:
		best, late = p.otherwise(out, best, late, ps, pairs)
	}
	if p.unasked {
		out.Unasked = out.Untried != Nothing || !out.Fewest || len(best) > out.Least
		out.Fewest = false
	}
	if p.ended && len(best) > out.Least {
		out.Fewest, out.Untried, out.Unasked = false, Interrupted, false
	}
	if whole && len(best) <= out.Least {
		out.Fewest = true // in time or not: Untried is of the time, then
	}
	out.Late = late
	return best
}

// otherwise looks for another plan than the greedy one, the fewest firings first.
func (p *planner) otherwise(out *Plan, best []Firing, late []Late, ps *patterns, pairs []uint64) ([]Firing, []Late) {
	out.Fewest = true
	upTo := len(best) - 1
	if len(late) > 0 { // perhaps another way is in time
		upTo = len(best) + 2
	}
	for m := out.Least; m <= upTo; m++ {
		found, all := p.fewer(m, upTo-m+1, ps, pairs)
		if found != nil {
			best, late = found, nil
			out.Fewest = out.Fewest && all
			break
		}
		if !all {
			out.Fewest = false
			out.Untried, out.Tried = SomeWays, m
		}
	}
	if out.Fewest && !p.unasked && !p.ended && len(late) == 0 && len(best) > out.Least {
		out.Least, out.Because = len(best), "search"
	}
	if len(late) > 0 {
		out.Fewest = false
		if out.Untried == Nothing {
			out.Untried, out.Tried = NoneInTime, upTo
		}
	}
	return best, late
}

// fewer looks for a plan of m firings among the fillings that are known, then in
// every way. It takes one part in so many of the work that is left.
func (p *planner) fewer(m, in int, ps *patterns, pairs []uint64) (found []Firing, all bool) {
	if ps != nil {
		p.allow(2 * in)
		if found, all = ps.cover(m); found != nil || all {
			return found, true
		}
	}
	p.allow(in)
	return p.search(m, pairs)
}

func (p *planner) check() error {
	switch {
	case len(p.kinds) == 0:
		return fmt.Errorf("nothing is ordered")
	case len(p.kinds) > 60:
		return fmt.Errorf("%d kinds of piece: at most 60", len(p.kinds))
	case len(p.kilns) == 0:
		return fmt.Errorf("no kiln is named")
	case !(p.gap >= 0):
		return fmt.Errorf("gap %s: must be 0 or more", p.gap)
	}
	seen := map[string]bool{}
	for _, k := range p.kilns {
		if name := strings.ToLower(k.Name); seen[name] {
			return fmt.Errorf("two kilns have the name %q", k.Name)
		} else {
			seen[name] = true
		}
	}
	for i, k := range p.kinds {
		if k.Count < 1 {
			return fmt.Errorf("%s: count %d: must be 1 or more", k.What, k.Count)
		}
		high, alone := false, false
		var why error
		for c, kiln := range p.kilns {
			if k.Height > kiln.Height {
				continue
			}
			high = true
			if capacity(k, kiln, p.gap, 1) == 0 {
				continue
			}
			a := p.can(c, 1<<i)
			if p.err != nil {
				return p.err
			}
			if a.apart == nil {
				alone = true
				break
			}
			why = a.apart
		}
		switch {
		case alone:
		case !high:
			return fmt.Errorf("%s: is higher than any kiln", k.What)
		case why != nil:
			return &AloneError{k.What, why}
		default:
			return fmt.Errorf("%s: fits on no shelf", k.What)
		}
	}
	return nil
}
