package anneal

import (
	"errors"
	"fmt"
	"math"
	"math/bits"
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
	// Alone is how long each piece of the load would take by itself.
	Alone []time.Duration
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
	out := &Sharing{Exact: true}
	for i := range l.Pieces {
		rep, err := planSome(l, []int{i}, st, o)
		if err != nil {
			var c *ConflictError
			if errors.As(err, &c) {
				return nil, fmt.Errorf("%s cannot be annealed even alone: %w", l.Pieces[i].What, errors.New(c.Reasons[0]))
			}
			return nil, err
		}
		out.Alone = append(out.Alone, rep.Clock.Total())
	}
	all := make([]int, len(l.Pieces))
	for i := range all {
		all[i] = i
	}
	rep, err := planSome(l, all, st, o)
	var conflict *ConflictError
	switch {
	case err == nil && rep.Within:
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
	groups, exact, err := split(l, st, o)
	if err != nil {
		return nil, err
	}
	out.Exact = exact
	for _, g := range groups {
		rep, err := planSome(l, g, st, o)
		if err != nil {
			return nil, err
		}
		out.Firings = append(out.Firings, Firing{g, rep})
	}
	return out, nil
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

func planSome(l *Load, which []int, st Studio, o Options) (*Report, error) {
	return Plan(l.some(which), st, o)
}

// quick returns the hours of a shared program by the closed forms, or a
// conflict: the cheap question that the split asks thousands of times.
func quick(l *Load, which []int, st Studio, o Options) (float64, error) {
	pl := planner{load: l.some(which), st: st, o: o, limits: o.limits(st)}
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

// split finds the fewest groups of pieces that have no conflict.
func split(l *Load, st Studio, o Options) (groups [][]int, exact bool, err error) {
	kinds, members := kindsOf(l)
	n := len(kinds)
	if n > MostExact {
		groups, err = splitGreedy(l, kinds, members, st, o)
		return groups, false, err
	}
	cost := make([]float64, 1<<n)
	for set := 1; set < 1<<n; set++ {
		hours, err := quick(l, pick(kinds, set), st, o)
		var c *ConflictError
		switch {
		case err == nil:
			cost[set] = hours
		case errors.As(err, &c):
			cost[set] = math.Inf(1)
		default:
			return nil, true, err
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
			if sub&low == 0 || math.IsInf(cost[sub], 1) {
				continue
			}
			r := table[set&^sub]
			if r.count == math.MaxInt {
				continue
			}
			if c, h := r.count+1, r.hours+cost[sub]; c < b.count || c == b.count && h < b.hours {
				b = best{c, h, sub}
			}
		}
		table[set] = b
	}
	for set := 1<<n - 1; set > 0; set &^= table[set].take {
		if table[set].count == math.MaxInt {
			return nil, true, errors.New("a piece of the load cannot be annealed by itself")
		}
		groups = append(groups, expand(table[set].take, members))
	}
	return groups, true, nil
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

func pick(kinds []int, set int) []int {
	out := make([]int, 0, bits.OnesCount(uint(set)))
	for i, k := range kinds {
		if set&(1<<i) != 0 {
			out = append(out, k)
		}
	}
	return out
}

func expand(set int, members [][]int) []int {
	var out []int
	for i, m := range members {
		if set&(1<<i) != 0 {
			out = append(out, m...)
		}
	}
	return out
}

// splitGreedy puts each kind into the first group that has no conflict with it.
func splitGreedy(l *Load, kinds []int, members [][]int, st Studio, o Options) ([][]int, error) {
	var sets [][]int
	var groups [][]int
next:
	for i, k := range kinds {
		for j := range sets {
			_, err := quick(l, append(append([]int(nil), sets[j]...), k), st, o)
			var c *ConflictError
			if err == nil {
				sets[j] = append(sets[j], k)
				groups[j] = append(groups[j], members[i]...)
				continue next
			}
			if !errors.As(err, &c) {
				return nil, err
			}
		}
		sets = append(sets, []int{k})
		groups = append(groups, append([]int(nil), members[i]...))
	}
	return groups, nil
}
