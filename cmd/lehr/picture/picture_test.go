package picture

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/png"
	"io"
	"math"
	"os"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lehr/glass/unit"
)

// sample makes the curve of a program of the given length: heated or not,
// soaked, then cooled; the tension nears its limit by share.
func sample(length time.Duration, shape string, start *unit.Clock, sys unit.System, share float64) *Curve {
	c := &Curve{Title: "T <&>", Desc: "D", Length: length.Seconds(), Start: start, System: sys, TempUnit: "°C", End: "ends 11:45 pm +12d"}
	limit := "limit of tension 3.50 MPa"
	scale := func(celsius float64) float64 { return celsius }
	if sys == unit.US {
		c.TempUnit, limit = "°F", "limit of tension 508 psi"
		scale = func(celsius float64) float64 { return unit.Celsius(celsius).Fahrenheit() }
	}
	band := func(name string, low, high float64) Band {
		ends := fmt.Sprintf("%.0f–%.0f", scale(low), scale(high))
		return Band{scale(low), scale(high), name + " range " + ends + " " + c.TempUnit, name + " " + ends}
	}
	c.Soak, c.Strain = band("soak", 518, 576), band("strain", 470, 518)
	at := func(s float64) float64 { // temperature [°C] at a share of the program
		switch {
		case shape == "warm":
			return 20 + 540*math.Min(1, s/0.8)
		case shape == "cold" && s < 0.2:
			return 20 + 540*s/0.2
		case s < 0.25:
			return 560
		}
		return 40 + 520*math.Exp(-4*(s-0.25)/0.75)
	}
	var kiln, surface, center, shares []Point
	for i := range 301 {
		s := float64(i) / 300
		t := s * c.Length
		kiln = append(kiln, Point{t, scale(at(s))})
		surface = append(surface, Point{t, scale(at(math.Max(0, s-0.005)))})
		center = append(center, Point{t, scale(at(math.Max(0, s-0.012)))})
		shares = append(shares, Point{t, share * math.Abs(math.Sin(5*s))})
	}
	c.Heading, c.DiffUnit, c.Kiln = []string{"name", "verdict", "planned"}, "K", kiln
	c.Ends = []float64{0.25 * c.Length, 0.3 * c.Length, c.Length}
	if shape != "warm" {
		for i := range 51 {
			s := float64(i) / 50
			c.Nominal = append(c.Nominal, Point{s * 0.6 * c.Length, scale(at(s))})
		}
	}
	kinds := []string{"pendant 45mm x 12mm", "sphere 1.25in", "rod 10mm x 200mm"}
	if shape != "cold" {
		kinds = kinds[:2]
	}
	for i, what := range kinds {
		s := Series{Label: what, Left: share / float64(i+1), Limit: limit, Greatest: "greatest 1.47 MPa, closed face, 03:35 +1d"}
		if shape == "warm" {
			s.Left = -1
		}
		for j, p := range shares {
			s.Share = append(s.Share, Point{p.Time, p.Value / float64(i+1)})
			s.Difference = append(s.Difference, Point{p.Time, (center[j].Value - surface[j].Value) / float64(i+1)})
		}
		c.Pieces = append(c.Pieces, s)
	}
	return c
}

// each runs f on curves from half an hour to sixty days: on every third of them, on
// all with LEHR_LONG=1.
func each(t *testing.T, f func(t *testing.T, c *Curve)) {
	night := unit.Clock(22*60 + 15)
	for n, length := range []time.Duration{30 * time.Minute, 5 * time.Hour, 13*time.Hour + 31*time.Minute, 26 * time.Hour, 60 * 24 * time.Hour} {
		for m, shape := range []string{"hot", "cold", "warm"} {
			for i, start := range []*unit.Clock{nil, &night} {
				for j, sys := range []unit.System{unit.Metric, unit.US}[i:] {
					for k, share := range []float64{0.02, 0.98, 1.7} {
						if (n+m+i+j+k)%3 != 0 && os.Getenv("LEHR_LONG") != "1" { // every pair of two of them
							continue
						}
						t.Run(fmt.Sprintf("%v %s start %d units %v tension %g", length, shape, i, sys, share), func(t *testing.T) {
							f(t, sample(length, shape, start, sys, share))
						})
					}
				}
			}
		}
	}
}

