package picture

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// box is a label or a key with its place.
type box struct {
	name string
	rect vg.Rectangle
}

// layout keeps what is drawn in a panel, so that labels go where nothing is.
type layout struct {
	area    vg.Rectangle
	boxes   []box
	paths   [][]vg.Point
	crowded bool // a label found no room
}

// gap is kept between a label and anything else.
const gap = vg.Length(2.5)

// free reports whether a rectangle lies in the area and meets nothing.
func (l *layout) free(r vg.Rectangle) bool {
	if r.Min.X < l.area.Min.X+gap || r.Max.X > l.area.Max.X-gap || r.Min.Y < l.area.Min.Y+gap/2 || r.Max.Y > l.area.Max.Y-gap/2 {
		return false
	}
	r = grown(r, gap)
	for _, b := range l.boxes {
		if meet(r, b.rect) {
			return false
		}
	}
	for _, path := range l.paths {
		for i := 1; i < len(path); i++ {
			if crosses(path[i-1], path[i], r) {
				return false
			}
		}
	}
	return true
}

func grown(r vg.Rectangle, by vg.Length) vg.Rectangle {
	return vg.Rectangle{Min: vg.Point{X: r.Min.X - by, Y: r.Min.Y - by}, Max: vg.Point{X: r.Max.X + by, Y: r.Max.Y + by}}
}

func meet(a, b vg.Rectangle) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

// crosses reports whether a stretch of a line runs through a rectangle
// (Liang and Barsky's clipping).
func crosses(a, b vg.Point, r vg.Rectangle) bool {
	from, to := 0.0, 1.0
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	for _, e := range [4][2]float64{
		{-dx, float64(a.X - r.Min.X)}, {dx, float64(r.Max.X - a.X)},
		{-dy, float64(a.Y - r.Min.Y)}, {dy, float64(r.Max.Y - a.Y)},
	} {
		switch {
		case e[0] == 0 && e[1] < 0:
			return false
		case e[0] < 0:
			from = math.Max(from, e[1]/e[0])
		case e[0] > 0:
			to = math.Min(to, e[1]/e[0])
		}
	}
	return from <= to
}

// nearest finds the free place for a label of this size that costs least. The
// cost of a place is given for its center; ok is false when nothing is free.
func (l *layout) nearest(w, h vg.Length, cost func(center vg.Point) float64) (best vg.Rectangle, ok bool) {
	const step = vg.Length(2)
	least := math.Inf(1)
	for x := l.area.Max.X - w - 2*gap; x >= l.area.Min.X; x -= step {
		for y := l.area.Min.Y + gap; y+h <= l.area.Max.Y; y += step {
			k := cost(vg.Point{X: x + w/2, Y: y + h/2})
			if k >= least {
				continue
			}
			if r := (vg.Rectangle{Min: vg.Point{X: x, Y: y}, Max: vg.Point{X: x + w, Y: y + h}}); l.free(r) {
				best, least, ok = r, k, true
			}
		}
	}
	return best, ok
}

func (l *layout) put(name string, r vg.Rectangle) { l.boxes = append(l.boxes, box{name, r}) }

// thin leaves out the points of a path that lie within tolerance of the line
// between their neighbors (Ramer, Douglas and Peucker).
func thin(path []vg.Point, tolerance vg.Length) []vg.Point {
	if len(path) < 3 {
		return path
	}
	a, b := path[0], path[len(path)-1]
	length := math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
	worst, at := -1.0, 0
	for i, p := range path[1 : len(path)-1] {
		d := math.Hypot(float64(p.X-a.X), float64(p.Y-a.Y))
		if length > 0 {
			d = math.Abs(float64((b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X))) / length
		}
		if d > worst {
			worst, at = d, i+1
		}
	}
	if worst <= float64(tolerance) {
		return []vg.Point{a, b}
	}
	left := thin(path[:at+1], tolerance)
	return append(slices.Clone(left[:len(left)-1]), thin(path[at:], tolerance)...)
}
