package week

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"lehr/glass/unit"
)

// pattern is one filling of a kiln: how many of each kind.
type pattern struct {
	kiln   int
	counts []int
}

// step is a number of pieces of a kind and the depth of the shelf that they take,
// with one more of which another row begins.
type step struct {
	n     int
	depth float64
}

// patterns holds the fillings that matter for the fewest firings, and what each
// piece of a kind counts for by them.
//
// The fewest firings, if they could be fractions, are the linear program of
// cutting stock: every filling a column, found when it is needed. Its prices bound
// the whole number from below at any time, once no filling is worth more than one
// firing.
//
// Source: Gilmore and Gomory (1961), Operations Research 9, 849 [memory]; the
// bound from any prices: Farley (1990), Operations Research 38, 922 [memory];
// checked against whole orders in size_test.go and published sizes in week.toml.
type patterns struct {
	p     *planner
	pairs []uint64
	steps [][2][][]step // by kiln and way round of the shelf: by kind, in falling number
	room  [][2]float64
	all   []pattern
	price []float64 // of a piece of each kind, in firings
	night []float64 // of a night of each kiln, in firings
	bound float64
}

// MostPrices is how often prices are found anew.
const MostPrices = 300

func (p *planner) newPatterns(pairs []uint64, found []Firing) *patterns {
	ps := &patterns{p: p, pairs: pairs}
	for c, kiln := range p.kilns {
		var steps [2][][]step
		var room [2]float64
		for side, s := range [][2]unit.Length{{kiln.Width, kiln.Depth}, {kiln.Depth, kiln.Width}} {
			room[side] = float64(s[1] + p.gap)
			for _, k := range p.kinds {
				steps[side] = append(steps[side], stepsOf(k, kiln, s[0], p.gap, room[side]))
			}
		}
		ps.steps, ps.room = append(ps.steps, steps), append(ps.room, room)
		for i := range p.kinds { // a price has an end where each kind lies in some filling
			counts := make([]int, len(p.kinds))
			for side := range steps {
				if s := steps[side][i]; len(s) > 0 {
					counts[i] = max(counts[i], s[0].n)
				}
			}
			if counts[i] > 0 {
				ps.all = append(ps.all, pattern{c, counts})
			}
		}
	}
	for _, f := range found {
		ps.all = append(ps.all, pattern{f.Kiln, f.Counts})
	}
	ps.solve()
	return ps
}

// stepsOf returns the numbers of a kind worth laying on a shelf, most first.
func stepsOf(k Kind, kiln Kiln, width, gap unit.Length, room float64) (out []step) {
	if k.Height > kiln.Height {
		return nil
	}
	for n := 1; n <= k.Count; n++ {
		d := k.Foot.band(width, gap, n)
		if d > room+hair {
			break
		}
		if len(out) > 0 && d <= out[len(out)-1].depth+hair {
			out = out[:len(out)-1]
		}
		out = append(out, step{n, d})
	}
	slices.Reverse(out)
	return out
}

// solve finds prices until no filling is worth more than it takes.
func (ps *patterns) solve() {
	for range MostPrices {
		if !ps.prices() {
			return
		}
		worth := 1.0
		more := false
		for c := range ps.p.kilns {
			best, value := ps.dearest(c)
			value -= ps.night[c]
			worth = max(worth, value)
			if value > 1+1e-7 {
				ps.all = append(ps.all, best)
				more = true
			}
		}
		sum := 0.0
		for i, k := range ps.p.kinds {
			sum += float64(k.Count) * ps.price[i]
		}
		for c, kiln := range ps.p.kilns {
			sum -= float64(len(kiln.Nights)) * ps.night[c]
		}
		ps.bound = max(ps.bound, sum/worth)
		if !more {
			return
		}
	}
}

// prices solves for what each piece and each night count for at most, no filling
// that is known being worth more than its firing. It reports whether it could.
func (ps *patterns) prices() bool {
	kinds := len(ps.p.kinds)
	var gain []float64
	for _, k := range ps.p.kinds {
		gain = append(gain, float64(k.Count))
	}
	for _, kiln := range ps.p.kilns {
		gain = append(gain, -float64(len(kiln.Nights)))
	}
	rows := make([][]float64, len(ps.all))
	for r, f := range ps.all {
		rows[r] = make([]float64, len(gain))
		for i, n := range f.counts {
			rows[r][i] = float64(n)
		}
		rows[r][kinds+f.kiln] = -1
	}
	x, ok := best(gain, rows)
	if ok {
		ps.price, ps.night = x[:kinds], x[kinds:]
	}
	return ok
}

