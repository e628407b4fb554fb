package kiln

import (
	"fmt"
	"math"
	"slices"
	"time"

	"lehr/glass/unit"
)

// Curve is what a kiln did, or will do: straight lines between points. Outside
// its points it keeps the temperature of the nearest one. The zero value is not
// useful; see NewCurve.
type Curve struct {
	points  []Reading
	seconds []float64
	kelvin  []float64
}

// NewCurve returns the curve through points whose times rise. A time below zero
// is before the moment that counts as the start.
//
// Errors: *PointError for fewer than two points, times that do not rise, or a
// temperature that cannot be.
func NewCurve(points []Reading) (Curve, error) {
	if len(points) < 2 {
		return Curve{}, &PointError{Reason: fmt.Sprintf("%d points make no curve: must be at least 2", len(points)), Next: "give the beginning and the end"}
	}
	c := Curve{points: slices.Clone(points)}
	for i, p := range points {
		k := p.At.Kelvin()
		switch {
		case !(k > 0 && k < 4000):
			return Curve{}, &PointError{Point: i + 1, Reason: "cannot be a temperature of a kiln"}
		case i > 0 && p.Time <= points[i-1].Time:
			return Curve{}, &PointError{Point: i + 1, Reason: "is not later than the one before", Next: "give the points in the order of their times"}
		}
		c.seconds = append(c.seconds, p.Time.Seconds())
		c.kelvin = append(c.kelvin, k)
	}
	return c, nil
}

// Points returns the points of the curve in order of time.
func (c Curve) Points() []Reading { return slices.Clone(c.points) }

// Start and End are the first and the last time of the curve.
func (c Curve) Start() time.Duration { return c.points[0].Time }

// End is the last time of the curve.
func (c Curve) End() time.Duration { return c.points[len(c.points)-1].Time }

// At returns the temperature [K] at a time [s]: the function that a simulation
// takes.
func (c Curve) At(seconds float64) float64 {
	i, found := slices.BinarySearch(c.seconds, seconds)
	switch {
	case found:
		return c.kelvin[i]
	case i == 0:
		return c.kelvin[0]
	case i == len(c.seconds):
		return c.kelvin[i-1]
	}
	w := (seconds - c.seconds[i-1]) / (c.seconds[i] - c.seconds[i-1])
	return c.kelvin[i-1] + w*(c.kelvin[i]-c.kelvin[i-1])
}

// Temp returns the temperature at a time.
func (c Curve) Temp(at time.Duration) unit.Temp { return unit.Kelvin(c.At(at.Seconds())) }

// Kinks returns the times [s] above zero at which the slope of the curve
// changes, rising; the last is its end. A simulation steps from one to the next.
func (c Curve) Kinks() []float64 {
	var out []float64
	for _, s := range c.seconds {
		if s > 0 {
			out = append(out, s)
		}
	}
	return out
}

// From returns the curve from a time on, with that time as zero: what a piece
// sees that goes in then. The curve ends where it did, so from must lie before
// its end; the first point is at zero even where the curve begins later.
func (c Curve) From(from time.Duration) Curve {
	if from >= c.End() {
		panic("kiln: a curve from its end on")
	}
	out := []Reading{{At: c.Temp(from), Time: 0}}
	for _, p := range c.points {
		if p.Time > from {
			out = append(out, Reading{At: p.At, Time: p.Time - from})
		}
	}
	return mustCurve(out)
}

// Then returns the curve continued by another, whose zero is the end of this
// one. If their temperatures differ there, the kiln goes over within a second.
func (c Curve) Then(next Curve) Curve {
	out := c.Points()
	end := c.End()
	for _, p := range next.points {
		if p.Time >= 0 {
			p.Time += end
			if p.Time == end {
				if d := p.At.Sub(c.points[len(c.points)-1].At); math.Abs(float64(d)) < 1e-9 {
					continue
				}
				p.Time += time.Second
				if len(next.points) > 1 && next.points[1].Time <= time.Second {
					continue
				}
			}
			out = append(out, p)
		}
	}
	return mustCurve(out)
}

func mustCurve(points []Reading) Curve {
	c, err := NewCurve(points)
	if err != nil {
		panic("kiln: " + err.Error())
	}
	return c
}

// farthest is how many points Thin looks ahead, which bounds its work.
const farthest = 1500

// Thin returns a curve with fewer points that nowhere differs from this one by
// more than a tolerance. Its points are points of this one, the first and the
// last among them.
func (c Curve) Thin(tolerance unit.Delta) Curve {
	tol := float64(tolerance)
	last := len(c.points) - 1
	out := []Reading{c.points[0]}
	for a := 0; a < last; {
		// The cone of slopes from point a that pass every point so far within
		// the tolerance; the furthest point inside it is the next.
		low, high := math.Inf(-1), math.Inf(1)
		next := a + 1
		for j := a + 1; j <= min(last, a+farthest); j++ {
			d := c.seconds[j] - c.seconds[a]
			rise := c.kelvin[j] - c.kelvin[a]
			if slope := rise / d; slope >= low && slope <= high {
				next = j
			}
			low, high = math.Max(low, (rise-tol)/d), math.Min(high, (rise+tol)/d)
			if low > high {
				break
			}
		}
		out = append(out, c.points[next])
		a = next
	}
	return mustCurve(out)
}

// After returns where a kiln that is left to itself is after a time.
func (f Fall) After(from unit.Temp, d time.Duration) unit.Temp {
	excess := float64(from.Sub(f.Room))
	if excess <= 0 || d <= 0 {
		return from
	}
	return f.Room.Add(unit.Delta(f.after(excess, d.Seconds())))
}

// FallBetween returns the fall by Newton's law that takes a time from one
// temperature to a lower one, both above the room.
func FallBetween(room, from, to unit.Temp, d time.Duration) Fall {
	return Fall{Room: room, TimeConstant: time.Duration(float64(d) / math.Log(float64(from.Sub(room))/float64(to.Sub(room))))}
}

// Curve returns the fall from a temperature for a time, by straight lines that
// miss it by at most half a kelvin.
func (f Fall) Curve(from unit.Temp, d time.Duration) Curve {
	// A line over a step s misses θ exp(−t/τ) by s² θ/(8 τ²); the hottest part
	// of the fall needs the shortest step, which lengthens as it cools.
	const miss = 0.5
	out := []Reading{{At: from}}
	tau := f.TimeConstant.Seconds()
	for t := 0.0; t < d.Seconds(); {
		at := unit.Kelvin(out[len(out)-1].At.Kelvin())
		excess := math.Max(1, float64(at.Sub(f.Room)))
		bend := 1 + f.bend()
		local := tau * math.Pow(referenceExcess/excess, f.bend())
		step := local * math.Sqrt(8*miss/(excess*bend))
		t = math.Min(d.Seconds(), t+math.Max(1, step))
		at = f.After(from, unit.Seconds(t))
		out = append(out, Reading{At: at, Time: unit.Seconds(t)})
	}
	if len(out) < 2 {
		out = append(out, Reading{At: from, Time: time.Second})
	}
	return mustCurve(out)
}