// TestLabelsKeepApart draws each curve and wants every label to have found a
// place, where it meets no line, no mark and no other label.
func TestLabelsKeepApart(t *testing.T) {
	each(t, func(t *testing.T, c *Curve) {
		for name, s := range map[string]Size{"page": Page, "column": Column} {
			d := c.draw(draw.NewCanvas(blank{}, vg.Length(s.Width), vg.Length(s.Height)), vg.Length(s.Letters), name == "page")
			nominal := min(1, len(c.Nominal))
			// What else is in the way leads to a label.
			lines := [3]int{1 + nominal, len(c.Pieces), 1 + len(c.Pieces)}
			// Ranges, end, kiln and told; pieces; limit and pieces.
			wanted := [3]int{2 + 2*nominal, len(c.Pieces), 1 + len(c.Pieces)}
			if labelsOfBands(t, name, c, d) {
				wanted[0] -= 2
			} else if !c.judgesLeft() {
				wanted[0]++ // the end, which else stands beside the panel
			}
			if d.keyed {
				wanted[1], wanted[2] = 0, 1
			}
			if most := d.panels[2]; most.crowded || d.panels[0].crowded {
				t.Errorf("%s: a label finds no room", name)
			}
			for i, l := range d.panels {
				labels := 0
				for j, b := range l.boxes {
					if b.name == "" {
						continue
					}
					labels++
					if b.rect.Min.X < l.area.Min.X || b.rect.Max.X > l.area.Max.X || b.rect.Min.Y < l.area.Min.Y || b.rect.Max.Y > l.area.Max.Y {
						t.Errorf("%s: %q leaves its panel", name, b.name)
					}
					for _, o := range l.boxes[:j] {
						if meet(b.rect, o.rect) {
							t.Errorf("%s: %q meets %q", name, b.name, o.name)
						}
					}
					for _, p := range l.paths[:lines[i]] {
						for k := 1; k < len(p); k++ {
							if crosses(p[k-1], p[k], b.rect) {
								t.Errorf("%s: a line runs through %q", name, b.name)
								break
							}
						}
					}
				}
				if labels != wanted[i] {
					t.Errorf("%s: panel %d has %d labels, want %d", name, i, labels, wanted[i])
				}
			}
			labelsOfTimeKeepApart(t, c, d)
		}
	})
}

// labelsOfTimeKeepApart wants a gap between the labels of the time axis, and
// marks that are worth having.
func labelsOfTimeKeepApart(t *testing.T, c *Curve, d *drawing) {
	t.Helper()
	area := d.panels[2].area
	width := float64(area.Max.X - area.Min.X)
	end, seen := -1e9, 0
	for _, tick := range c.timeTicks(float64((5*d.size + 4) / (area.Max.X - area.Min.X))) {
		x := tick.at / c.Length * width
		half := float64(max(d.pen.width(tick.label), d.pen.width(tick.day))) / 2
		if x-half < end+2 {
			t.Errorf("time label %q meets the one before it", tick.label)
		}
		if x < 0 || x > width+1e-6 {
			t.Errorf("time label %q lies outside", tick.label)
		}
		end = x + half
		seen++
	}
	if seen < 2 {
		t.Errorf("%v: %d marks of time", time.Duration(c.Length)*time.Second, seen)
	}
}

// TestTimeTicks checks times against the clock on the wall.
func TestTimeTicks(t *testing.T) {
	night := unit.Clock(22*60 + 15)
	c := sample(13*time.Hour+30*time.Minute, "hot", &night, unit.Metric, 0.5)
	ticks := c.timeTicks(0.1)
	if first := ticks[0]; first.label != "00:00" || first.day != "+1d" || first.at != 105*60 {
		t.Errorf("first mark %+v, want midnight of the next day 105 min after 22:15", first)
	}
	for _, tick := range ticks {
		clock, days := night.Add(time.Duration(tick.at) * time.Second)
		if clock.String() != tick.label || days != 1 {
			t.Errorf("mark %q at %g s, the clock then shows %s", tick.label, tick.at, clock)
		}
	}
	c.System = unit.US
	if got := c.timeTicks(0.1)[1].label; got != "2 am" {
		t.Errorf("second mark %q, want 2 am", got)
	}
}

// TestFormats wants files that other programs can read, in which text is text.
func TestFormats(t *testing.T) {
	night := unit.Clock(22*60 + 15)
	c := sample(13*time.Hour, "cold", &night, unit.Metric, 0.5)
	svg, err := c.SVG(Page)
	if err != nil {
		t.Fatal(err)
	}
	texts := wellFormed(t, string(svg))
	for _, want := range []string{"T <&>", "D", c.Soak.Label, c.Strain.Label, c.End, "name", "verdict", "planned", "Kiln reading, °C", "Inside minus surface, K", shareTitle, leftTitle, "limit", "clock time", "00:00"} {
		if !strings.Contains(texts, want+"\n") {
			t.Errorf("SVG: no text %q", want)
		}
	}
	inline, err := c.Inline(Column)
	if err != nil {
		t.Fatal(err)
	}
	wellFormed(t, inline)
	for _, bad := range []string{"<?xml", "href", "#1B1D1F;", "Plotinum"} {
		if strings.Contains(inline, bad) {
			t.Errorf("inline: has %s", bad)
		}
	}
	if !strings.Contains(inline, "var(--ink,#1B1D1F)") || !strings.HasPrefix(inline, "<svg viewBox") {
		t.Error("inline: not in the colors of the page")
	}
	data, err := c.PNG(Page)
	if err != nil {
		t.Fatal(err)
	}
	im, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if w := im.Bounds().Dx(); math.Abs(float64(w)-Page.Width/72*192) > 1 {
		t.Errorf("PNG: %d pixels wide", w)
	}
	pdf, err := c.PDF(Page)
	if err != nil || !bytes.HasPrefix(pdf, []byte("%PDF-")) || !bytes.Contains(pdf, []byte("%%EOF")) {
		t.Errorf("PDF: %d bytes, %v", len(pdf), err)
	}
	if bytes.Contains(pdf, []byte("Date")) {
		t.Error("the PDF states a date: two runs differ")
	}
	again, err := c.SVG(Page)
	if err != nil || !bytes.Equal(svg, again) {
		t.Error("the same curve gives another SVG")
	}
}

