package picture

import (
	"fmt"
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
}

// headroom is what may be added above a panel, as a share of its height, until
// its labels find room.
var headroom = []float64{0, 0.25, 0.6, 1.2, 2, 3}

// draw draws the curve on a canvas with letters of the given size and returns
// where everything went. It lays it out first, as often as it takes: where the
// names of the pieces find no room beside their lines they go into a key, and
// where the labels of a panel find none it gets more space above.
func (c *Curve) draw(dc draw.Canvas, size vg.Length, alone bool) *drawing {
	how := layoutOf{alone: alone, keyed: len(c.Pieces) > 2}
	for {
		d := c.drawOnce(draw.Canvas{Canvas: blank{}, Rectangle: dc.Rectangle}, size, how)
		again := false
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
	heights := [3]vg.Length{0.39 * room, 0.22 * room, 0.39 * room}
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
			d.kilnPanel(p, l)
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
	if numbers && d.gutter > 0 {
		d.pen.write(p.Canvas, "segment", p.Max.X+0.4*d.size, p.Max.Y+1.75*d.size)
	}
}

// kilnPanel draws the ranges, the kiln by the clock and as told.
func (d *drawing) kilnPanel(p panel, l *layout) {
	inside := func(v float64) vg.Length { return min(max(p.y(v), p.Min.Y), p.Max.Y) }
	for i, b := range []Band{d.c.Soak, d.c.Strain} {
		low, high := inside(b.Low), inside(b.High)
		if high > low {
			p.FillPolygon(bandFill[i], []vg.Point{{X: p.Min.X, Y: low}, {X: p.Max.X, Y: low}, {X: p.Max.X, Y: high}, {X: p.Min.X, Y: high}})
		}
	}
	p.grid()
	if d.c.Told != nil {
		told := path(d.c.Told, p.x, p.y)
		p.StrokeLines(toldLook, told)
		l.paths = append(l.paths, told)
	}
	kiln := path(d.c.Kiln, p.x, p.y)
	p.StrokeLines(kilnLook, kiln)
	l.paths = append(l.paths, kiln)
	for _, b := range []Band{d.c.Soak, d.c.Strain} {
		low, high := inside(b.Low), inside(b.High)
		if high <= low || b.Label == "" {
			continue
		}
		middle := (low + high) / 2
		// In the range, as far right as it is free; else close by.
		d.label(p.Canvas, l, b.Label, func(at vg.Point) float64 {
			off := float64(at.Y - middle)
			return off*off*40 + float64(p.Max.X-at.X)
		})
	}
	if d.c.Told != nil {
		t := d.c.Told[len(d.c.Told)-1]
		k := at(d.c.Kiln, t.Time)
		d.labelAt(p.Canvas, l, "as this kiln falls", vg.Point{X: p.x(k.Time), Y: p.y(k.Value)})
		d.labelAt(p.Canvas, l, "told", vg.Point{X: p.x(t.Time), Y: p.y(t.Value)})
	}
	if d.c.End != "" {
		last := d.c.Kiln[len(d.c.Kiln)-1]
		if d.gutter > 0 {
			y := min(max(p.y(last.Value)-0.33*d.size, p.Min.Y+0.2*d.size), p.Max.Y-d.size)
			d.pen.write(p.Canvas, d.c.End, p.Max.X+0.4*d.size, y)
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
		p.StrokeLines(pieceLook(i), line)
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
		p.StrokeLines(pieceLook(i), line)
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
	slices.SortStableFunc(order, func(a, b int) int { return int(math.Copysign(1, d.c.Pieces[b].Left-d.c.Pieces[a].Left)) })
	for _, i := range order {
		s := d.c.Pieces[i]
		if s.Left < 0 {
			continue
		}
		y := p.y(100 * s.Left)
		at := vg.Point{X: x + 0.7*d.size, Y: y}
		if i == 0 {
			wider.DrawGlyph(dot, at)
		} else {
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
	row, sample := 1.25*d.size, 2.6*d.size
	n := len(d.c.Pieces)
	for i, s := range d.c.Pieces {
		y := c.Min.Y + row*vg.Length(n-1-i)
		c.StrokeLine2(pieceLook(i), c.Min.X, y+0.4*d.size, c.Min.X+sample, y+0.4*d.size)
		words := fmt.Sprintf("%s: %s, %s", s.Label, d.c.differenceWord(farthest(s.Difference)), percentLabel(s.Share))
		d.pen.write(c, words, c.Min.X+sample+0.5*d.size, y)
	}
	return row * vg.Length(n)
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
