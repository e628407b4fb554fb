package picture

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lehr/glass/unit"
)

// beside lays another program over a curve: the same, an hour later at the end.
func beside(c *Curve, pieces int) *Curve {
	other := *c
	c.Name, c.Other, c.Nominal = "planned", &Program{Name: "a program of my own.toml"}, nil
	for _, p := range c.Kiln {
		c.Other.Kiln = append(c.Other.Kiln, Point{p.Time * 0.8, p.Value})
	}
	c.Pieces = slices.Clone(other.Pieces[:pieces])
	for _, s := range other.Pieces[:pieces] {
		s.Other, s.Left = true, s.Left/2
		s.Share = slices.Clone(s.Share)
		for i := range s.Share {
			s.Share[i].Value *= 1.3
		}
		c.Pieces = append(c.Pieces, s)
	}
	return c
}

// TestBeside: two programs are told apart by the kind of their lines, which are
// named, at the line of the kiln and in a key, and nothing meets anything.
func TestBeside(t *testing.T) {
	each(t, func(t *testing.T, c *Curve) {
		c = beside(c, min(len(c.Pieces), MostBeside))
		for name, s := range map[string]Size{"page": Page, "column": Column} {
			s = c.sized(s)
			d := c.draw(draw.NewCanvas(blank{}, vg.Length(s.Width), vg.Length(s.Height)), vg.Length(s.Letters), name == "page")
			l, found := d.panels[0], 0
			for i, b := range l.boxes {
				if b.name == "planned" || strings.HasPrefix(b.name, "a pro") {
					found++
				}
				for _, o := range l.boxes[:i] {
					if meet(b.rect, o.rect) {
						t.Errorf("%s: %q meets %q", name, b.name, o.name)
					}
				}
				for _, p := range l.paths[:2] {
					for k := 1; k < len(p); k++ {
						if crosses(p[k-1], p[k], b.rect) {
							t.Errorf("%s: a line runs through %q", name, b.name)
							break
						}
					}
				}
			}
			if found != 2 || l.crowded || !d.keyed {
				t.Errorf("%s: %d names, crowded %v", name, found, l.crowded)
			}
		}
		svg, err := c.SVG(Page)
		if err != nil {
			t.Fatal(err)
		}
		texts := wellFormed(t, string(svg))
		for _, s := range c.Pieces {
			program := c.Name
			if s.Other {
				program = c.Other.Name
			}
			if !strings.Contains(texts, "\n"+program+", "+s.Label+": ") {
				t.Errorf("the key does not name %s, %s: %s", program, s.Label, texts)
			}
		}
		text := c.Text(80, nil)
		if !strings.HasPrefix(text, "line: planned; dashes: a program of my own.toml\n") || strings.Count(text, "\n") < upperRows {
			t.Errorf("%s", text)
		}
	})
	c := beside(sample(5*time.Hour, "cold", nil, unit.Metric, 0.5), 2)
	seen := map[string]bool{}
	for i := range c.Pieces {
		l := c.look(i)
		seen[fmt.Sprint(l.Width, len(l.Dashes) > 0)] = true
	}
	if len(seen) != len(c.Pieces) {
		t.Errorf("%d looks for %d lines", len(seen), len(c.Pieces))
	}
}

// TestChosen: six pieces have a key of six rows, for which the picture grows, and
// as many panels in characters as are asked for.
func TestChosen(t *testing.T) {
	c := sample(13*time.Hour, "cold", nil, unit.Metric, 0.5)
	for len(c.Pieces) < MostChosen {
		s := c.Pieces[len(c.Pieces)%3]
		s.Label = fmt.Sprintf("sphere %dmm", len(c.Pieces))
		c.Pieces = append(c.Pieces, s)
	}
	svg, err := c.SVG(Page)
	if err != nil {
		t.Fatal(err)
	}
	texts := wellFormed(t, string(svg))
	for i, s := range c.Pieces {
		if strings.Count(texts, s.Label+": ") != 1 {
			t.Errorf("the key does not name %s once", s.Label)
		}
		c.InText = i + 1
		if text := c.Text(80, nil); strings.Count(text, "inside minus surface") != i+1 || strings.Count(text, "of its limit") != i+1 {
			t.Errorf("%d pieces asked for: %s", i+1, text)
		}
	}
	if s := c.sized(Page); s.Height < Page.Height+3*Page.Letters {
		t.Errorf("%g points high", s.Height)
	}
}
