package week

import (
	"cmp"
	"slices"
	"sort"
	"time"

	"lehr/glass/unit"
)

// firstFit puts sizes into the fewest bins of a size that first fit decreasing
// finds, and returns how many, and the least by their sum.
//
// Source: first fit decreasing; at most 11/9 of the fewest and 6/9 more
// [memory: Dósa 2007; not used as a bound].
//
// Checked: testdata/cases/week.toml
func firstFit(sizes []float64, bin float64) (bins, least int) {
	sizes = slices.Clone(sizes)
	slices.SortFunc(sizes, func(a, b float64) int { return cmp.Compare(b, a) })
	var room []float64
	sum := 0.0
	for _, s := range sizes {
		sum += s
		at := slices.IndexFunc(room, func(r float64) bool { return r >= s-hair })
		if at < 0 {
			room = append(room, bin)
			at = len(room) - 1
		}
		room[at] -= s
	}
	for float64(least)*bin < sum-hair {
		least++
	}
	return len(room), least
}

// slot is a firing that is being filled.
type slot struct {
	kiln   int
	set    uint64
	counts []int
}

// most returns how many more of a kind, up to n, go into a slot.
func (p *planner) most(s slot, kind, n int) int {
	kiln := p.kilns[s.kiln]
	if p.kinds[kind].Height > kiln.Height {
		return 0
	}
	lo := 0
	for _, side := range [][2]unit.Length{{kiln.Width, kiln.Depth}, {kiln.Depth, kiln.Width}} {
		room := float64(side[1]+p.gap) + hair
		for i, c := range s.counts {
			if i != kind {
				room -= p.kinds[i].Foot.band(side[0], p.gap, c)
			}
		}
		more := sort.Search(n, func(m int) bool { return p.kinds[kind].Foot.band(side[0], p.gap, s.counts[kind]+m+1) > room })
		lo = max(lo, more)
	}
	if lo > 0 && p.can(s.kiln, s.set|1<<kind).apart != nil {
		return 0
	}
	return lo
}

// order returns the kinds as they are packed: first what is due first, then
// what fires longest, then what covers most.
func (p *planner) order(byDue bool) []int {
	hours := func(i int) time.Duration {
		for c := range p.kilns {
			if a := p.can(c, 1<<i); a.apart == nil {
				return a.hours
			}
		}
		return 0
	}
	return placesBy(len(p.kinds), func(a, b int) int {
		x, y := p.kinds[a], p.kinds[b]
		if byDue && !x.Due.Equal(y.Due) {
			switch {
			case x.Due.IsZero():
				return 1
			case y.Due.IsZero():
				return -1
			}
			return x.Due.Compare(y.Due)
		}
		return cmp.Or(cmp.Compare(hours(b), hours(a)), cmp.Compare(p.leastDepth(y), p.leastDepth(x)))
	})
}

// placesBy returns the places of a list in the order that compare gives them.
func placesBy(n int, compare func(a, b int) int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	slices.SortStableFunc(list, compare)
	return list
}

// greedy fills firing after firing, those due first and those that fire
// longest first, and keeps the better of two orders.
func (p *planner) greedy() []Firing {
	var best []Firing
	for _, byDue := range []bool{true, false} {
		if !byDue && !slices.ContainsFunc(p.kinds, func(k Kind) bool { return !k.Due.IsZero() }) {
			break // the same again
		}
		got := p.fill(p.order(byDue))
		if best == nil || p.better(got, best) {
			best = got
		}
	}
	return best
}

// better tells which of two plans is: more pieces, none late, fewer firings.
func (p *planner) better(a, b []Firing) bool {
	sum := func(list []Firing) (n int) {
		for _, f := range list {
			n += f.Pieces()
		}
		return n
	}
	return cmp.Or(sum(a)-sum(b), len(p.late(b))-len(p.late(a)), len(b)-len(a)) > 0
}

// fill goes through the nights in their order and loads each kiln with what is
// first in the order and goes with it.
func (p *planner) fill(order []int) []Firing {
	left := make([]int, len(p.kinds))
	total := 0
	for i, k := range p.kinds {
		left[i] = k.Count
		total += k.Count
	}
	free := make([]time.Time, len(p.kilns)) // from when on
	next := make([]int, len(p.kilns))
	var out []Firing
	for total > 0 && !p.ended {
		p.look()
		// The earliest night of any kiln; of two, the one that holds more.
		at, start := -1, time.Time{}
		var filled slot
		for c, kiln := range p.kilns {
			for next[c] < len(kiln.Nights) && kiln.Nights[next[c]].Before(free[c]) {
				next[c]++
			}
			if next[c] == len(kiln.Nights) {
				continue
			}
			s := slot{kiln: c, counts: make([]int, len(p.kinds))}
			n := 0
			for _, k := range order {
				if left[k] == 0 {
					continue
				}
				if m := p.most(s, k, left[k]); m > 0 {
					s.counts[k], s.set = m, s.set|1<<k
					n += m
				}
			}
			if n == 0 {
				next[c] = len(kiln.Nights) // nothing that is left goes in here
				continue
			}
			t := kiln.Nights[next[c]]
			if at < 0 || t.Before(start) || t.Equal(start) && n > countsOf(filled) {
				at, start, filled = c, t, s
			}
		}
		if at < 0 {
			return out
		}
		f := p.firing(filled, start)
		out = append(out, f)
		for i, n := range filled.counts {
			left[i] -= n
			total -= n
		}
		next[at]++
		free[at] = f.Ready().Add(p.kilns[at].Empty)
	}
	return out
}

func countsOf(s slot) (n int) {
	for _, c := range s.counts {
		n += c
	}
	return n
}

