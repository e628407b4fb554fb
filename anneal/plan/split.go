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

// splitter finds the fewest sets of kinds of piece that have no conflict.
type splitter struct {
	ctx     context.Context
	load    *piece.Load
	st      kiln.Studio
	o       Options
	kinds   []int   // the first piece of each kind
	members [][]int // all pieces of each kind
	refused [][]int // sets of kinds that the simulation refused
	hours   []float64
	closed  []float64 // hours before the simulation refused any
	asked   map[string]*answer
	work    int           // kinds in the sets that were planned together
	needs   []requirement // what each kind asks for, nil until somebody asks
	planner Planner
	free    bool // the planner, not the closed forms, says whether a piece bears the soak

	progress func(planned, most int)
	telling  sync.Mutex
	planned  int
}

// tell reports progress.
func (sp *splitter) tell(kinds int) {
	if sp.progress == nil {
		return
	}
	sp.telling.Lock()
	defer sp.telling.Unlock()
	sp.planned += kinds
	sp.progress(sp.planned, max(sp.planned, len(sp.kinds)+mostWork))
}

func newSplitter(ctx context.Context, l *piece.Load, st kiln.Studio, o Options, plan Planner) *splitter {
	kinds, members := kindsOf(l)
	return &splitter{ctx: ctx, load: l, st: st, o: o, kinds: kinds, members: members, planner: plan, asked: map[string]*answer{}}
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

func (sp *splitter) exact() bool { return len(sp.kinds) <= MostExact }

// fewest returns the sets, as sorted lists of kinds.
func (sp *splitter) fewest() ([][]int, error) {
	if !sp.exact() {
		every := make([]int, len(sp.kinds))
		for k := range every {
			every[k] = k
		}
		return sp.greedy(every)
	}
	n := len(sp.kinds)
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
	var groups [][]int
	for set := 1<<n - 1; set > 0; set &^= table[set].take {
		if table[set].count == math.MaxInt {
			return nil, errors.New("a piece of the load cannot be annealed by itself")
		}
		groups = append(groups, listed(table[set].take))
	}
	return groups, nil
}

// fewerUntested reports whether fewer groups might do if the sets that were
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

// part is the best way to part a set: fewest groups, then fewest hours.
type part struct {
	count int
	hours float64
	take  int // one of the groups
}

// partition finds it for every set of kinds, given the hours of each as one
// group. One group always holds the lowest kind, so each partition is tried
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

// greedy puts each kind of a set into the first group that has no conflict with
// it.
func (sp *splitter) greedy(set []int) ([][]int, error) {
	var groups [][]int
next:
	for _, k := range set {
		if err := sp.ctx.Err(); err != nil {
			return nil, err
		}
		for j, g := range groups {
			more := append(append([]int(nil), g...), k)
			hours, err := sp.quick(more)
			if err != nil {
				return nil, err
			}
			if !math.IsInf(hours, 1) && !sp.isRefused(more) {
				groups[j] = more
				continue next
			}
		}
		groups = append(groups, []int{k})
	}
	return groups, nil
}

// require asks the rule what each kind needs: it does not depend on the others.
func (sp *splitter) require() error {
	pl := planner{load: sp.load.Some(sp.kinds), st: sp.st, o: sp.o, limits: sp.o.Limits.Or(sp.st.Limits)}
	if sp.free {
		for i := range pl.load.Pieces {
			pl.load.Pieces[i].LongestSoak = 0
		}
	}
	err := pl.require()
	sp.needs = pl.requirements
	return err
}

// quick returns the hours of a shared program by the closed forms, +Inf for a
// conflict.
func (sp *splitter) quick(set []int) (float64, error) {
	pl := planner{load: &piece.Load{Into: sp.load.Into}, st: sp.st, o: sp.o, limits: sp.o.Limits.Or(sp.st.Limits)}
	for _, k := range set {
		pl.requirements = append(pl.requirements, sp.needs[k])
		pl.load.Pieces = append(pl.load.Pieces, sp.needs[k].piece)
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

// expand returns the pieces of a set of kinds, in the order of the load.
func (sp *splitter) expand(set []int) []int {
	var out []int
	for _, k := range set {
		out = append(out, sp.members[k]...)
	}
	slices.Sort(out)
	return out
}

// listed returns the kinds of a bit set.
func listed(set int) []int {
	out := make([]int, 0, bits.OnesCount(uint(set)))
	for i := 0; set>>i != 0; i++ {
		if set&(1<<i) != 0 {
			out = append(out, i)
		}
	}
	return out
}
