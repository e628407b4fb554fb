package picture

import (
	"math"
	"testing"
	"time"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lehr/glass/unit"
)

// labelsOfBands wants the name of each range of temperature on it, or, with all of
// them, right of the panel at its height, the hotter above; it answers whether they
// stand there.
func labelsOfBands(t *testing.T, name string, c *Curve, d *drawing) (beside bool) {
	t.Helper()
	size := d.size
	find := func(boxes []box, words string) (vg.Rectangle, bool) {
		for _, b := range boxes {
			if b.name == words {
				return b.rect, true
			}
		}
		return vg.Rectangle{}, false
	}
	var before vg.Rectangle
	for i, b := range d.ranges {
		r, on := find(d.panels[0].boxes, b.Label)
		if !on {
			beside = true
			if r, on = find(d.beside, b.Short); !on {
				t.Errorf("%s: no name of %s", name, b.Label)
				continue
			}
		}
		middle := (r.Min.Y + r.Max.Y) / 2
		off := math.Abs(float64(middle - b.middle()))
		switch {
		case !beside && (middle < b.low || middle > b.high || r.Min.Y < b.low-0.2*size || r.Max.Y > b.high+0.2*size):
			t.Errorf("%s: %q from %g to %g, its range from %g to %g", name, b.Label, r.Min.Y, r.Max.Y, b.low, b.high)
		case beside && (off > float64(0.6*size) || r.Min.X < d.panels[0].area.Max.X):
			t.Errorf("%s: %q is %g from its range", name, b.Label, off)
		case beside && i > 0 && before.Min.Y < r.Max.Y-1e-6:
			t.Errorf("%s: %q is not below the hotter range", name, b.Label)
		}
		before = r
	}
	for i, b := range d.beside {
		for _, o := range d.beside[:i] {
			if r := b.rect; r.Min.Y < o.rect.Max.Y-1e-6 && o.rect.Min.Y < r.Max.Y-1e-6 {
				t.Errorf("%s: %q meets %q", name, b.name, o.name)
			}
		}
		if right := vg.Length(map[string]float64{"page": Page.Width, "column": Column.Width}[name]); b.rect.Max.X > right {
			t.Errorf("%s: %q leaves the picture", name, b.name)
		}
	}
	return beside
}

// TestBands_twice: a kiln that comes through its ranges three times, as after a power
// failure, leaves the names of both where they belong.
func TestBands_twice(t *testing.T) {
	night := unit.Clock(22*60 + 15)
	for _, sys := range []unit.System{unit.Metric, unit.US} {
		c := sample(20*time.Hour, "hot", &night, sys, 0.9)
		top := c.Kiln[0].Value
		for i := range c.Kiln {
			if s := float64(i) / 300; s > 0.1 && s < 0.25 {
				c.Kiln[i].Value = top * (1 - 0.4*math.Sin(math.Pi*(s-0.1)/0.15))
			}
		}
		c.Nominal, c.Now = nil, 0.18*c.Length
		for name, s := range map[string]Size{"page": Page, "column": Column} {
			d := c.draw(draw.NewCanvas(blank{}, vg.Length(s.Width), vg.Length(s.Height)), vg.Length(s.Letters), name == "page")
			labelsOfBands(t, name, c, d)
			if len(d.ranges) != 2 {
				t.Errorf("%s: %d ranges", name, len(d.ranges))
			}
		}
	}
}
