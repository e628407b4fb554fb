package picture

import (
	"image/color"
	"sync"

	"golang.org/x/image/font/opentype"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// The colors. Nothing is told from anything else by them alone: what is over a
// limit is as gray as the kiln, and has a hatch.
var (
	ink  = color.NRGBA{0x1b, 0x1d, 0x1f, 0xff}
	tone = color.NRGBA{0x2a, 0x5a, 0x70, 0xff}
	over = color.NRGBA{0xa1, 0x30, 0x1b, 0xff}
	line = color.NRGBA{0x85, 0x8b, 0x91, 0xff}
	hair = color.NRGBA{0xda, 0xdd, 0xe0, 0xff}
	wash = color.NRGBA{0xec, 0xef, 0xf1, 0xff}
	zone = color.NRGBA{0xd3, 0xd8, 0xdc, 0xff}
	// paper is what stands alone is drawn on.
	paper = color.NRGBA{0xff, 0xff, 0xff, 0xff}
)

// pageColors are the variables of a page's style sheet that take the place of
// the colors there.
var pageColors = map[string]color.NRGBA{"ink": ink, "tone": tone, "over": over, "line": line, "hair": hair, "wash": wash, "zone": zone, "paper": paper}

var (
	bandFill    = [2]color.Color{wash, zone} // soak, strain
	kilnLook    = draw.LineStyle{Color: tone, Width: 2.6}
	nominalLook = draw.LineStyle{Color: ink, Width: 1.1, Dashes: []vg.Length{5, 3}}
	otherLook   = draw.LineStyle{Color: tone, Width: 1.6, Dashes: []vg.Length{9, 4}} // another program
	limitLook   = draw.LineStyle{Color: ink, Width: 1.8}
	hatchLook   = draw.LineStyle{Color: over, Width: 0.7}
	segmentLook = draw.LineStyle{Color: line, Width: 0.7, Dashes: []vg.Length{1, 2.5}}
	dot         = draw.GlyphStyle{Color: ink, Radius: 2.6, Shape: draw.CircleGlyph{}}
	ring        = draw.GlyphStyle{Color: ink, Radius: 2.6, Shape: draw.RingGlyph{}}
)

// pieceLook is the line of a kind of piece: heavy for the one that decides, each
// of the others with dashes of its own.
func pieceLook(i int) draw.LineStyle {
	looks := []draw.LineStyle{
		{Color: ink, Width: 1.9},
		{Color: ink, Width: 0.9},
		{Color: ink, Width: 0.9, Dashes: []vg.Length{6, 2}},
		{Color: ink, Width: 0.9, Dashes: []vg.Length{1.5, 2}},
		{Color: ink, Width: 0.9, Dashes: []vg.Length{8, 2, 1.5, 2}},
		{Color: ink, Width: 1.9, Dashes: []vg.Length{3, 3}},
	}
	return looks[min(i, len(looks)-1)]
}

// look is the line of a series: that of its piece, in the other program with long
// dashes, as heavy.
func (c *Curve) look(i int) draw.LineStyle {
	if !c.Pieces[i].Other {
		return pieceLook(i)
	}
	look := pieceLook(i - len(c.Pieces)/2) // after all of the first
	look.Dashes = otherLook.Dashes
	return look
}

// How many kinds of piece have a line of their own: unless told otherwise, when
// they are chosen, and beside another program.
const (
	MostPieces = 3
	MostChosen = 6
	MostBeside = 2
)

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

// pen writes words.
type pen struct{ style text.Style }

func newPen(size vg.Length) pen {
	f := font.From(font.Font{Typeface: "Liberation", Variant: "Sans"}, size)
	return pen{text.Style{Color: ink, Font: f, Handler: text.Plain{Fonts: fonts()}, XAlign: text.XLeft, YAlign: text.YBottom}}
}

func (p pen) width(words string) vg.Length { return p.style.Width(words) }

func (p pen) write(c draw.Canvas, words string, x, y vg.Length) {
	c.FillText(p.style, vg.Point{X: x, Y: y}, words)
}

const tickLength = vg.Length(3)

// panel is one of the frames: time to the right, a value upward.
type panel struct {
	draw.Canvas
	title     string
	length    float64 // of the program [s]
	low, high float64
	most      int // marks of the value at most
	values    []float64
	labels    []string
	spare     []box // labels that faint lines do not run through
}

// faint draws a line across or up, but not through labels.
func (p panel) faint(look draw.LineStyle, x0, y0, x1, y1 vg.Length) {
	for i, b := range p.spare {
		r, all := grown(b.rect, 1), p.spare
		switch {
		case b.name == "" || !crosses(vg.Point{X: x0, Y: y0}, vg.Point{X: x1, Y: y1}, r):
			continue
		case y0 == y1:
			p.spare = all[i+1:]
			p.faint(look, x0, y0, r.Min.X, y1)
			p.faint(look, r.Max.X, y0, x1, y1)
			return
		default:
			p.spare = all[i+1:]
			p.faint(look, x0, y0, x1, r.Min.Y)
			p.faint(look, x0, r.Max.Y, x1, y1)
			return
		}
	}
	if x1 > x0 || y1 > y0 {
		p.StrokeLine2(look, x0, y0, x1, y1)
	}
}

func (p panel) x(t float64) vg.Length {
	return p.Min.X + vg.Length(t/p.length)*(p.Max.X-p.Min.X)
}

func (p panel) y(v float64) vg.Length {
	return p.Min.Y + vg.Length((v-p.low)/(p.high-p.low))*(p.Max.Y-p.Min.Y)
}

// mark chooses the values that are marked.
func (p *panel) mark() {
	p.values = valueTicks(p.low, p.high, p.most)
	for _, v := range p.values {
		p.labels = append(p.labels, valueLabel(v, stepOf(p.values)))
	}
}

// grid draws faint lines at the values.
func (p panel) grid() {
	for _, v := range p.values {
		p.faint(draw.LineStyle{Color: hair, Width: 0.5}, p.Min.X, p.y(v), p.Max.X, p.y(v))
	}
}

// axes draws the axes with their marks and the labels of the values.
func (p panel) axes(d *drawing, ticks []timeTick) {
	look := draw.LineStyle{Color: line, Width: 0.7}
	p.StrokeLine2(look, p.Min.X, p.Min.Y, p.Max.X, p.Min.Y)
	p.StrokeLine2(look, p.Min.X, p.Min.Y, p.Min.X, p.Max.Y)
	for _, t := range ticks {
		p.StrokeLine2(look, p.x(t.at), p.Min.Y-tickLength, p.x(t.at), p.Min.Y)
	}
	for i, v := range p.values {
		w := d.pen.width(p.labels[i])
		d.pen.write(p.Canvas, p.labels[i], p.Min.X-0.4*d.size-w, p.y(v)-0.33*d.size)
	}
}

// timeLabels writes the times under the lowest panel, and what they are.
func (d *drawing) timeLabels(c draw.Canvas, ticks []timeTick, rows vg.Length) {
	center := func(words string, x, y vg.Length) {
		if words != "" {
			d.pen.write(c, words, x-d.pen.width(words)/2, y)
		}
	}
	top := c.Min.Y - tickLength
	for _, t := range ticks {
		x := c.Min.X + vg.Length(t.at/d.c.Length)*(c.Max.X-c.Min.X)
		center(t.label, x, top-1.1*d.size)
		center(t.day, x, top-2.25*d.size)
	}
	center(d.c.timeTitle(), (c.Min.X+c.Max.X)/2, top-(1.2*rows+1.1)*d.size)
}

// path turns points into a path on the canvas.
func path(points []Point, x, y func(float64) vg.Length) []vg.Point {
	out := make([]vg.Point, len(points))
	for i, p := range points {
		out[i] = vg.Point{X: x(p.Time), Y: y(p.Value)}
	}
	return thin(out, 0.15)
}
