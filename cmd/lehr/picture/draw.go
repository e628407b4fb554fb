package picture

import (
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// drawing is one picture being drawn: its panels and what lies where.
type drawing struct {
	c      *Curve
	size   vg.Length // of the letters
	pen    pen
	panels [3]*layout // kiln, difference, share
	gutter vg.Length  // right of the panels, for what has no course in time
	keyed  bool       // the lines of the pieces have a key below the panels

	ranges    []shownBand // of temperature
	bandsFull bool        // one of them has no room for its name
	beside    []box       // what stands right of the first panel: their names, the end
}

// headroom is what may be added above a panel, as a share of its height, until
// its labels find room.
var headroom = []float64{0, 0.25, 0.6, 1.2, 2, 3}

// draw draws the curve on a canvas with letters of the given size and returns
// where everything went. It lays it out first, as often as it takes: where the
// names of the pieces find no room beside their lines they go into a key, and
// where the labels of a panel find none it gets more space above.
func (c *Curve) draw(dc draw.Canvas, size vg.Length, alone bool) *drawing {
	how := layoutOf{alone: alone, keyed: len(c.Pieces) > 2 || c.Other != nil}
	for {
		d := c.drawOnce(draw.Canvas{Canvas: blank{}, Rectangle: dc.Rectangle}, size, how)
		again := false
		if d.bandsFull {
			how.beside, again = true, true
		}
		if (d.panels[1].crowded || d.panels[2].crowded) && !how.keyed {
			how.keyed, again = true, true
		}
		for i, l := range d.panels {
			if l.crowded && !again && how.more[i] < len(headroom)-1 {
				how.more[i]++
				again = true
			}
		}
		if !again {
			how.placed = d
			return c.drawOnce(dc, size, how)
		}
	}
}

// layoutOf is what one try of a layout goes by.
type layoutOf struct {
	alone  bool     // the picture has a heading
	keyed  bool     // the lines of the pieces have a key
	beside bool     // the ranges of temperature have their names right of the panel
	more   [3]int   // headroom above each panel
	placed *drawing // the same, laid out before, so that faint lines spare its labels
}

// The names of the panels.
const (
	kilnTitle  = "Kiln reading, "
	diffTitle  = "Inside minus surface, "
	shareTitle = "Tension, % of its limit"
	leftTitle  = "left at the end"
)

// drawOnce draws by one layout.
func (c *Curve) drawOnce(dc draw.Canvas, size vg.Length, how layoutOf) *drawing {
	d := &drawing{c: c, size: size, pen: newPen(size), keyed: how.keyed}
	top := dc.Max.Y
	if how.alone {
		for _, words := range c.Heading {
			top -= 1.3 * size
			d.pen.write(dc, words, dc.Min.X, top+0.2*size)
		}
		top -= 0.3 * size
	}
	low, high := c.temperatures()
	diffLow, diffHigh := c.differences()
	diffHigh = max(diffHigh, 1e-3)
	most := max(1, c.most())
	panels := [3]panel{
		{title: kilnTitle + c.TempUnit, low: min(0, low), high: high + (high-low)*(0.05+headroom[how.more[0]]), most: 5},
		{title: diffTitle + c.DiffUnit, low: diffLow, high: diffHigh + (diffHigh-diffLow)*(0.12+headroom[how.more[1]]), most: 3},
		{title: shareTitle, low: 0, high: 100 * most * (1.12 + headroom[how.more[2]]), most: 4},
	}
	left := vg.Length(0)
	for i := range panels {
		panels[i].mark()
		for _, label := range panels[i].labels {
			left = max(left, d.pen.width(label))
		}
	}
	left += 0.5 * size
	if c.judgesLeft() {
		d.gutter = max(d.pen.width(leftTitle), d.pen.width(c.End))*1.06 + 0.4*size
	}
	if how.beside {
		for _, words := range []string{c.Soak.short(), c.Strain.short(), c.End} {
			d.gutter = max(d.gutter, d.pen.width(words)*1.06+(besideGap+0.1)*size)
		}
	}
	right := dc.Max.X - 2 - d.gutter
	ticks := c.timeTicks(float64((5*size + 4) / (right - dc.Min.X - left)))
	rows := vg.Length(1)
	if slices.ContainsFunc(ticks, func(t timeTick) bool { return t.day != "" }) {
		rows = 2
	}
	// From below: key, title of the time, its labels, then the panels, each with its
	// name above; the numbers of the segments on top.
	bottom := dc.Min.Y + tickLength + (1.2*rows+1.3)*size + d.key(dc)
	name, between := 1.35*size, 0.75*size
	room := top - 1.3*size - bottom - 3*name - 2*between
	heights := [3]vg.Length{0.45 * room, 0.2 * room, 0.35 * room}
	y := bottom
	for i := 2; i >= 0; i-- {
		p := panels[i]
		p.Canvas = draw.Canvas{Canvas: dc.Canvas, Rectangle: vg.Rectangle{Min: vg.Point{X: dc.Min.X + left, Y: y}, Max: vg.Point{X: right, Y: y + heights[i]}}}
		p.length = c.Length
		y += heights[i] + name + between
		l := &layout{area: p.Rectangle}
		d.panels[i] = l
		if how.placed != nil {
			p.spare = how.placed.panels[i].boxes
		}
		d.segments(p, i == 0)
		d.pen.write(dc, p.title, dc.Min.X, p.Max.Y+0.42*size)
		switch i {
		case 0:
			d.kilnPanel(p, l, how.beside)
		case 1:
			d.differencePanel(p, l)
		case 2:
			d.sharePanel(p, l)
		}
		p.axes(d, ticks)
		if i == 2 {
			d.timeLabels(p.Canvas, ticks, rows)
		}
	}
	return d
}

// segments draws where segments end, and above the first panel their numbers.
func (d *drawing) segments(p panel, numbers bool) {
	if d.c.Now > 0 {
		p.faint(draw.LineStyle{Color: ink, Width: 1.2}, p.x(d.c.Now), p.Min.Y, p.x(d.c.Now), p.Max.Y)
		if w := d.pen.width("now"); numbers {
			d.pen.write(p.Canvas, "now", p.x(d.c.Now)-w/2, p.Max.Y+1.75*d.size)
		}
	}
	from, written := 0.0, vg.Length(math.Inf(-1))
	for i, end := range d.c.Ends {
		if i < len(d.c.Ends)-1 {
			p.faint(segmentLook, p.x(end), p.Min.Y, p.x(end), p.Max.Y)
		}
		if numbers {
			words := strconv.Itoa(i + 1)
			w := d.pen.width(words)
			at := p.x((from+end)/2) - w/2
			if at > written+0.3*d.size {
				d.pen.write(p.Canvas, words, at, p.Max.Y+1.75*d.size)
				written = at + w
			}
		}
		from = end
	}
	if numbers && d.gutter > 0 && len(d.c.Ends) > 0 {
		d.pen.write(p.Canvas, "segment", p.Max.X+0.4*d.size, p.Max.Y+1.75*d.size)
	}
}

// kilnPanel draws the ranges, the kiln by the clock and as told.
func (d *drawing) kilnPanel(p panel, l *layout, beside bool) {
	d.ranges = d.bands(p)
	for _, b := range d.ranges {
		p.FillPolygon(bandFill[b.look], []vg.Point{{X: p.Min.X, Y: b.low}, {X: p.Max.X, Y: b.low}, {X: p.Max.X, Y: b.high}, {X: p.Min.X, Y: b.high}})
	}
	p.grid()
	if d.c.Nominal != nil {
		nominal := path(d.c.Nominal, p.x, p.y)
		p.StrokeLines(nominalLook, nominal)
		l.paths = append(l.paths, nominal)
	}
	if o := d.c.Other; o != nil {
		other := path(o.Kiln, p.x, p.y)
		p.StrokeLines(otherLook, other)
		l.paths = append(l.paths, other)
	}
	kiln := path(d.c.Kiln, p.x, p.y)
	p.StrokeLines(kilnLook, kiln)
	l.paths = append(l.paths, kiln)
	d.nameBands(p, l, beside)
	if d.c.Nominal != nil {
		t := d.c.Nominal[len(d.c.Nominal)-1]
		k := at(d.c.Kiln, t.Time)
		name := "as this kiln falls"
		if d.c.Done {
			name = "as it did"
		}
		d.labelAt(p.Canvas, l, name, vg.Point{X: p.x(k.Time), Y: p.y(k.Value)})
		nominal := d.c.NominalName
		if nominal == "" {
			nominal = "told"
		}
		d.labelAt(p.Canvas, l, nominal, vg.Point{X: p.x(t.Time), Y: p.y(t.Value)})
	}
	if o := d.c.Other; o != nil {
		d.nameApart(p, l, o.Kiln, o.Name, d.c.Kiln)
		d.nameApart(p, l, d.c.Kiln, d.c.Name, o.Kiln)
	}
	if d.c.End != "" {
		last := d.c.Kiln[len(d.c.Kiln)-1]
		if d.gutter > 0 {
			y := min(max(p.y(last.Value)-0.33*d.size, p.Min.Y+0.2*d.size), p.Max.Y-d.size)
			d.writeBeside(p, d.c.End, y)
			return
		}
		d.labelAt(p.Canvas, l, d.c.End, vg.Point{X: p.x(last.Time), Y: p.y(last.Value)})
	}
}

// differencePanel draws how far the middle of each piece is from its surface.
func (d *drawing) differencePanel(p panel, l *layout) {
	p.grid()
	var peaks []Point
	for i, s := range d.c.Pieces {
		line := path(s.Difference, p.x, p.y)
		p.StrokeLines(d.c.look(i), line)
		l.paths = append(l.paths, line)
		peaks = append(peaks, farthest(s.Difference))
	}
	for i, s := range d.c.Pieces {
		if d.keyed {
			break
		}
		d.lineLabel(p, l, s.Label+", "+d.c.differenceWord(peaks[i]), s.Difference, peaks[i])
	}
}
