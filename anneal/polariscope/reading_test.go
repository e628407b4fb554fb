package polariscope

import (
	"errors"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"lehr/glass/unit"
)

// dark searches the angle of the analyzer at which least light passes, with
// the light followed through polarizer, piece at 45° and plate by Jones
// matrices.
func dark(retardation, plate, light unit.Length) float64 {
	δ := 2 * math.Pi * float64(retardation/light)
	p := 2 * math.Pi * float64(plate/light)
	// Polarizer along x; the piece's axes at ±45°, the plate's along x and y.
	a, b := cmplx.Exp(complex(0, δ/2)), cmplx.Exp(complex(0, -δ/2))
	x, y := (a+b)/2, (a-b)/2
	x *= cmplx.Exp(complex(0, p/2))
	y *= cmplx.Exp(complex(0, -p/2))
	best, at := math.Inf(1), 0.0
	for i := -90000; i <= 90000; i++ {
		θ := float64(i) / 1000 * math.Pi / 180
		// The analyzer stands across the polarizer, turned by θ.
		e := x*complex(math.Sin(θ), 0) + y*complex(math.Cos(θ), 0)
		if d := real(e)*real(e) + imag(e)*imag(e); d < best {
			best, at = d, float64(i)/1000
		}
	}
	return math.Abs(at)
}

func TestPlateRotation_jones(t *testing.T) {
	for _, c := range [][3]float64{{75, 141, 589.3}, {70, 127, 565}, {200, 141, 546.1}, {20, 137, 546.1}} {
		r, p, l := unit.Length(c[0])*Nanometer, unit.Length(c[1])*Nanometer, unit.Length(c[2])*Nanometer
		if got, want := math.Abs(plateRotation(r, p, l)), dark(r, p, l); math.Abs(got-want) > 0.002 {
			t.Errorf("%v: got %g°, want %g°", c, got, want)
		}
	}
	// The stated error covers every retardation of the first quarter.
	for x := 1.0; x < 140; x++ {
		r, p, l := unit.Length(x)*Nanometer, 125*Nanometer, 565*Nanometer
		off := math.Abs(float64(rotation(plateRotation(r, p, l), l, 0)-r)) / 1e-9
		if limit := float64(plateError(p, l)) / 1e-9; off > limit*1.02+1e-9 {
			t.Errorf("%g nm: off by %g, stated %g", x, off, limit)
		}
	}
}

func TestTemperNumber(t *testing.T) {
	// Upper ends of the numbers, degrees of the analyzer at 565 nm.
	for i, deg := range []float64{7.3, 14.5, 21.8, 29.0, 36.3, 43.6, 50.8, 58.1, 65.4, 72.6} {
		if got := TemperNumber(rotation(deg-0.1, 565*Nanometer, 0)); got != i+1 {
			t.Errorf("%g°: got %d, want %d", deg, got, i+1)
		}
	}
	if TemperNumber(300*Nanometer) != 0 || TemperNumber(0) != 1 {
		t.Error("ends of the scale")
	}
	// ASTM C148: number 4 on 8.12 mm is 2 on 4.06 mm.
	if got := RealTemper(4, 8.12*unit.Millimeter); math.Abs(got-2) > 1e-9 {
		t.Errorf("got %g", got)
	}
}

func TestParseReading(t *testing.T) {
	green := Known{Light: 546.1 * Nanometer}
	for _, c := range []struct {
		text     string
		k        Known
		nm, e    float64
		below    bool
		contains string
	}{
		{text: "60 nm", nm: 60, e: 10},
		{text: "60±15nm", nm: 60, e: 15},
		{text: "60 +/- 15 nm", nm: 60, e: 15},
		{text: "60 nm", k: Known{Error: 5 * Nanometer}, nm: 60, e: 5},
		{text: "600nm", k: Known{Order: 2}, nm: 600, e: 10},
		{text: "20 deg", k: green, nm: 60.678, e: 6.068},
		{text: "20 ± 1 deg", k: green, nm: 60.678, e: 3.034},
		{text: "45°", k: Known{Light: 546.1 * Nanometer, Order: 2}, nm: 682.625, e: 6.068},
		{text: "2 discs", nm: 45.577, e: 11.394},
		{text: "2.5 ± 0.25 discs", nm: 56.97, e: 5.697},
		{text: "Brownish yellow", nm: 430, e: 98},
		{text: "sky blue", k: Known{Order: 2}, nm: 664, e: 75},
		{text: "5 nm", nm: 10, below: true},
		{text: "0 discs", nm: 10, below: true},
	} {
		r, err := ParseReading(c.text, c.k)
		if err != nil || math.Abs(nm(r.Retardation)-c.nm) > 0.01 || math.Abs(nm(r.Error)-c.e) > 0.01 || r.Below != c.below {
			t.Errorf("%s: got %.6g ± %.6g %v, %v", c.text, nm(r.Retardation), nm(r.Error), r.Below, err)
		}
	}
	for _, c := range []struct {
		text string
		k    Known
		want string
	}{
		{"", Known{}, "is empty"},
		{"60", Known{}, "has no unit"},
		{"60 mm", Known{}, `"mm" is no unit`},
		{"60 ± x nm", Known{}, "error is not understood"},
		{"60 ± 0 nm", Known{}, "error is not understood"},
		{"60 ± 3 nm", Known{Error: 1e-9}, "has an error already"},
		{"600 nm", Known{}, "nothing without its order"},
		{"600 nm", Known{Order: 1}, "is of order 2, not 1"},
		{"20 deg", Known{}, "without the wavelength"},
		{"200 deg", green, "must be from 0° to 180°"},
		{"20 deg", Known{Light: 1000 * Nanometer}, "must be from 380"},
		{"20 deg", Known{Light: 546 * Nanometer, Plate: 300 * Nanometer}, "is no quarter"},
		{"30 discs", Known{}, "discs cannot be told"},
		{"lavender gray", Known{}, "gray has no color to read"},
		{"black", Known{}, "gray has no color to read"},
		{"greenish blue", Known{}, "its order is not known"},
		{"sky blue", Known{}, "its order is not known"},
		{"sky blue", Known{Order: 1}, "is no color of order 1"},
		{"mauve", Known{}, "is no color of the table"},
		{"1e9 nm", Known{Order: 3}, "is of order"},
		{"1.2.3 nm", Known{}, "is no reading"},
	} {
		if r, err := ParseReading(c.text, c.k); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: got %+v, %v, want %q", c.text, r, err, c.want)
		}
	}
}

