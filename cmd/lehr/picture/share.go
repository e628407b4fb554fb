package picture

import (
	"math"
	"sort"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// sharePanel draws the tension as a share of its limit, and beside it what is
// left.
func (d *drawing) sharePanel(p panel, l *layout) {
	p.grid()
	percent := func(points []Point) []Point {
		out := make([]Point, len(points))
		for i, q := range points {
			out[i] = Point{q.Time, 100 * q.Value}
		}
		return out
	}
	limit := []vg.Point{{X: p.Min.X, Y: p.y(100)}, {X: p.Max.X + d.gutter, Y: p.y(100)}}
	if d.c.most() > 1 {
		d.hatch(p)
	}
	p.StrokeLines(limitLook, limit)
	l.paths = append(l.paths, limit)
	var lines [][]Point
	var peaks []Point
	for i, s := range d.c.Pieces {
		share := percent(s.Share)
		line := path(share, p.x, p.y)
		p.StrokeLines(d.c.look(i), line)
		l.paths = append(l.paths, line)
		lines, peaks = append(lines, share), append(peaks, farthest(share))
	}
	for i, at := range peaks {
		point := vg.Point{X: p.x(at.Time), Y: p.y(at.Value)}
		if i == 0 {
			p.DrawGlyph(dot, point)
			l.put("", vg.Rectangle{Min: vg.Point{X: point.X - 2.4, Y: point.Y - 2.4}, Max: vg.Point{X: point.X + 2.4, Y: point.Y + 2.4}})
		}
	}
	d.label(p.Canvas, l, "limit", func(at vg.Point) float64 {
		off := float64(at.Y - limit[0].Y)
		if off < 0 {
			off *= 4 // rather above its line
		}
		return off*off + math.Abs(float64(at.X-(p.Min.X+p.Max.X)/2))/10
	})
	for i, s := range d.c.Pieces {
		if !d.keyed {
			d.lineLabel(p, l, s.Label+", "+percentLabel(s.Share), lines[i], peaks[i])
		}
	}
	d.left(p)
}

// hatch marks what lies over the limit.
func (d *drawing) hatch(p panel) {
	low := p.y(100)
	const step = vg.Length(5)
	for x := p.Min.X - (p.Max.Y - low); x < p.Max.X; x += step {
		a, b := vg.Point{X: x, Y: low}, vg.Point{X: x + p.Max.Y - low, Y: p.Max.Y}
		if a.X < p.Min.X {
			a = vg.Point{X: p.Min.X, Y: low + p.Min.X - x}
		}
		if b.X > p.Max.X {
			b = vg.Point{X: p.Max.X, Y: p.Max.Y - (b.X - p.Max.X)}
		}
		if b.X > a.X {
			p.StrokeLine2(hatchLook, a.X, a.Y, b.X, b.Y)
		}
	}
	for _, b := range p.spare { // labels stand on plain ground
		if r := grown(b.rect, 1.5); b.name != "" && r.Max.Y > low {
			p.FillPolygon(paper, []vg.Point{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}})
		}
	}
}

// left draws what is left in each piece, in the gutter: it has no course in time.
func (d *drawing) left(p panel) {
	if d.gutter == 0 {
		return
	}
	x := p.Max.X
	d.pen.write(p.Canvas, leftTitle, x+0.4*d.size, p.Max.Y+0.42*d.size)
	edge := draw.LineStyle{Color: line, Width: 0.6}
	p.StrokeLine2(edge, x+d.gutter, p.Min.Y, x+d.gutter, p.Max.Y)
	p.StrokeLine2(edge, x, p.Min.Y, x+d.gutter, p.Min.Y)
	last, limit := p.Max.Y+d.size, p.y(100)
	wider := draw.Canvas{Canvas: p.Canvas.Canvas, Rectangle: vg.Rectangle{Min: p.Min, Max: vg.Point{X: x + d.gutter, Y: p.Max.Y}}}
	order := make([]int, len(d.c.Pieces))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool { return d.c.Pieces[order[i]].Left > d.c.Pieces[order[j]].Left })
	for _, i := range order {
		s := d.c.Pieces[i]
		if s.Left < 0 {
			continue
		}
		y := p.y(100 * s.Left)
		at := vg.Point{X: x + 0.7*d.size, Y: y}
		switch {
		case i == 0:
			wider.DrawGlyph(dot, at)
		case s.Other:
			const r = vg.Length(2.3) // a cross
			p.StrokeLine2(pieceLook(1), at.X-r, at.Y-r, at.X+r, at.Y+r)
			p.StrokeLine2(pieceLook(1), at.X-r, at.Y+r, at.X+r, at.Y-r)
		default:
			wider.DrawGlyph(ring, at)
		}
		text := min(y-0.33*d.size, last-1.1*d.size)
		if text < limit+0.2*d.size && text+0.8*d.size > limit {
			text = limit - 1.1*d.size // not through its line
		}
		if text >= p.Min.Y {
			d.pen.write(p.Canvas, percentWord(s.Left), x+1.4*d.size, text)
			last = text
		}
	}
}
