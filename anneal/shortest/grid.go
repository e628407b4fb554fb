package shortest

import (
	"math"
	"slices"
)

// grid is the ladder of temperatures on which the search chooses soak and
// break temperatures: node 0 is the hottest soak that is allowed, the last the
// opening temperature. Cell j lies between nodes j and j+1.
type grid struct {
	node       []float64 // [K], falling
	soaks      int       // nodes 0..soaks-1 may be the soak
	hold       []float64 // soak needed at each of them [s], +Inf if none is enough
	heats      [][]ramp  // the heating to each of them
	climb      []float64 // time from the start of the program to the soak temperature [s]
	frozenFrom int       // cells from here on are frozen: what is left does not depend on them
	natural    []float64 // how fast the kiln falls by itself at each node [K/s]
	alone      []float64 // how long it then takes from each node to the last [s]
}

func (g grid) clone() grid {
	g.hold, g.climb, g.heats = slices.Clone(g.hold), slices.Clone(g.climb), slices.Clone(g.heats)
	return g
}

func (g grid) cells() int           { return len(g.node) - 1 }
func (g grid) width(j int) float64  { return g.node[j] - g.node[j+1] }
func (g grid) middle(j int) float64 { return 0.5 * (g.node[j] + g.node[j+1]) }

// rates spreads the cooling ramps of a draft over the cells. Cells above the
// soak take the rate of the first ramp.
func (g grid) rates(d draft) []float64 {
	r := make([]float64, g.cells())
	for j := range r {
		r[j] = d.cools[len(d.cools)-1].rate
		for i := len(d.cools) - 1; i >= 0; i-- {
			if g.middle(j) > d.cools[i].to {
				r[j] = d.cools[i].rate
			}
		}
	}
	return r
}

// stairs is the program of a staircase from a soak node on.
func (g grid) stairs(base draft, soak int, rate []float64) draft {
	d := base.clone()
	d.cools = nil
	for j := soak; j < g.cells(); j++ {
		d.cools = append(d.cools, ramp{g.node[j+1], rate[j]})
	}
	return d
}

// soakOf is the node nearest to the soak of a draft, of those where some hold is enough.
func (g grid) soakOf(d draft) (best int) {
	least := math.Inf(1)
	for a := range g.soaks {
		if by := math.Abs(g.node[a] - d.soak); by < least && !math.IsInf(g.hold[a], 1) {
			best, least = a, by
		}
	}
	return best
}
