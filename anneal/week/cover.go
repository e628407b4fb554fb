package week

import (
	"cmp"
	"fmt"
	"slices"
)

// weekOf is a search for a week of m firings among the fillings that are near.
type weekOf struct {
	*patterns
	m       int
	of      [][]int // which of all hold a kind
	order   []int   // kinds, those in the fewest fillings first
	due     bool    // some kind has a day
	left    []int   // pieces of each kind not yet laid
	nights  []int   // of each kiln not yet taken
	slots   []slot
	dead    map[string]bool // what is left where nothing was found
	refused int             // weeks that hold everything, but not in time
	tried   int
}

// MostCovers is how many half-filled weeks are tried.
const MostCovers = 300000

// cover looks for m firings that hold everything in time. all says that every way
// was tried.
func (ps *patterns) cover(m int) (found []Firing, all bool) {
	if ps.price == nil {
		return nil, false
	}
	all = ps.near(m)
	w := &weekOf{patterns: ps, m: m, of: make([][]int, len(ps.p.kinds)), dead: map[string]bool{}}
	for at, f := range ps.all {
		for i, n := range f.counts {
			if n > 0 {
				w.of[i] = append(w.of[i], at)
			}
		}
	}
	for i, k := range ps.p.kinds {
		w.left, w.order = append(w.left, k.Count), append(w.order, i)
		w.due = w.due || !k.Due.IsZero()
	}
	slices.SortStableFunc(w.order, func(a, b int) int { return cmp.Compare(len(w.of[a]), len(w.of[b])) })
	for _, kiln := range ps.p.kilns {
		w.nights = append(w.nights, len(kiln.Nights))
	}
	found = w.put()
	return found, all && w.refused == 0 && w.tried <= MostCovers && ps.p.more()
}

// put lays what is left.
func (w *weekOf) put() []Firing {
	if w.tried++; w.tried > MostCovers || w.p.err != nil || !w.p.spend(100) {
		return nil
	}
	at := slices.IndexFunc(w.order, func(i int) bool { return w.left[i] > 0 })
	if at < 0 {
		got := w.p.schedule(w.slots)
		if got == nil {
			w.refused++
		}
		return got
	}
	free := w.m - len(w.slots)
	if free == 0 {
		return nil
	}
	key := fmt.Sprint(w.left, w.nights)
	if w.dead[key] {
		return nil
	}
	refused := w.refused
	for _, f := range w.choices(w.order[at], free) {
		if got := w.with(f); got != nil || !w.p.more() {
			return got
		}
	}
	if w.refused == refused && w.tried <= MostCovers && w.p.more() {
		w.dead[key] = true
	}
	return nil
}

// choices returns what can be laid next that holds a kind, what is worth most
// first, as far as the rest can still go into the other firings.
func (w *weekOf) choices(kind, free int) []pattern {
	type choice struct {
		pattern
		worth float64
	}
	room := float64(free) // what the firings can be worth together
	for c, n := range w.nights {
		room += float64(min(n, free)) * w.night[c]
	}
	need := -room
	for i, n := range w.left {
		need += float64(n) * w.price[i]
	}
	var list []choice
	for _, at := range w.of[kind] {
		f := w.all[at]
		if !w.p.spend(len(w.left)) {
			return nil
		}
		if w.nights[f.kiln] == 0 {
			continue
		}
		worth := -1 - w.night[f.kiln]
		for i, n := range f.counts {
			worth += float64(min(n, w.left[i])) * w.price[i]
		}
		if need-worth > 100*some {
			continue
		}
		counts := slices.Clone(f.counts)
		for i := range counts {
			counts[i] = min(counts[i], w.left[i])
		}
		list = append(list, choice{pattern{f.kiln, counts}, worth})
	}
	var out []pattern
	for _, place := range placesBy(len(list), func(a, b int) int { return cmp.Compare(list[b].worth, list[a].worth) }) {
		f, at := list[place], -1
		if !w.due {
			at = slices.IndexFunc(out, func(o pattern) bool { return o.kiln == f.kiln && holds(o.counts, f.counts) })
		}
		looked := at
		if at < 0 {
			out = append(out, f.pattern)
			looked = len(out)
		}
		if !w.p.spend(20 + 2*looked) {
			return nil
		}
	}
	return out
}

// holds reports whether a holds all that b does.
func holds(a, b []int) bool {
	for i := range a {
		if a[i] < b[i] {
			return false
		}
	}
	return true
}

// with goes on with one filling more.
func (w *weekOf) with(f pattern) []Firing {
	s := slot{kiln: f.kiln, counts: f.counts}
	for i, n := range f.counts {
		if n > 0 {
			s.set |= 1 << i
		}
	}
	if w.p.can(f.kiln, s.set).apart != nil {
		w.refused++ // fewer kinds may share
		return nil
	}
	for i, n := range s.counts {
		w.left[i] -= n
	}
	w.nights[f.kiln]--
	w.slots = append(w.slots, s)
	got := w.put()
	w.slots = w.slots[:len(w.slots)-1]
	w.nights[f.kiln]++
	for i, n := range s.counts {
		w.left[i] += n
	}
	return got
}
