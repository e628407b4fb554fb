package picture

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// bands are the ranges of temperature with their ends on the canvas, the hotter
// first, without those that the panel does not show.
func (d *drawing) bands(p panel) (out []shownBand) {
	inside := func(v float64) vg.Length { return min(max(p.y(v), p.Min.Y), p.Max.Y) }
	for i, b := range []Band{d.c.Soak, d.c.Strain} {
		if low, high := inside(b.Low), inside(b.High); high > low {
			out = append(out, shownBand{b, i, low, high})
		}
	}
	return out
}

type shownBand struct {
	Band
	look      int // into bandFill
	low, high vg.Length
}

func (b shownBand) middle() vg.Length { return (b.low + b.high) / 2 }

// nameBands writes the names of the ranges, each on its own and as far right as it is
// free; where one has no room there, all stand right of the panel, each at the height
// of its range and with a line to it.
func (d *drawing) nameBands(p panel, l *layout, beside bool) {
	if beside {
		d.namedBeside(p)
		return
	}
	w, h := func(words string) vg.Length { return d.pen.width(words) * 1.06 }, d.size*1.1
	for _, b := range d.ranges {
		if b.Label == "" {
			continue
		}
		r, ok := vg.Rectangle{}, false
		if b.high-b.low >= 0.9*h {
			r, ok = l.nearest(w(b.Label), h, func(at vg.Point) float64 {
				off := math.Abs(float64(at.Y - b.middle()))
				if off > float64(max(1.5, (b.high-b.low-h)/2+0.05*h)) {
					return math.Inf(1)
				}
				return off*off*40 + float64(p.Max.X-at.X)
			})
		}
		if !ok {
			d.bandsFull = true
			continue
		}
		l.put(b.Label, r)
		d.pen.write(p.Canvas, b.Label, r.Min.X, r.Min.Y+0.22*d.size)
	}
}

// besideGap is the room between the panel and the names beside it, in letters.
const besideGap = 0.8

// namedBeside writes the names of the ranges right of the panel.
func (d *drawing) namedBeside(p panel) {
	h := d.size * 1.1
	at := make([]vg.Length, len(d.ranges))
	for i, b := range d.ranges {
		at[i] = b.middle()
	}
	if len(at) == 2 && at[0]-at[1] < h { // apart, and as near to their ranges as that goes
		middle := (at[0] + at[1]) / 2
		at[0], at[1] = middle+h/2, middle-h/2
	}
	x := p.Max.X + besideGap*d.size
	for i, b := range d.ranges {
		words := b.short()
		d.beside = append(d.beside, box{words, vg.Rectangle{Min: vg.Point{X: x, Y: at[i] - h/2}, Max: vg.Point{X: x + d.pen.width(words)*1.06, Y: at[i] + h/2}}})
		p.StrokeLine2(draw.LineStyle{Color: line, Width: 0.7}, p.Max.X, b.middle(), x-0.15*d.size, at[i])
		d.pen.write(p.Canvas, words, x, at[i]-h/2+0.22*d.size)
	}
}

// short is the name of a band beside the panel.
func (b Band) short() string {
	if b.Short != "" {
		return b.Short
	}
	return b.Label
}

// writeBeside writes words right of the panel at a height, or as near to it as the
// names of the ranges leave room.
func (d *drawing) writeBeside(p panel, words string, y vg.Length) {
	at := func(y vg.Length) vg.Rectangle {
		x := p.Max.X + 0.4*d.size
		return vg.Rectangle{Min: vg.Point{X: x, Y: y - 0.22*d.size}, Max: vg.Point{X: x + d.pen.width(words)*1.06, Y: y + 0.88*d.size}}
	}
	if slices.ContainsFunc(d.beside, func(b box) bool { return meet(at(y), b.rect) }) {
		y = d.beside[len(d.beside)-1].rect.Min.Y - 0.95*d.size
		if y < p.Min.Y {
			y = d.beside[0].rect.Max.Y + 0.3*d.size
		}
	}
	d.beside = append(d.beside, box{words, at(y)})
	d.pen.write(p.Canvas, words, at(y).Min.X, y)
}
