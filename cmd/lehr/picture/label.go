package picture

import (
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// lineLabel writes the name of a line near its farthest point, or near another
// of its points that is free.
func (d *drawing) lineLabel(p panel, l *layout, words string, points []Point, at Point) {
	near := []vg.Point{{X: p.x(at.Time), Y: p.y(at.Value)}}
	for k := 1; k < 8; k++ {
		q := points[k*(len(points)-1)/8]
		if q.Time > at.Time {
			near = append(near, vg.Point{X: p.x(q.Time), Y: p.y(q.Value)})
		}
	}
	cost := func(c vg.Point) (best float64, to vg.Point) {
		best = math.Inf(1)
		for k, n := range near {
			dx, dy := float64(c.X-n.X), float64(c.Y-n.Y)
			if far := dx*dx + 6*dy*dy + float64(k)*40; far < best {
				best, to = far, n
			}
		}
		return best, to
	}
	r, ok := d.label(p.Canvas, l, words, func(c vg.Point) float64 { far, _ := cost(c); return far })
	if !ok {
		return
	}
	_, to := cost(vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2})
	d.lead(p.Canvas, l, r, to, 2.2*d.size)
}

// labelAt writes a label as near to a point as is free, with a line to it when
// they are apart.
func (d *drawing) labelAt(c draw.Canvas, l *layout, words string, at vg.Point) {
	r, ok := d.label(c, l, words, func(p vg.Point) float64 {
		dx, dy := float64(p.X-at.X), float64(p.Y-at.Y)
		return dx*dx + 6*dy*dy
	})
	if !ok {
		return
	}
	d.lead(c, l, r, at, 14)
}

// lead draws a line from a label to what it names when they are apart.
func (d *drawing) lead(c draw.Canvas, l *layout, r vg.Rectangle, at vg.Point, apart vg.Length) {
	end := vg.Point{X: min(max(at.X, r.Min.X), r.Max.X), Y: min(max(at.Y, r.Min.Y), r.Max.Y)}
	if dx, dy := end.X-at.X, end.Y-at.Y; dx*dx+dy*dy > apart*apart {
		c.StrokeLine2(draw.LineStyle{Color: line, Width: 0.5}, at.X, at.Y, end.X, end.Y)
		l.paths = append(l.paths, []vg.Point{at, end})
	}
}

// label writes words at the free place that costs least.
func (d *drawing) label(c draw.Canvas, l *layout, words string, cost func(vg.Point) float64) (vg.Rectangle, bool) {
	// With a reserve for a reader whose letters are wider.
	w, h := d.pen.width(words)*1.06, d.size*1.1
	r, ok := l.nearest(w, h, cost)
	if !ok {
		l.crowded = true
		return r, false
	}
	l.put(words, r)
	d.pen.write(c, words, r.Min.X, r.Min.Y+0.22*d.size)
	return r, true
}

// key writes the names of the lines, each behind a piece of its line, at the
// bottom of the picture, and returns the height it takes.
func (d *drawing) key(c draw.Canvas) vg.Length {
	if !d.keyed {
		return 0
	}
	row, sample, below := keyRow*d.size, 2.6*d.size, 0.25*d.size
	n := len(d.c.Pieces)
	for i, s := range d.c.Pieces {
		y := c.Min.Y + below + row*vg.Length(n-1-i)
		c.StrokeLine2(d.c.look(i), c.Min.X, y+0.4*d.size, c.Min.X+sample, y+0.4*d.size)
		numbers := ": " + d.c.differenceWord(farthest(s.Difference)) + ", " + percentLabel(s.Share)
		name, at := s.Label, c.Min.X+sample+0.5*d.size
		switch {
		case s.Other:
			name = d.c.Other.Name + ", " + name
		case d.c.Other != nil:
			name = d.c.Name + ", " + name
		}
		d.pen.write(c, d.fit(name, c.Max.X-at-d.pen.width(numbers))+numbers, at, y)
	}
	return below + row*vg.Length(n)
}

// keyRow is the height of a row of the key, in letters.
const keyRow = 1.25

// fit cuts words that are longer than there is room.
func (d *drawing) fit(words string, room vg.Length) string {
	r := []rune(words)
	for n := len(r); n > 1 && d.pen.width(words)*1.06 > room; n-- {
		words = string(r[:n-1]) + "…"
	}
	return words
}

// nameApart writes the name of a line where it is farthest from another.
func (d *drawing) nameApart(p panel, l *layout, points []Point, name string, other []Point) {
	best, apart := points[len(points)/2], -1.0
	for k := range 40 {
		q := at(points, d.c.Length*float64(k)/60)
		if far := math.Abs(q.Value - at(other, q.Time).Value); far > apart {
			best, apart = q, far
		}
	}
	d.labelAt(p.Canvas, l, d.fit(name, (p.Max.X-p.Min.X)/3), vg.Point{X: p.x(best.Time), Y: p.y(best.Value)})
}

// differenceWord is a difference with its unit.
func (c *Curve) differenceWord(p Point) string {
	return strconv.FormatFloat(p.Value, 'f', places(p.Value), 64) + " " + c.DiffUnit
}

// farthest returns the point with the greatest value either way.
func farthest(points []Point) (at Point) {
	for _, p := range points {
		if math.Abs(p.Value) > math.Abs(at.Value) {
			at = p
		}
	}
	return at
}

// at returns the point of a curve at a time.
func at(points []Point, time float64) Point {
	for i := 1; i < len(points); i++ {
		if a, b := points[i-1], points[i]; time <= b.Time && b.Time > a.Time {
			return Point{time, a.Value + (b.Value-a.Value)*(time-a.Time)/(b.Time-a.Time)}
		}
	}
	return points[len(points)-1]
}

// places is how many decimals a difference is worth.
func places(x float64) int {
	if math.Abs(x) < 9.95 {
		return 1
	}
	return 0
}

func percentLabel(share []Point) string { return percentWord(farthest(share).Value) }

// percentWord is a share in whole percent; what is over is not rounded down.
func percentWord(x float64) string {
	n := math.Ceil(100*x - 0.5)
	if x > 1 && n <= 100 {
		n = 101
	}
	return strconv.Itoa(int(n)) + " %"
}
