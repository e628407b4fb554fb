package anneal

import (
	"errors"
	"fmt"
	"math"
	"math/bits"
	"slices"
	"time"
)

// Sharing is the answer to whether a load can share one program.
type Sharing struct {
	Shareable bool
	Reasons   []string // why not; empty when it can
	// Firings holds the fewest programs that do the whole load, one if it is
	// shareable. Pieces refer to the load by index.
	Firings []Firing
	// Exact says that no smaller number of firings exists; beyond 12 different
	// pieces the split is a good one, not proved the fewest.
	Exact bool
	// Alone is how long each piece of the load would take by itself, AloneOver
	// that even then a limit is exceeded, so that sharing is not to blame.
	Alone     []time.Duration
	AloneOver []bool
}

// Firing is one program and the pieces that go in it.
type Firing struct {
	Pieces []int
	Report *Report
}

// MostExact is the number of different pieces up to which the split into
// firings is proved to be the fewest.
const MostExact = 12

// Cost returns how much longer the shared program is for a piece than its own.
func (s Sharing) Cost(firing, piece int) time.Duration {
	d := s.Firings[firing].Report.Clock.Total() - s.Alone[piece]
	if d < 0 {
		return 0
	}
	return d
}

// Share answers whether the load can share one program, and if not, splits it
// into the fewest firings; of equally few, the ones that take least time by
// the closed forms.
func Share(l *Load, st Studio, o Options) (*Sharing, error) {
	return share(l, newSplitter(l, st, o, Plan))
}

// ShareBy is [Share] with another planner. It is asked about every set of
// pieces whose soak ranges meet; a *ConflictError is its answer that a set
// cannot share a program.
func ShareBy(l *Load, st Studio, o Options, plan Planner) (*Sharing, error) {
	sp := newSplitter(l, st, o, plan)
	sp.free = true
	return share(l, sp)
}

func share(l *Load, sp *splitter) (*Sharing, error) {
	out := &Sharing{Exact: true, Alone: make([]time.Duration, len(l.Pieces)), AloneOver: make([]bool, len(l.Pieces))}
	for k, i := range sp.kinds {
		rep, err := sp.plan([]int{i})
		if err != nil {
			var c *ConflictError
			if errors.As(err, &c) {
				return nil, fmt.Errorf("%s cannot be annealed even alone: %w", l.Pieces[i].What, errors.New(c.Reasons[0]))
			}
			return nil, err
		}
		for _, m := range sp.members[k] {
			out.Alone[m], out.AloneOver[m] = rep.Clock.Total(), !rep.Within
		}
	}
	all := make([]int, len(l.Pieces))
	for i := range all {
		all[i] = i
	}
	rep, err := sp.plan(all)
	var conflict *ConflictError
	switch {
	case err == nil && !out.spoils(all, rep):
		out.Shareable = true
		out.Firings = []Firing{{all, rep}}
		return out, nil
	case err == nil:
		out.Reasons = []string{"no shared program keeps every piece within its limits"}
	case errors.As(err, &conflict):
		out.Reasons = conflict.Reasons
	default:
		return nil, err
	}
	return out, out.split(sp)
}

// spoils reports whether sharing puts a piece over a limit that it keeps alone.
func (s *Sharing) spoils(which []int, rep *Report) bool {
	for j, i := range which {
		if !rep.Pieces[j].Within && !s.AloneOver[i] {
			return true
		}
	}
	return false
}

// split fills in the firings. The closed forms say which sets of pieces have no
// conflict; a set whose simulated program finds one after all is refused, with
// all sets that contain it, and the rest is split again.
func (s *Sharing) split(sp *splitter) error {
	for {
		groups, err := sp.fewest()
		if err != nil {
			return err
		}
		s.Firings, s.Exact = nil, sp.exact()
		refused := false
		for _, g := range groups {
			which := sp.expand(g)
			rep, err := sp.plan(which)
			var conflict *ConflictError
			switch {
			case len(g) > 1 && (errors.As(err, &conflict) || err == nil && s.spoils(which, rep)):
				sp.refused = append(sp.refused, g)
				refused = true
			case err != nil:
				return err
			}
			s.Firings = append(s.Firings, Firing{which, rep})
		}
		if !refused {
			return nil
		}
	}
}

// some returns the load with only the pieces named.
func (l *Load) some(which []int) *Load {
	part := *l
	part.Pieces = nil
	for _, i := range which {
		part.Pieces = append(part.Pieces, l.Pieces[i])
	}
	return &part
}

