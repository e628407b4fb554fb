package piece

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"

	"lehr/anneal/sim/axial"
	"lehr/glass/unit"
)

// Profile is half the outline of the section of a body of revolution [m].
type Profile struct{ Points []axial.Point }

// A profile is the outline of half a section, from the axis outward and around:
// points of radius and height, joined by straight sides.
const (
	fewestPoints = 3
	mostPoints   = 200
)

var pointParts = regexp.MustCompile(`[\s,;]+`)

// parsePoint reads "25mm 10mm": radius and height; 0 needs no unit.
func parsePoint(text string) (p axial.Point, err error) {
	words := pointParts.Split(strings.TrimSpace(text), -1)
	length := func(words []string) (float64, error) {
		joined := strings.Join(words, " ")
		if joined == "0" {
			return 0, nil
		}
		negative := strings.HasPrefix(joined, "-")
		l, err := unit.ParseLength(strings.TrimPrefix(joined, "-"))
		if err != nil {
			return 0, err
		}
		if negative {
			l = -l
		}
		return float64(l), nil
	}
	for i := 1; i < len(words); i++ {
		r, err1 := length(words[:i])
		z, err2 := length(words[i:])
		if err1 == nil && err2 == nil {
			if math.Abs(r) > float64(LongestPiece) || math.Abs(z) > float64(LongestPiece) {
				return p, fmt.Errorf("%q: lies beyond %s", text, LongestPiece)
			}
			return axial.Point{R: r, Z: z}, nil
		}
		if err == nil {
			err = err1
			if err == nil {
				err = err2
			}
		}
	}
	if err == nil {
		err = fmt.Errorf("is no radius and height")
	}
	return p, fmt.Errorf("%q: %w", text, err)
}

// profiled makes p the body that an outline draws when it is turned. Until it is
// computed as it is, the disc of its width, as thick as the largest ball that fits
// into it, stands for it.
func (p *Piece) profiled(texts []string) error {
	if len(texts) < fewestPoints || len(texts) > mostPoints {
		return fmt.Errorf("%d points: must be %d to %d", len(texts), fewestPoints, mostPoints)
	}
	points := make([]axial.Point, 0, len(texts))
	wide, low, high := 0.0, math.Inf(1), math.Inf(-1)
	for i, text := range texts {
		at, err := parsePoint(text)
		if err != nil {
			return fmt.Errorf("point %d: %w", i+1, err)
		}
		points = append(points, at)
		wide, low, high = math.Max(wide, at.R), math.Min(low, at.Z), math.Max(high, at.Z)
	}
	for _, lies := range []bool{true, false} {
		if err := axial.Profile(points, lies).Check(); err != nil {
			var wrong *axial.ProfileError
			if errors.As(err, &wrong) {
				return errors.New(wrong.Reason)
			}
			return err
		}
	}
	thick := unit.Length(greatestBall(points, wide, low, high))
	p.Profile = &Profile{points}
	p.Shape, p.Size, p.Across = DiscShape, thick, max(unit.Length(2*wide), thick)
	return p.check()
}

// greatestBall is the diameter of the largest circle that fits into the section,
// to a hundredth; it may cross the axis, as glass lies on both sides.
func greatestBall(outline []axial.Point, wide, low, high float64) float64 {
	const grid = 80
	best := 0.0
	n := len(outline)
	for i := range grid {
		for j := range grid {
			r, z := wide*float64(i)/grid, low+(high-low)*(float64(j)+0.5)/grid
			if !within(outline, r+1e-12, z) {
				continue
			}
			near := math.Inf(1)
			for k := range n {
				a, b := outline[k], outline[(k+1)%n]
				if a.R == 0 && b.R == 0 {
					continue // the axis
				}
				near = math.Min(near, away(a, b, r, z))
			}
			best = math.Max(best, 2*near)
		}
	}
	return best
}

// away is the distance of a point from a side.
func away(a, b axial.Point, r, z float64) float64 {
	dr, dz := b.R-a.R, b.Z-a.Z
	t := 0.0
	if l := dr*dr + dz*dz; l > 0 {
		t = math.Max(0, math.Min(1, ((r-a.R)*dr+(z-a.Z)*dz)/l))
	}
	return math.Hypot(r-a.R-t*dr, z-a.Z-t*dz)
}

// within reports whether a point lies inside an outline.
func within(outline []axial.Point, r, z float64) (in bool) {
	n := len(outline)
	for i := range n {
		a, b := outline[i], outline[(i+1)%n]
		if (a.Z > z) != (b.Z > z) && r < a.R+(z-a.Z)*(b.R-a.R)/(b.Z-a.Z) {
			in = !in
		}
	}
	return in
}