// The tables are whole: the three functions have the same sum
// from 380 to 780 nm, and D65 the
// chromaticity that the CIE gives it (CIE 015: x 0.31272, y 0.32903).
func TestTable(t *testing.T) {
	var x, y, z float64
	for _, b := range bands() {
		if b.nm < 380 || b.nm > 780 { // the range of the printed sums
			continue
		}
		x, y, z = x+b.x, y+b.y, z+b.z
	}
	for _, s := range []float64{x, y, z} {
		if math.Abs(s-21.3714) > 0.001 {
			t.Errorf("sum %g", s)
		}
	}
	cx, cy := white().Chromaticity()
	if math.Abs(cx-0.31272) > 1e-4 || math.Abs(cy-0.32903) > 1e-4 {
		t.Errorf("white at %g %g", cx, cy)
	}
	if r, g, b := white().screen(); r != 255 || g != 255 || b != 255 {
		t.Errorf("white on a screen is %d %d %d", r, g, b)
	}
	// The darkest color of passage and the brightest white of the first order.
	dark, bright := 0.0, 0.0
	for x := 300.0; x < 700; x++ {
		if dark == 0 || ColorOf(unit.Length(x)*Nanometer).Y < ColorOf(unit.Length(dark)*Nanometer).Y {
			dark = x
		}
	}
	for x := 100.0; x < 500; x++ {
		if ColorOf(unit.Length(x)*Nanometer).Y > ColorOf(unit.Length(bright)*Nanometer).Y {
			bright = x
		}
	}
	if dark != 551 || math.Abs(bright-275) > 1 {
		t.Errorf("darkest at %g nm, brightest at %g nm", dark, bright)
	}
}

func TestNameOf(t *testing.T) {
	for x, want := range map[float64]string{0: "black", 60: "iron gray", 551: "deep red", 700: "greenish blue", 5000: "white of a higher order"} {
		if got, _ := NameOf(unit.Length(x) * Nanometer); got != want {
			t.Errorf("%g nm: got %s", x, got)
		}
	}
}

func TestParseNoted(t *testing.T) {
	for text, want := range map[string]float64{"60 nm": 60, "20 deg at 546.1nm": 60.678, "sky blue order 2": 664, "45 deg at 546.1 nm order 2": 682.625, "2 discs": 45.577} {
		if r, err := ParseNoted(text); err != nil || math.Abs(nm(r.Retardation)-want) > 0.01 {
			t.Errorf("%s: got %g, %v", text, nm(r.Retardation), err)
		}
	}
	for text, want := range map[string]string{"20 deg": "20 deg at 546nm", "sky blue": "sky blue order 2", "20 deg at green": "20 deg at 546nm", "sky blue order x": "sky blue order 2"} {
		_, err := ParseNoted(text)
		e, ok := err.(*ReadingError)
		if !ok || !strings.Contains(e.Hint(), want) {
			t.Errorf("%s: got %v", text, err)
		}
	}
}

// TestParseNoted_hint: what is lacking is told by the reading, not by the words that
// somebody wrote.
func TestParseNoted_hint(t *testing.T) {
	for text, want := range map[string]string{
		"20 deg":          `write the light behind it: "20 deg at 546nm"`,
		"600 nm":          `write the order behind it: "sky blue order 2"`,
		"border blue":     "list the colors with",
		"wavelength blue": "list the colors with",
	} {
		_, err := ParseNoted(text)
		var wrong *ReadingError
		if !errors.As(err, &wrong) || !strings.Contains(wrong.Hint(), want) {
			t.Errorf("%s: %v, want the hint %q", text, err, want)
		}
	}
}
