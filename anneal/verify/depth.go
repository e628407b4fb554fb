package verify

import (
	"math"

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

// AtDepth is a stress in the plane of the surface, at a depth under it as a share
// of the way in.
type AtDepth struct {
	Depth  float64
	Stress unit.Stress
}