// wellFormed parses XML and returns its texts, one on a line.
func wellFormed(t *testing.T, text string) string {
	t.Helper()
	var out strings.Builder
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return out.String()
		}
		if err != nil {
			t.Fatal(err)
		}
		if data, ok := token.(xml.CharData); ok && len(bytes.TrimSpace(data)) > 0 {
			out.WriteString(string(data) + "\n")
		}
	}
}

// TestText wants every size to keep to its width, to show the numbers, and to
// reach the ends of the panel.
func TestText(t *testing.T) {
	ascii := func(s string) string {
		return strings.Map(func(r rune) rune {
			switch {
			case r == '–':
				return '-'
			case r > 126:
				return -1
			}
			return r
		}, s)
	}
	each(t, func(t *testing.T, c *Curve) {
		for _, width := range []int{1, 40, 60, 80, 120} {
			for i, spell := range []func(string) string{nil, ascii} {
				text := c.Text(width, spell)
				for line := range strings.Lines(text) {
					line = strings.TrimSuffix(line, "\n")
					if n := utf8.RuneCountInString(line); n > max(width, 40) || strings.HasSuffix(line, " ") {
						t.Errorf("width %d: %d columns: %q", width, n, line)
					}
					if i == 1 && strings.Trim(line, " !\"#$%&'()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[\\]^_`abcdefghijklmnopqrstuvwxyz{|}~") != "" {
						t.Errorf("not ASCII: %q", line)
					}
				}
				if n := strings.Count(text, "\n"); n < upperRows+2*lowerRows+7 || n > upperRows+2*lowerRows+11 {
					t.Errorf("%d lines", n)
				}
				if width < 80 {
					continue
				}
				spelled := func(s string) string {
					if spell != nil {
						return spell(s)
					}
					return s
				}
				for _, want := range []string{c.Soak.Label, c.Pieces[0].Limit, c.Pieces[0].Greatest, c.Pieces[0].Label + ": inside minus surface, K", c.Pieces[0].Label + ": tension, % of its limit"} {
					if !strings.Contains(text, spelled(want)) {
						t.Errorf("width %d: no %q in\n%s", width, want, text)
					}
				}
			}
		}
	})
}

// TestText_followsTheCurve reads the drawn curve back: in each column the
// highest dot lies where the kiln is.
func TestText_followsTheCurve(t *testing.T) {
	c := newCells(60, 15, false)
	var line []Point
	for i := range 201 {
		x := float64(i) / 200
		line = append(line, Point{x, 0.1 + 0.8*x*x})
	}
	c.line(line)
	for col := range c.cols * c.dx {
		top := -1
		for j := range c.rows * c.dy {
			if c.dots[j*c.cols*c.dx+col] {
				top = j
				break
			}
		}
		x := float64(col) / float64(c.cols*c.dx-1)
		want := (1 - (0.1 + 0.8*x*x)) * float64(c.rows*c.dy-1)
		if top < 0 || math.Abs(float64(top)-want) > 2 {
			t.Errorf("column %d: dot in row %d, want %.1f", col, top, want)
		}
	}
}

// TestThin wants a thinned path to stay within its tolerance.
func TestThin(t *testing.T) {
	var path []vg.Point
	for i := range 500 {
		x := float64(i) / 5
		path = append(path, vg.Point{X: vg.Length(x), Y: vg.Length(20 * math.Sin(x/7))})
	}
	short := thin(path, 0.2)
	if len(short) > 80 || short[0] != path[0] || short[len(short)-1] != path[len(path)-1] {
		t.Fatalf("%d points of %d", len(short), len(path))
	}
	for _, p := range path {
		near := math.Inf(1)
		for i := 1; i < len(short); i++ {
			a, b := short[i-1], short[i]
			l := math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
			w := math.Min(1, math.Max(0, float64((p.X-a.X)*(b.X-a.X)+(p.Y-a.Y)*(b.Y-a.Y))/(l*l)))
			near = math.Min(near, math.Hypot(float64(p.X-a.X)-w*float64(b.X-a.X), float64(p.Y-a.Y)-w*float64(b.Y-a.Y)))
		}
		if near > 0.2+1e-9 {
			t.Errorf("%v lies %.3f from the thinned path", p, near)
		}
	}
}
