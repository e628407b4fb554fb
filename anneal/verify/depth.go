package verify

import (
	"math"
	"slices"

	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// byDepth is a profile from the surface inward, raised.
func byDepth(p sim.Profile, raise float64) (out []AtDepth) {
	n := len(p.Depth) - 1
	for i := n; i >= 0; i-- {
		out = append(out, AtDepth{1 - p.Depth[i]/p.Depth[n], unit.Stress(math.Max(p.Plane[i], p.Axial[i]) * raise)})
	}
	return out
}

// scaled returns a share of the stresses, in a slice of its own.
func scaled(at []AtDepth, by float64) []AtDepth {
	out := slices.Clone(at)
	for i := range out {
		out[i].Stress *= unit.Stress(by)
	}
	return out
}

// raisedTo returns stresses of which the greatest is as much as given.
func raisedTo(at []AtDepth, most unit.Stress) []AtDepth {
	greatest := unit.Stress(0)
	for _, d := range at {
		greatest = max(greatest, d.Stress)
	}
	return scaled(at, ratio(float64(most), float64(greatest)))
}

// AtDepth is a stress in the plane of the surface, at a depth under it as a share
// of the way in.
type AtDepth struct {
	Depth  float64
	Stress unit.Stress
}
