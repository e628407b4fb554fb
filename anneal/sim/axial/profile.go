package axial

import (
	"fmt"
	"math"

	"lehr/anneal/sim"
)

// Profile is the body that an outline makes when it is turned about its axis.
// The points [m] are joined by straight sides, in either sense. An outline that
// begins and ends on the axis is closed along it; any other must end at the
// point at which it begins, as that of a ring does. On a shelf the sides at the
// lowest height pass no heat.
//
// A curve is drawn with points that turn by less than 35° each; where the
// outline turns outward by more, an edge is taken to be sharp. An outline that
// crosses or touches itself, that has a negative radius, or that no mesh of four
// sides fits, is an error that names the point, counted from 1.
func Profile(points []Point, onShelf bool) Body {
	outline, err := checked(points)
	if err != nil {
		return refused(err)
	}
	lowest := math.Inf(1)
	for _, p := range outline {
		lowest = math.Min(lowest, p.Z)
	}
	borders := func(a, b Point) kind {
		switch {
		case a.R == 0 && b.R == 0:
			return axis
		case onShelf && math.Max(a.Z, b.Z)-lowest < 1e-9*size(outline):
			return closed
		}
		return open
	}
	return Body{func(cells int) (*grid, error) { return fit(outline, cells, borders) }}
}

// size is the larger side of the box around the points.
func size(points []Point) float64 {
	low, high := points[0], points[0]
	for _, p := range points {
		low = Point{math.Min(low.R, p.R), math.Min(low.Z, p.Z)}
		high = Point{math.Max(high.R, p.R), math.Max(high.Z, p.Z)}
	}
	return math.Max(high.R-low.R, high.Z-low.Z)
}

// ProfileError is an outline of which no body can be made. It wraps sim.ErrProblem.
type ProfileError struct{ Reason string }

func (e *ProfileError) Error() string { return sim.ErrProblem.Error() + ": profile: " + e.Reason }

// Unwrap returns what every error about a problem wraps.
func (e *ProfileError) Unwrap() error { return sim.ErrProblem }

func badProfile(format string, args ...any) error {
	return &ProfileError{fmt.Sprintf(format, args...)}
}

// checked returns the outline counterclockwise, each point once.
func checked(points []Point) ([]Point, error) {
	for i, p := range points {
		switch {
		case math.IsNaN(p.R+p.Z) || math.IsInf(p.R+p.Z, 0):
			return nil, badProfile("point %d: radius %g m and height %g m must be finite", i+1, p.R, p.Z)
		case p.R < 0:
			return nil, badProfile("point %d: radius %g m must not be negative", i+1, p.R)
		}
	}
	n := len(points)
	if n < 3 {
		return nil, badProfile("%d points, want 3 or more", n)
	}
	out := append([]Point(nil), points...)
	switch first, last := out[0], out[n-1]; {
	case first == last:
		out = out[:n-1]
		n--
	case first.R != 0 || last.R != 0:
		return nil, badProfile("is not closed: it must begin and end on the axis, or end at the point at which it begins; it runs from radius %g m to radius %g m", first.R, last.R)
	}
	for i, p := range out {
		if p == out[(i+1)%n] {
			return nil, badProfile("point %d is there twice", i+1)
		}
	}
	if n < 3 {
		return nil, badProfile("%d points, want 3 or more", n)
	}
	for i := range n {
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue
			}
			if meet(out[i], out[i+1], out[j], out[(j+1)%n]) {
				return nil, badProfile("the sides after points %d and %d meet", i+1, j+1)
			}
		}
	}
	area := 0.0
	for i, p := range out {
		area += p.cross(out[(i+1)%n]) / 2
	}
	if math.Abs(area) < 1e-9*size(out)*size(out) {
		return nil, badProfile("encloses no area")
	}
	if area < 0 {
		for i, j := 0, n-1; i < j; i, j = i+1, j-1 {
			out[i], out[j] = out[j], out[i]
		}
	}
	return out, nil
}

// meet reports whether two segments cross or touch.
func meet(a, b, c, d Point) bool {
	u, v := b.minus(a), d.minus(c)
	s1, s2 := u.cross(c.minus(a)), u.cross(d.minus(a))
	s3, s4 := v.cross(a.minus(c)), v.cross(b.minus(c))
	if s1*s2 < 0 && s3*s4 < 0 {
		return true
	}
	on := func(p, q, x Point, side float64) bool {
		return side == 0 && x.minus(p).dot(x.minus(q)) <= 0
	}
	return on(a, b, c, s1) || on(a, b, d, s2) || on(c, d, a, s3) || on(c, d, b, s4)
}

// turn is by how much the outline turns at point i, outward positive.
func turn(outline []Point, i int) float64 {
	n := len(outline)
	u, v := outline[i].minus(outline[(i+n-1)%n]), outline[(i+1)%n].minus(outline[i])
	return math.Atan2(u.cross(v), u.dot(v))
}
