package week

import (
	"fmt"
	"math"
	"math/bits"
	"slices"
	"strings"

	"lehr/glass/unit"
)

// MostStates is how many half-filled weeks a search remembers as hopeless.
const MostStates = 200000

// prune is what tells a search that a half-filled week cannot be completed.
type prune struct {
	share [][]float64 // of the shelf of a kiln that a piece of a kind takes at least, by kind and kiln
	area  []float64   // that a piece of a kind takes at least in any kiln
	shelf []float64   // area of a shelf, by kiln
	seen  map[string]bool
}

func (p *planner) newPrune() *prune {
	b := &prune{seen: map[string]bool{}}
	for _, kiln := range p.kilns {
		b.shelf = append(b.shelf, float64(kiln.Width)*float64(kiln.Depth))
	}
	for _, k := range p.kinds {
		least := math.Inf(1)
		var shares []float64
		for c, kiln := range p.kilns {
			s := leastShare(k, kiln, p.gap)
			shares = append(shares, s)
			least = min(least, s*b.shelf[c])
		}
		b.share, b.area = append(b.share, shares), append(b.area, least)
	}
	return b
}

// leastShare returns the share of a shelf that a piece of a kind cannot do
// without, whatever lies beside it; infinite where it does not go in.
func leastShare(k Kind, kiln Kiln, gap unit.Length) float64 {
	best := math.Inf(1)
	if k.Height > kiln.Height {
		return best
	}
	for _, s := range [][2]unit.Length{{kiln.Width, kiln.Depth}, {kiln.Depth, kiln.Width}} {
		room := float64(s[1] + gap)
		for n := 1; n <= k.Count; n++ { // the least depth per piece over any number that fits
			d := k.Foot.band(s[0], gap, n)
			if d > room+hair {
				break
			}
			best = min(best, d/float64(n)/room)
		}
	}
	return best
}

// hopeless reports whether what is left cannot go into the slots: left pieces of
// the kind at place k of the order into those from s on, and all later kinds
// into any.
func (b *prune) hopeless(p *planner, slots []slot, order []int, k, s, left int, pairs []uint64) bool {
	room := make([]float64, len(slots)) // share of each shelf
	total := 0.0
	for i, x := range slots {
		room[i] = 1
		for rest := x.set; rest != 0; rest &= rest - 1 {
			kind := bits.TrailingZeros64(rest)
			room[i] -= float64(x.counts[kind]) * b.share[kind][x.kiln]
		}
		total += room[i] * b.shelf[x.kiln]
	}
	const some = 1e-6
	for i, kind := range order[k:] {
		n, from := p.kinds[kind].Count, 0
		if i == 0 {
			n, from = left, s
		}
		if n == 0 {
			continue
		}
		total -= float64(n) * b.area[kind]
		for j := from; j < len(slots) && n > 0; j++ {
			if slots[j].set&pairs[kind] == 0 && !math.IsInf(b.share[kind][slots[j].kiln], 1) {
				n -= int(max(0, room[j])/b.share[kind][slots[j].kiln] + some)
			}
		}
		if n > 0 {
			return true
		}
	}
	return total < -some*b.shelf[0]
}

// known reports whether a week filled up to a kind was found hopeless before,
// perhaps with its slots in another order.
func (b *prune) known(slots []slot, k int) (key string, hopeless bool) {
	parts := make([]string, len(slots))
	for i, s := range slots {
		parts[i] = fmt.Sprint(s.kiln, s.counts)
	}
	slices.Sort(parts)
	key = fmt.Sprint(k) + strings.Join(parts, ";")
	return key, b.seen[key]
}

// conflicts finds the pairs of kinds that no kiln fires together, as one set of
// kinds for each. Beyond [MostKinds] kinds it goes by what was asked already.
func (p *planner) conflicts(out *Plan) []uint64 {
	pairs := make([]uint64, len(p.kinds))
	for i := range p.kinds {
		for j := range i {
			if why := p.apart(i, j); why != nil {
				pairs[i] |= 1 << j
				pairs[j] |= 1 << i
				out.Conflicts = append(out.Conflicts, Conflict{j, i, why})
			}
		}
	}
	return pairs
}

// apart returns why no kiln fires two kinds together, if none is known to do.
func (p *planner) apart(i, j int) (why error) {
	for c, kiln := range p.kilns {
		a, ok := p.asked[question{kiln.Heat, 1<<i | 1<<j}]
		if !ok && len(p.kinds) <= MostKinds {
			a, ok = p.can(c, 1<<i|1<<j), true
		}
		if !ok || a.apart == nil || a.apart == ErrUnasked {
			return nil
		}
		why = a.apart
	}
	return why
}

// least returns a number of firings below which no plan in bands goes.
//
// By shelf: a firing holds at most one shelf, and a piece of a kind takes at
// least 1/capacity of the largest. By conflict: kinds of which no two can share
// need firings of their own.
func (p *planner) least(pairs []uint64) (n int, because string) {
	share := 0.0
	alone := make([]int, len(p.kinds))
	for i, k := range p.kinds {
		most := 0
		for _, kiln := range p.kilns {
			most = max(most, capacity(k, kiln, p.gap, k.Count))
		}
		alone[i] = (k.Count + most - 1) / most
		share += p.leastDepth(k)
	}
	n, because = int(math.Ceil(share-1e-6)), "shelf"
	if n < 1 {
		n = 1
	}
	// Cliques: every set up to MostKinds kinds, beyond them one kind at a time.
	if len(p.kinds) <= MostKinds {
		for set := uint64(1); set < 1<<len(p.kinds); set++ {
			sum, clique := 0, true
			for rest := set; rest != 0 && clique; rest &= rest - 1 {
				i := bits.TrailingZeros64(rest)
				clique = set&^pairs[i] == 1<<i
				sum += alone[i]
			}
			if clique && sum > n {
				n, because = sum, "conflict"
				if bits.OnesCount64(set) == 1 {
					because = "shelf"
				}
			}
		}
		return n, because
	}
	for _, a := range alone {
		n = max(n, a)
	}
	return n, because
}

// leastDepth returns the share of the largest shelf that the pieces of a kind
// cannot do without, whatever lies beside them.
func (p *planner) leastDepth(k Kind) float64 {
	best := math.Inf(1)
	for _, kiln := range p.kilns {
		best = min(best, leastShare(k, kiln, p.gap))
	}
	return best * float64(k.Count)
}