func (p *planner) firing(s slot, start time.Time) Firing {
	room, _ := fits(p.kinds, s.counts, p.kilns[s.kiln], p.gap)
	return Firing{Kiln: s.kiln, Start: start, Hours: p.can(s.kiln, s.set).hours, Counts: s.counts, Free: room}
}

// late returns the kinds of which pieces come out after their day.
func (p *planner) late(list []Firing) (out []Late) {
	for i, k := range p.kinds {
		if k.Due.IsZero() {
			continue
		}
		l := Late{Kind: i}
		for _, f := range list {
			if by := f.Ready().Sub(k.Due); f.Counts[i] > 0 && by > 0 {
				l.Count += f.Counts[i]
				l.By = max(l.By, by)
			}
		}
		if l.Count > 0 {
			out = append(out, l)
		}
	}
	return out
}

// search looks for a plan of m firings in which nothing is late. all says that
// every way in bands was tried, so that there is none if none is found.
func (p *planner) search(m int, pairs []uint64) (found []Firing, all bool) {
	p.steps = 0
	kinds := p.order(false) // what covers most is the hardest to place
	slices.SortStableFunc(kinds, func(a, b int) int { return cmp.Compare(p.leastDepth(p.kinds[b]), p.leastDepth(p.kinds[a])) })
	p.prune, p.pairs = p.newPrune(), pairs
	split := make([]int, len(p.kilns))
	var give func(c, left int) []Firing
	give = func(c, left int) []Firing {
		if p.steps > MostSteps || !p.spend(1) {
			return nil
		}
		if c == len(p.kilns)-1 {
			split[c] = left
			if left > len(p.kilns[c].Nights) {
				return nil
			}
			var slots []slot
			for k, n := range split {
				for range n {
					slots = append(slots, slot{kiln: k, counts: make([]int, len(p.kinds))})
				}
			}
			return p.assign(slots, kinds, 0, 0, p.kinds[kinds[0]].Count)
		}
		for n := min(left, len(p.kilns[c].Nights)); n >= 0; n-- {
			split[c] = n
			if got := give(c+1, left-n); got != nil {
				return got
			}
		}
		return nil
	}
	found = give(0, m)
	return found, p.steps <= MostSteps && p.more() && !p.unasked
}

// assign puts what is left of the kind at place k of the order into the slots
// from place s on.
func (p *planner) assign(slots []slot, order []int, k, s, left int) []Firing {
	if p.steps++; p.steps > MostSteps || p.err != nil || !p.spend(len(slots)*len(order)) {
		return nil
	}
	if left == 0 {
		if k++; k == len(order) {
			return p.schedule(slots)
		}
		p.spend(20 * len(slots) * len(order))
		key, hopeless := p.prune.known(slots, k)
		if hopeless {
			return nil
		}
		got := p.assign(slots, order, k, 0, p.kinds[order[k]].Count)
		if got == nil && p.steps <= MostSteps && p.more() && len(p.prune.seen) < MostStates {
			p.prune.seen[key] = true
		}
		return got
	}
	if p.prune.hopeless(p, slots, order, k, s, left, p.pairs) {
		return nil
	}
	if s == len(slots) {
		return nil
	}
	kind := order[k]
	// Slots that are alike so far are filled in falling order.
	limit := left
	if s > 0 && slots[s].kiln == slots[s-1].kiln && alike(slots[s], slots[s-1], kind) {
		limit = min(limit, slots[s-1].counts[kind])
	}
	most := p.most(slots[s], kind, limit)
	was := slots[s].set
	for n := most; n >= 0; n-- {
		slots[s].counts[kind] = n
		slots[s].set = was
		if n > 0 {
			slots[s].set |= 1 << kind
		}
		if got := p.assign(slots, order, k, s+1, left-n); got != nil {
			return got
		}
		if p.steps > MostSteps || !p.more() {
			break
		}
	}
	slots[s].counts[kind], slots[s].set = 0, was
	return nil
}

// alike reports whether two slots hold the same but for one kind.
func alike(a, b slot, but int) bool {
	for i := range a.counts {
		if i != but && a.counts[i] != b.counts[i] {
			return false
		}
	}
	return true
}

// schedule gives the slots of each kiln its nights, those due first, and
// returns the firings if nothing is late.
func (p *planner) schedule(slots []slot) []Firing {
	p.spend(40 * len(slots) * len(p.kinds))
	due := func(s slot) time.Time {
		var d time.Time
		for i, n := range s.counts {
			if x := p.kinds[i].Due; n > 0 && !x.IsZero() && (d.IsZero() || x.Before(d)) {
				d = x
			}
		}
		return d
	}
	var out []Firing
	for c, kiln := range p.kilns {
		var mine []slot
		for _, s := range slots {
			if s.kiln == c && countsOf(s) > 0 {
				s.counts = slices.Clone(s.counts)
				mine = append(mine, s)
			}
		}
		order := placesBy(len(mine), func(a, b int) int {
			x, y := due(mine[a]), due(mine[b])
			switch {
			case x.Equal(y): // the shorter first
				return cmp.Compare(p.can(c, mine[a].set).hours, p.can(c, mine[b].set).hours)
			case x.IsZero():
				return 1
			case y.IsZero():
				return -1
			}
			return x.Compare(y)
		})
		at := 0
		free := time.Time{}
		for _, place := range order {
			for at < len(kiln.Nights) && kiln.Nights[at].Before(free) {
				at++
			}
			if at == len(kiln.Nights) {
				return nil
			}
			f := p.firing(mine[place], kiln.Nights[at])
			out = append(out, f)
			free = f.Ready().Add(kiln.Empty)
			at++
		}
	}
	if len(p.late(out)) > 0 {
		return nil
	}
	return out
}
