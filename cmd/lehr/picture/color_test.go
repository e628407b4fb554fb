package picture

import (
	"image/color"
	"math"
	"testing"
)

// luminance is the relative luminance of a color by WCAG 2.2.
func luminance(c color.NRGBA) float64 {
	linear := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

func contrast(a, b color.NRGBA) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// TestContrast: lines are at least 3 to 1 on every ground they cross, letters at
// least 4.5 (WCAG 2.2, criteria 1.4.11 and 1.4.3), and the two ranges differ from
// each other and from the paper where there is no color.
func TestContrast(t *testing.T) {
	grounds := map[string]color.NRGBA{"paper": paper, "soak range": wash, "strain range": zone}
	for name, ground := range grounds {
		if c := contrast(tone, ground); c < 3 {
			t.Errorf("the kiln on %s: %.2f", name, c)
		}
		if c := contrast(ink, ground); c < 4.5 {
			t.Errorf("letters on %s: %.2f", name, c)
		}
	}
	gray := func(c color.NRGBA) float64 { return math.Pow(luminance(c), 1/2.2) }
	if a, b, c := gray(paper), gray(wash), gray(zone); a-b < 0.05 || b-c < 0.05 {
		t.Errorf("in gray the paper is %.2f, the soak range %.2f, the strain range %.2f", a, b, c)
	}
}

// TestLooks: no two kinds of line are told apart by color alone.
func TestLooks(t *testing.T) {
	seen := map[string]int{}
	for i := range MostChosen {
		l := pieceLook(i)
		key := ""
		for _, d := range l.Dashes {
			key += string(rune('0'+int(d))) + " "
		}
		key += string(rune('0' + int(10*l.Width)))
		if j, again := seen[key]; again {
			t.Errorf("pieces %d and %d look the same", j, i)
		}
		seen[key] = i
	}
}