// quick returns the hours of a shared program by the closed forms, or a
// conflict: the cheap question that the split asks thousands of times.
func quick(l *Load, st Studio, o Options) (float64, error) {
	pl := planner{load: l, st: st, o: o, limits: o.limits(st)}
	if err := pl.ask(); err != nil {
		return 0, err
	}
	if l.Into == WarmOnly {
		return 0, nil
	}
	if err := pl.propose(); err != nil {
		return 0, err
	}
	hours, at := pl.prop.hold.Hours(), pl.prop.soak
	for _, r := range pl.prop.ramps {
		hours += float64(at.Sub(r.to))/r.rate/3600 + r.hold.Hours()
		at = r.to
	}
	return hours, nil
}

// splitter finds the fewest sets of kinds of piece that have no conflict.
type splitter struct {
	load    *Load
	st      Studio
	o       Options
	kinds   []int   // the first piece of each kind
	members [][]int // all pieces of each kind
	refused [][]int // sets of kinds that the simulation refused
	hours   []float64
	planner Planner
	free    bool // the planner, not the closed forms, says whether a piece bears the soak
}

func newSplitter(l *Load, st Studio, o Options, plan Planner) *splitter {
	kinds, members := kindsOf(l)
	return &splitter{load: l, st: st, o: o, kinds: kinds, members: members, planner: plan}
}

// plan asks for the program of some pieces.
func (sp *splitter) plan(which []int) (*Report, error) {
	return sp.planner(sp.load.some(which), sp.st, sp.o)
}

func (sp *splitter) exact() bool { return len(sp.kinds) <= MostExact }

// fewest returns the sets, as sorted lists of kinds.
func (sp *splitter) fewest() ([][]int, error) {
	if !sp.exact() {
		return sp.greedy()
	}
	n := len(sp.kinds)
	if sp.hours == nil {
		sp.hours = make([]float64, 1<<n)
		for set := 1; set < 1<<n; set++ {
			hours, err := sp.quick(listed(set))
			if err != nil {
				return nil, err
			}
			sp.hours[set] = hours
		}
	}
	for set := range sp.hours {
		if sp.isRefused(listed(set)) {
			sp.hours[set] = math.Inf(1)
		}
	}
	// best[set] = fewest groups, then fewest hours; one group always holds the
	// lowest piece, so each partition is tried once.
	type best struct {
		count int
		hours float64
		take  int
	}
	table := make([]best, 1<<n)
	for set := 1; set < 1<<n; set++ {
		low := set & -set
		b := best{count: math.MaxInt}
		for sub := set; sub > 0; sub = (sub - 1) & set {
			if sub&low == 0 || math.IsInf(sp.hours[sub], 1) {
				continue
			}
			r := table[set&^sub]
			if r.count == math.MaxInt {
				continue
			}
			if c, h := r.count+1, r.hours+sp.hours[sub]; c < b.count || c == b.count && h < b.hours {
				b = best{c, h, sub}
			}
		}
		table[set] = b
	}
	var groups [][]int
	for set := 1<<n - 1; set > 0; set &^= table[set].take {
		if table[set].count == math.MaxInt {
			return nil, errors.New("a piece of the load cannot be annealed by itself")
		}
		groups = append(groups, listed(table[set].take))
	}
	return groups, nil
}

// greedy puts each kind into the first group that has no conflict with it.
func (sp *splitter) greedy() ([][]int, error) {
	var groups [][]int
next:
	for i := range sp.kinds {
		for j, g := range groups {
			more := append(append([]int(nil), g...), i)
			hours, err := sp.quick(more)
			if err != nil {
				return nil, err
			}
			if !math.IsInf(hours, 1) && !sp.isRefused(more) {
				groups[j] = more
				continue next
			}
		}
		groups = append(groups, []int{i})
	}
	return groups, nil
}

// quick returns the hours of a shared program by the closed forms, +Inf for a
// conflict.
func (sp *splitter) quick(set []int) (float64, error) {
	which := make([]int, len(set))
	for j, k := range set {
		which[j] = sp.kinds[k]
	}
	load := sp.load.some(which)
	if sp.free {
		for i := range load.Pieces {
			load.Pieces[i].LongestSoak = 0
		}
	}
	hours, err := quick(load, sp.st, sp.o)
	var c *ConflictError
	if errors.As(err, &c) {
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

// kindsOf lists one piece for each set of pieces that ask for the same, and
// the members of each set.
func kindsOf(l *Load) (kinds []int, members [][]int) {
	type kind struct {
		twin
		longest time.Duration
		hottest float64
	}
	seen := map[kind]int{}
	for i, p := range l.Pieces {
		k := kind{p.twin(), p.LongestSoak, p.HottestSoak.Kelvin()}
		j, ok := seen[k]
		if !ok {
			j = len(kinds)
			seen[k] = j
			kinds, members = append(kinds, i), append(members, nil)
		}
		members[j] = append(members[j], i)
	}
	return kinds, members
}
