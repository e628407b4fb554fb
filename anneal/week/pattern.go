package week

import (
	"cmp"
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
			if !ps.p.more() { // a filling worth more may have been left out
				return
			}
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
	x, ok := best(gain, rows, ps.p.spend)
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
	return len(ps.all) < MostPatterns && steps < MostSteps && ps.p.more()
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
		if !ps.p.spend(len(order)-at+4) || !visit(counts, value, cut, at == len(order)) || at == len(order) {
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

// least returns the whole number of firings that no plan in bands goes below.
func (ps *patterns) least() int { return int(math.Ceil(ps.bound - 1e-6)) }
