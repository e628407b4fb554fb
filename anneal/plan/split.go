package plan

import (
	"context"
	"errors"
	"math"
	"math/bits"
	"slices"
	"sync"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
)

// splitter finds the fewest sets of groups that have no conflict.
type splitter struct {
	ctx          context.Context
	load         *piece.Load
	st           kiln.Studio
	o            Options
	groups       []int   // the first piece of each group of equal pieces
	members      [][]int // all pieces of each group
	refused      [][]int // sets of groups that the simulation refused
	hours        []float64
	closed       []float64 // hours before the simulation refused any
	asked        map[string]*answer
	work         int           // groups in the sets that were planned together
	requirements []requirement // what each group requires, nil until it is needed
	planner      Planner
	free         bool // the planner, not the closed forms, says whether a piece bears the soak

	progress  func(planned, most int)
	reporting sync.Mutex
	planned   int
}

// progressed reports progress.
func (sp *splitter) progressed(groups int) {
	if sp.progress == nil {
		return
	}
	sp.reporting.Lock()
	defer sp.reporting.Unlock()
	sp.planned += groups
	sp.progress(sp.planned, max(sp.planned, len(sp.groups)+mostWork))
}

func newSplitter(ctx context.Context, l *piece.Load, st kiln.Studio, o Options, plan Planner) *splitter {
	groups, members := groupsOf(l)
	return &splitter{ctx: ctx, load: l, st: st, o: o, groups: groups, members: members, planner: plan, asked: map[string]*answer{}}
}

// plan asks for the program of some pieces; the rule's planner is answered too.
func (sp *splitter) plan(which []int) (*verify.Report, *planner, error) {
	l := sp.load.Some(which)
	if sp.free {
		rep, err := sp.planner(sp.ctx, l, sp.st, sp.o)
		return rep, nil, err
	}
	o := sp.o
	o.quiet = true
	return planned(sp.ctx, l, sp.st, o)
}

func (sp *splitter) exact() bool { return len(sp.groups) <= MostExact }

// fewest returns the sets, as sorted lists of groups.
func (sp *splitter) fewest() ([][]int, error) {
	if !sp.exact() {
		every := make([]int, len(sp.groups))
		for k := range every {
			every[k] = k
		}
		return sp.greedy(every)
	}
	n := len(sp.groups)
	if sp.hours == nil {
		sp.hours = make([]float64, 1<<n)
		err := parallel.Each(sp.ctx, 1<<n, func(set int) (err error) {
			if set > 0 {
				sp.hours[set], err = sp.quick(listed(set))
			}
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	if sp.closed == nil {
		sp.closed = slices.Clone(sp.hours)
	}
	for set := range sp.hours {
		if sp.isRefused(listed(set)) {
			sp.hours[set] = math.Inf(1)
		}
	}
	table := partition(sp.hours)
	var sets [][]int
	for set := 1<<n - 1; set > 0; set &^= table[set].take {
		if table[set].count == math.MaxInt {
			return nil, errors.New("a piece of the load cannot be annealed by itself")
		}
		sets = append(sets, listed(table[set].take))
	}
	return sets, nil
}

// fewerUntested reports whether fewer sets might do if the sets that were
// pruned with a refused one, and never simulated, were none the worse for it:
// more pieces may lengthen the soak, and so help.
func (sp *splitter) fewerUntested(count int) (bool, error) {
	if !sp.exact() || len(sp.refused) == 0 {
		return false, nil
	}
	if sp.closed == nil {
		if _, err := sp.fewest(); err != nil {
			return false, err
		}
	}
	hours := slices.Clone(sp.closed)
	for _, r := range sp.refused {
		set := 0
		for _, k := range r {
			set |= 1 << k
		}
		hours[set] = math.Inf(1)
	}
	hours[len(hours)-1] = math.Inf(1) // the whole load was simulated first
	return partition(hours)[len(hours)-1].count < count, nil
}

// part is the best way to part a set of groups: fewest sets, then fewest hours.
type part struct {
	count int
	hours float64
	take  int // one of the sets
}

// partition finds it for every set of groups, given the hours of each as one
// firing. One set always holds the lowest group, so each partition is tried
// once.
func partition(hours []float64) []part {
	table := make([]part, len(hours))
	for set := 1; set < len(hours); set++ {
		low := set & -set
		b := part{count: math.MaxInt}
		for sub := set; sub > 0; sub = (sub - 1) & set {
			if sub&low == 0 || math.IsInf(hours[sub], 1) {
				continue
			}
			r := table[set&^sub]
			if r.count == math.MaxInt {
				continue
			}
			if c, h := r.count+1, r.hours+hours[sub]; c < b.count || c == b.count && h < b.hours {
				b = part{c, h, sub}
			}
		}
		table[set] = b
	}
	return table
}

// greedy puts each group into the first set that has no conflict with
// it.
func (sp *splitter) greedy(set []int) ([][]int, error) {
	var sets [][]int
next:
	for _, k := range set {
		if err := sp.ctx.Err(); err != nil {
			return nil, err
		}
		for j, other := range sets {
			more := append(append([]int(nil), other...), k)
			hours, err := sp.quick(more)
			if err != nil {
				return nil, err
			}
			if !math.IsInf(hours, 1) && !sp.isRefused(more) {
				sets[j] = more
				continue next
			}
		}
		sets = append(sets, []int{k})
	}
	return sets, nil
}

// require asks the rule what each group needs: it does not depend on the others.
func (sp *splitter) require() error {
	pl := planner{load: sp.load.Some(sp.groups), st: sp.st, o: sp.o, limits: sp.o.Limits.Or(sp.st.Limits)}
	if sp.free {
		for i := range pl.load.Pieces {
			pl.load.Pieces[i].LongestSoak = 0
		}
	}
	err := pl.require()
	sp.requirements = pl.requirements
	return err
}

// quick returns the hours of a shared program by the closed forms, +Inf for a
// conflict.
func (sp *splitter) quick(set []int) (float64, error) {
	pl := planner{load: &piece.Load{Into: sp.load.Into}, st: sp.st, o: sp.o, limits: sp.o.Limits.Or(sp.st.Limits)}
	for _, k := range set {
		pl.requirements = append(pl.requirements, sp.requirements[k])
		pl.load.Pieces = append(pl.load.Pieces, sp.requirements[k].piece)
	}
	hours, err := pl.quick()
	var c *ConflictError
	if errors.As(err, &c) || unfit(err) {
		return math.Inf(1), nil
	}
	return hours, err
}

// isRefused reports whether a set contains one that was refused.
func (sp *splitter) isRefused(set []int) bool {
	return slices.ContainsFunc(sp.refused, func(r []int) bool {
		return !slices.ContainsFunc(r, func(k int) bool { return !slices.Contains(set, k) })
	})
}

// expand returns the pieces of a set of groups, in the order of the load.
func (sp *splitter) expand(set []int) []int {
	var out []int
	for _, k := range set {
		out = append(out, sp.members[k]...)
	}
	slices.Sort(out)
	return out
}

// listed returns the groups of a bit set.
func listed(set int) []int {
	out := make([]int, 0, bits.OnesCount(uint(set)))
	for i := 0; set>>i != 0; i++ {
		if set&(1<<i) != 0 {
			out = append(out, i)
		}
	}
	return out
}
