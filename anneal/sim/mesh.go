package sim

import "math"

// What cools or heats faster than heat travels through the piece changes a thin
// layer under its face only: sqrt(κ t) deep after the time t. layerShare of that
// depth is as far as the node next to the face may lie; even cells do for most
// work, and are drawn toward the face where they do not. fastestStep is the
// least change of the kiln that counts as a ramp of its own [K].
const (
	layerShare   = 0.13
	fastestStep  = 5.0
	fastRate     = 300.0 / 3600 // [K/s]; above, the tolerance is halved
	greatestDraw = 6.0          // the first cell over the last; more would starve the inside
)

const (
	usualCells = 16 // even, or drawn
	thinCells  = 32 // where the layer is thin
)

// fit chooses cells and tolerance for a problem where none were asked for.
func (s Settings) fit(p *Problem) Settings {
	time, rate := quickest(p)
	if s.Cells == 0 {
		s.Cells = usualCells
		skin := p.Start(1)
		kappa := p.Material.Conductivity(skin) / (p.Material.Density * p.Material.SpecificHeat(skin))
		if (p.Body.Outer-p.Body.Inner)/usualCells > layerShare*math.Sqrt(kappa*time) {
			s.Cells = thinCells
		}
	}
	if s.Tolerance == 0 {
		s.Tolerance = 0.1
		if rate > fastRate {
			s.Tolerance = 0.05
		}
	}
	return s
}

// quickest returns the time of the shortest ramp of the kiln [s] and the rate of
// its fastest [K/s].
func quickest(p *Problem) (least, rate float64) {
	least = math.Inf(1)
	t, before := 0.0, p.Kiln.At(0)
	for _, end := range p.Kiln.Kinks {
		now := p.Kiln.At(end)
		if change := math.Abs(now - before); end > t && change >= fastestStep {
			least, rate = min(least, end-t), max(rate, change/(end-t))
		}
		t, before = end, now
	}
	return least, rate
}

// draw returns by how much the innermost cell must be longer than the one at
// the face, 1 for even cells.
func draw(p *Problem, cells int, diffusivity float64) float64 {
	time, _ := quickest(p)
	wall := p.Body.Outer - p.Body.Inner
	even := wall / float64(cells)
	want := layerShare * math.Sqrt(diffusivity*time)
	if even <= want {
		return 1
	}
	// The last cell as the ratio of the series grows, by bisection in its logarithm.
	low, high := 1.0, greatestDraw
	for range 30 {
		mid := math.Sqrt(low * high)
		g := spacing(wall, cells, mid, p.Body.InnerOpen)
		if g[cells-1] > want {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// spacing divides a wall into cells that shrink in a geometric series toward
// its cooled face, or from its middle toward both.
func spacing(wall float64, cells int, draw float64, both bool) []float64 {
	g := make([]float64, cells)
	sum := 0.0
	for i := range g {
		x := float64(i) / float64(cells-1) // 0 innermost, 1 at the face
		if both {
			x = math.Abs(2*x - 1)
		}
		g[i] = math.Pow(draw, -x)
		sum += g[i]
	}
	for i := range g {
		g[i] *= wall / sum
	}
	return g
}
