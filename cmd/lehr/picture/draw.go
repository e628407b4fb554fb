package picture

import (
	"image/color"
	"slices"
	"strings"
	"sync"

	"golang.org/x/image/font/opentype"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// The colors. No two lines or bands are told apart by them alone.
var (
	ink     = color.NRGBA{0x22, 0x22, 0x22, 0xff}
	faint   = color.NRGBA{0xd8, 0xd6, 0xd2, 0xff}
	wide    = color.NRGBA{0xb4, 0xae, 0xa6, 0xff}
	surface = color.NRGBA{0x17, 0x4a, 0x7c, 0xff}
	center  = color.NRGBA{0x9c, 0x2f, 0x12, 0xff}
	soak    = color.NRGBA{0xf8, 0xec, 0xd2, 0xff}
	strain  = color.NRGBA{0xdf, 0xe7, 0xef, 0xff}
	paper   = color.NRGBA{0xff, 0xff, 0xff, 0xff}
)

// look is the pen of a style.
func (s Style) look() draw.LineStyle {
	switch s {
	case Wide:
		return draw.LineStyle{Color: wide, Width: 4.5}
	case Thin:
		return draw.LineStyle{Color: surface, Width: 1.2}
	}
	return draw.LineStyle{Color: center, Width: 1.5, Dashes: []vg.Length{4, 2.5}}
}

var limitLook = draw.LineStyle{Color: ink, Width: 1, Dashes: []vg.Length{8, 2, 2, 2}}

// fonts holds the letters of all pictures. The package gonum/plot itself would
// bring eleven more fonts, 4 MB, into the program and parse them at its start.
var fonts = sync.OnceValue(func() *font.Cache {
	data, err := letterData()
	if err != nil {
		panic("picture: the embedded font: " + err.Error())
	}
	face, err := opentype.Parse(data)
	if err != nil {
		panic("picture: " + err.Error()) // it is part of this program
	}
	return font.NewCache([]font.Face{{Font: font.Font{Typeface: "Liberation", Variant: "Sans"}, Face: face}})
})

func letters(size vg.Length) text.Style {
	f := font.From(font.Font{Typeface: "Liberation", Variant: "Sans"}, size)
	return text.Style{Color: ink, Font: f, Handler: text.Plain{Fonts: fonts()}, XAlign: text.XLeft, YAlign: text.YBottom}
}

// drawing is one picture being drawn: its two panels and what lies where.
type drawing struct {
	c      *Curve
	size   vg.Length // of the letters
	style  text.Style
	panels [2]*layout // temperature, tension
}

// headroom is what may be added above a panel, as a share of its height, until
// its labels find room.
var headroom = []float64{0, 0.3, 0.7, 1.5}

// draw draws the curve on a canvas with letters of the given size and returns
// where everything went. Where the labels of a panel find no room, it is drawn
// again with more space above.
func (c *Curve) draw(dc draw.Canvas, size vg.Length) *drawing {
	var more [2]int
	for {
		d := c.drawOnce(draw.Canvas{Canvas: blank{}, Rectangle: dc.Rectangle}, size, more)
		again := false
		for i, l := range d.panels {
			if l.crowded && more[i] < len(headroom)-1 {
				more[i]++
				again = true
			}
		}
		if !again {
			return c.drawOnce(dc, size, more)
		}
	}
}

// drawOnce draws with the given headroom above each panel.
func (c *Curve) drawOnce(dc draw.Canvas, size vg.Length, more [2]int) *drawing {
	d := &drawing{c: c, size: size, style: letters(size)}
	low, high := c.temperatures()
	panels := [2]panel{
		{low: min(0, low), high: high + (high-low)*(0.06+headroom[more[0]]), unit: c.TempUnit, most: 7},
		{low: 0, high: max(c.Limit, c.greatest()) * (1.32 + headroom[more[1]]), unit: c.StressUnit, most: 4},
	}
	left := vg.Length(0)
	for i := range panels {
		panels[i].mark()
		for _, label := range panels[i].labels {
			left = max(left, d.style.Width(label))
		}
	}
	left += tickLength + 0.4*size
	ticks := c.timeTicks(float64((5*size + 4) / (dc.Max.X - dc.Min.X - left)))
	rows := vg.Length(1)
	if slices.ContainsFunc(ticks, func(t timeTick) bool { return t.day != "" }) {
		rows = 2
	}
	split := dc.Min.Y + (dc.Max.Y-dc.Min.Y)*0.38
	areas := [2]vg.Rectangle{
		{Min: vg.Point{X: dc.Min.X + left, Y: split + 0.7*size}, Max: vg.Point{X: dc.Max.X - 2, Y: dc.Max.Y}},
		{Min: vg.Point{X: dc.Min.X + left, Y: dc.Min.Y + tickLength + (1.2*rows+1.5)*size}, Max: vg.Point{X: dc.Max.X - 2, Y: split - 0.3*size}},
	}
	for i, p := range panels {
		p.Canvas = draw.Canvas{Canvas: dc.Canvas, Rectangle: areas[i]}
		p.length = c.Length
		l := &layout{area: areas[i]}
		d.panels[i] = l
		if i == 0 {
			d.temperaturePanel(p.Canvas, l, p.x, p.y, func() { p.grid(ticks) })
		} else {
			p.grid(ticks)
			d.tensionPanel(p.Canvas, l, p.x, p.y)
		}
		p.axes(d, ticks)
	}
	d.timeLabels(draw.Canvas{Canvas: dc.Canvas, Rectangle: areas[1]}, ticks, rows)
	return d
}

const tickLength = vg.Length(3)

// panel is one of the two frames: time to the right, a value upward.
type panel struct {
	draw.Canvas
	length    float64 // of the program [s]
	low, high float64
	unit      string
	most      int // marks of the value at most
	values    []float64
	labels    []string
}

func (p panel) x(t float64) vg.Length {
	return p.Min.X + vg.Length(t/p.length)*(p.Max.X-p.Min.X)
}

func (p panel) y(v float64) vg.Length {
	return p.Min.Y + vg.Length((v-p.low)/(p.high-p.low))*(p.Max.Y-p.Min.Y)
}

// mark chooses the values that are marked; the unit stands at the uppermost.
func (p *panel) mark() {
	p.values = valueTicks(p.low, p.high, p.most)
	for i, v := range p.values {
		label := valueLabel(v, stepOf(p.values))
		if i == len(p.values)-1 {
			label = p.unit + " " + label
		}
		p.labels = append(p.labels, label)
	}
}

// grid draws faint lines at the marks.
func (p panel) grid(ticks []timeTick) {
	g := draw.LineStyle{Color: faint, Width: 0.5}
	for _, t := range ticks {
		p.StrokeLine2(g, p.x(t.at), p.Min.Y, p.x(t.at), p.Max.Y)
	}
	for _, v := range p.values {
		p.StrokeLine2(g, p.Min.X, p.y(v), p.Max.X, p.y(v))
	}
}

// axes draws the axes with their marks and the labels of the values.
func (p panel) axes(d *drawing, ticks []timeTick) {
	line := draw.LineStyle{Color: ink, Width: 0.6}
	p.StrokeLine2(line, p.Min.X, p.Min.Y, p.Max.X, p.Min.Y)
	p.StrokeLine2(line, p.Min.X, p.Min.Y, p.Min.X, p.Max.Y)
	for _, t := range ticks {
		p.StrokeLine2(line, p.x(t.at), p.Min.Y-tickLength, p.x(t.at), p.Min.Y)
	}
	for i, v := range p.values {
		p.StrokeLine2(line, p.Min.X-tickLength, p.y(v), p.Min.X, p.y(v))
		w := d.style.Width(p.labels[i])
		p.FillText(d.style, vg.Point{X: p.Min.X - tickLength - 0.3*d.size - w, Y: p.y(v) - 0.33*d.size}, p.labels[i])
	}
}

// timeLabels writes the times under the lower panel, and what they are.
func (d *drawing) timeLabels(c draw.Canvas, ticks []timeTick, rows vg.Length) {
	center := func(words string, x, y vg.Length) {
		if words != "" {
			c.FillText(d.style, vg.Point{X: x - d.style.Width(words)/2, Y: y}, words)
		}
	}
	top := c.Min.Y - tickLength
	for _, t := range ticks {
		x := c.Min.X + vg.Length(t.at/d.c.Length)*(c.Max.X-c.Min.X)
		center(t.label, x, top-1.1*d.size)
		center(t.day, x, top-2.25*d.size)
	}
	center(d.c.timeTitle(), (c.Min.X+c.Max.X)/2, top-(1.2*rows+1.2)*d.size)
}

// path turns points into a path on the canvas.
func path(points []Point, x, y func(float64) vg.Length) []vg.Point {
	out := make([]vg.Point, len(points))
	for i, p := range points {
		out[i] = vg.Point{X: x(p.Time), Y: y(p.Value)}
	}
	return thin(out, 0.15)
}

// temperaturePanel draws bands, lines, key and the end of the program.
func (d *drawing) temperaturePanel(c draw.Canvas, l *layout, x, y func(float64) vg.Length, grid func()) {
	bands := []struct {
		Band
		fill color.Color
	}{{d.c.Soak, soak}, {d.c.Strain, strain}}
	inside := func(v vg.Length) vg.Length { return min(max(v, c.Min.Y), c.Max.Y) }
	for _, b := range bands {
		low, high := inside(y(b.Low)), inside(y(b.High))
		if high > low {
			c.FillPolygon(b.fill, []vg.Point{{X: c.Min.X, Y: low}, {X: c.Max.X, Y: low}, {X: c.Max.X, Y: high}, {X: c.Min.X, Y: high}})
		}
	}
	grid()
	for _, line := range d.c.Lines {
		p := path(line.Points, x, y)
		l.paths = append(l.paths, p)
		c.StrokeLines(line.Style.look(), p)
	}
	for _, b := range bands {
		low, high := inside(y(b.Low)), inside(y(b.High))
		if high <= low || b.Label == "" {
			continue
		}
		middle := (low + high) / 2
		// In the band, as far right as it is free; else close by.
		d.label(c, l, b.Label, func(at vg.Point) float64 {
			off := float64(at.Y - middle)
			return off*off*40 + float64(c.Max.X-at.X)
		})
	}
	d.key(c, l)
	if d.c.End != "" {
		last := d.c.Lines[0].Points[len(d.c.Lines[0].Points)-1]
		d.labelAt(c, l, d.c.End, vg.Point{X: x(last.Time), Y: y(last.Value)})
	}
}

// tensionPanel draws the tension, its limit and the marks.
func (d *drawing) tensionPanel(c draw.Canvas, l *layout, x, y func(float64) vg.Length) {
	limit := []vg.Point{{X: c.Min.X, Y: y(d.c.Limit)}, {X: c.Max.X, Y: y(d.c.Limit)}}
	c.StrokeLines(limitLook, limit)
	p := path(d.c.Tension, x, y)
	c.StrokeLines(draw.LineStyle{Color: center, Width: 1.4}, p)
	l.paths = append(l.paths, limit, p)
	d.label(c, l, d.c.LimitLabel, func(at vg.Point) float64 {
		off := float64(at.Y - limit[0].Y)
		if off < 0 {
			off *= 4 // rather above its line
		}
		return off*off + float64(c.Max.X-at.X)/10
	})
	dot := draw.GlyphStyle{Color: center, Radius: 2.4, Shape: draw.CircleGlyph{}}
	for _, m := range d.c.Marks {
		at := vg.Point{X: x(m.Time), Y: y(m.Value)}
		c.DrawGlyph(dot, at)
		l.put("", vg.Rectangle{Min: vg.Point{X: at.X - 2.4, Y: at.Y - 2.4}, Max: vg.Point{X: at.X + 2.4, Y: at.Y + 2.4}})
	}
	for _, m := range d.c.Marks {
		d.labelAt(c, l, m.Label, vg.Point{X: x(m.Time), Y: y(m.Value)})
	}
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
	end := vg.Point{X: min(max(at.X, r.Min.X), r.Max.X), Y: min(max(at.Y, r.Min.Y), r.Max.Y)}
	if dx, dy := end.X-at.X, end.Y-at.Y; dx*dx+dy*dy > 14*14 {
		c.StrokeLine2(draw.LineStyle{Color: ink, Width: 0.4}, at.X, at.Y, end.X, end.Y)
		l.paths = append(l.paths, []vg.Point{at, end})
	}
}

// label writes words at the free place that costs least.
func (d *drawing) label(c draw.Canvas, l *layout, words string, cost func(vg.Point) float64) (vg.Rectangle, bool) {
	w, h := d.extent(words)
	r, ok := l.nearest(w, h, cost)
	if !ok {
		l.crowded = true
		return r, false
	}
	l.put(words, r)
	c.FillText(d.style, vg.Point{X: r.Min.X, Y: r.Min.Y + 0.22*d.size}, words)
	return r, true
}

// extent is the room that words take, with a reserve for a reader whose
// letters are wider.
func (d *drawing) extent(words string) (w, h vg.Length) {
	return d.style.Width(words) * 1.06, d.size * 1.1
}

// key writes the names of the lines, each behind a piece of its line, in one
// block near the upper right.
func (d *drawing) key(c draw.Canvas, l *layout) {
	sample := 2.6 * d.size
	row := 1.3 * d.size
	w := vg.Length(0)
	var names []string
	for _, line := range d.c.Lines {
		lw, _ := d.extent(line.Label)
		w = max(w, lw)
		names = append(names, line.Label)
	}
	w += sample + 0.6*d.size
	h := row * vg.Length(len(names))
	r, ok := l.nearest(w, h, func(at vg.Point) float64 {
		return float64(c.Max.X-at.X)*0.6 + float64(c.Max.Y-at.Y)
	})
	name := strings.Join(names, " | ")
	if !ok {
		l.crowded = true
		return
	}
	l.put(name, r)
	for i, line := range d.c.Lines {
		y := r.Max.Y - row*(vg.Length(i)+0.5)
		c.StrokeLine2(line.Style.look(), r.Min.X, y, r.Min.X+sample, y)
		c.FillText(d.style, vg.Point{X: r.Min.X + sample + 0.6*d.size, Y: y - 0.33*d.size}, line.Label)
	}
}