// dearest returns the filling of a kiln that is worth most by the prices.
func (ps *patterns) dearest(kiln int) (best pattern, most float64) {
	best = pattern{kiln, make([]int, len(ps.p.kinds))}
	for side := range ps.steps[kiln] {
		ps.fillings(kiln, side, func(counts []int, value, cut float64, _ bool) bool {
			if value > most+some {
				most = value
				copy(best.counts, counts)
			}
			return cut > most+some
		})
	}
	return best, most
}

// near adds every filling that a plan of m firings can hold: each is worth less
// than its firing by no more than the whole plan is. It reports whether those are
// all.
func (ps *patterns) near(m int) bool {
	least := 1 - (float64(m) - ps.bound) - 10*some
	ps.all = nil
	steps := 0
	for c := range ps.p.kilns {
		for side := range ps.steps[c] {
			ps.fillings(c, side, func(counts []int, value, cut float64, whole bool) bool {
				if whole && value-ps.night[c] >= least && len(ps.all) < MostPatterns {
					ps.all = append(ps.all, pattern{c, slices.Clone(counts)})
				}
				steps++
				return cut-ps.night[c] >= least && steps < MostSteps && len(ps.all) < MostPatterns
			})
		}
	}
	return len(ps.all) < MostPatterns && steps < MostSteps
}

// MostPatterns is how many fillings are kept.
const MostPatterns = 100000

// some forgives the noise of prices.
const some = 1e-9

// fillings goes through the fillings of a kiln one way round. visit is told each,
// its worth, and what it is worth at most with what else can be added until it is
// whole; what is beyond is left out where it answers no.
func (ps *patterns) fillings(kiln, side int, visit func(counts []int, value, cut float64, whole bool) bool) {
	kinds := len(ps.p.kinds)
	steps := ps.steps[kiln][side]
	var order []int
	dense := make([]float64, kinds) // worth of a kind by depth, at the most
	for i := range steps {
		for _, s := range steps[i] {
			dense[i] = max(dense[i], float64(s.n)*ps.price[i]/s.depth)
		}
		if len(steps[i]) > 0 {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(dense[b], dense[a]) })
	counts := make([]int, kinds)
	var fill func(at int, set uint64, room, value float64)
	fill = func(at int, set uint64, room, value float64) {
		// What is left is worth no more than if it could be cut.
		cut, rest := value, room
		for _, i := range order[at:] {
			if set&ps.pairs[i] != 0 || dense[i] == 0 {
				continue
			}
			d := min(rest, float64(steps[i][0].n)*ps.price[i]/dense[i])
			cut += d * dense[i]
			if rest -= d; rest <= 0 {
				break
			}
		}
		if !visit(counts, value, cut, at == len(order)) || at == len(order) {
			return
		}
		i := order[at]
		if set&ps.pairs[i] == 0 {
			for _, s := range steps[i] {
				if s.depth <= room+hair {
					counts[i] = s.n
					fill(at+1, set|1<<i, room-s.depth, value+float64(s.n)*ps.price[i])
				}
			}
			counts[i] = 0
		}
		fill(at+1, set, room, value)
	}
	fill(0, 0, ps.room[kiln][side], 0)
}

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
	return found, all && w.refused == 0 && w.tried <= MostCovers
}

// put lays what is left.
func (w *weekOf) put() []Firing {
	if w.tried++; w.tried > MostCovers || w.p.err != nil {
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
		if got := w.with(f); got != nil {
			return got
		}
	}
	if w.refused == refused && w.tried <= MostCovers {
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
	slices.SortStableFunc(list, func(a, b choice) int { return cmp.Compare(b.worth, a.worth) })
	var out []pattern
	for _, f := range list {
		if w.due || !slices.ContainsFunc(out, func(o pattern) bool { return o.kiln == f.kiln && holds(o.counts, f.counts) }) {
			out = append(out, f.pattern)
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
	if w.p.can(f.kiln, s.set).why != "" {
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

// least returns the whole number of firings that no plan in bands goes below.
func (ps *patterns) least() int { return int(math.Ceil(ps.bound - 1e-6)) }
