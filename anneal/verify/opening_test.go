package verify

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/glass/unit"
)

func opening(t *testing.T, celsius int) kiln.Studio {
	return studioOf(t, fmt.Sprintf("[kiln]\nopening = \"%d °C\"\n", celsius))
}

// TestVerify_openedHot: opening a hot kiln is a fall that the program does not
// hold, and counts like the rest of the night.
func TestVerify_openedHot(t *testing.T) {
	program := func(end int) string {
		return fmt.Sprintf("from = \"512 °C\"\n[[segment]]\nhold = \"3 h\"\n[[segment]]\nrate = \"10 °C/h\"\nto = \"380 °C\"\n[[segment]]\nrate = \"20 °C/h\"\nto = \"%d °C\"\n", end)
	}
	last := unit.Stress(math.Inf(1))
	for _, c := range []struct {
		at     int
		piece  string
		within bool
	}{{250, "sphere 2in", false}, {150, "sphere 2in", false}, {70, "sphere 1in", true}} {
		rep, err := verifyText(t, program(c.at), "soda-104", c.piece, piece.HotKiln, opening(t, c.at))
		if err != nil {
			t.Fatal(err)
		}
		r := rep.Pieces[0]
		over := r.Over.Has(finding.OverOpening)
		if rep.Within != c.within || over == c.within || !(r.Opened > 0 && r.Opened < last) {
			t.Errorf("opened at %d °C: %s, within %v, over %v", c.at, r.Opened, rep.Within, r.Over)
		}
		if len(rep.Notes) == 0 || rep.Notes[0] != finding.OfPiece(finding.OpenedAt, 0).At(unit.Celsius(float64(c.at))).Pulled(r.Opening.Worst, r.Opening.Pair.Worst).Also(r.Opening.Expected, r.Opening.Pair.Expected) {
			t.Errorf("opened at %d °C: first note %v", c.at, rep.Notes)
		}
		if by := r.Opening.Pair; by.Worst != 5*unit.Megapascal || by.Expected != 3.5*unit.Megapascal || over != (r.Opening.Use > 1) {
			t.Errorf("opened at %d °C: held against %v, over %v", c.at, by, over)
		}
		last = r.Opened
	}
	// A kiln that is cool, or that stays closed until it is, is not opened hot.
	for _, c := range []struct{ ends, opens int }{{45, 45}, {250, 45}} {
		rep, err := verifyText(t, program(c.ends), "soda-104", "sphere 2in", piece.HotKiln, opening(t, c.opens))
		if err != nil {
			t.Fatal(err)
		}
		if rep.Pieces[0].Opened != 0 || rep.Notes.Has(finding.OpenedAt) {
			t.Errorf("ends at %d °C, opened at %d °C: %s, notes %v", c.ends, c.opens, rep.Pieces[0].Opened, rep.Notes)
		}
	}
}

// TestVerify_openedSmall compares a small sphere with the lumped body: its
// surface gives up h (T − T₀), which makes a tension of
// E α h R (T − T₀)/(5 (1 − ν) k) in a sphere whose heat flows as in steady
// cooling, h the convection and the radiation at the start.
//
// Source: Carslaw & Jaeger (1959), ch. 9; Kingery (1955) [memory]:
// E α ΔT 2/(5 (1 − ν)), ΔT = h R θ/(2 k).
func TestVerify_openedSmall(t *testing.T) {
	const celsius = 100
	rep, err := verifyText(t, fmt.Sprintf("from = \"560 °C\"\n[[segment]]\nhold = \"1 h\"\n[[segment]]\nrate = \"20 °C/h\"\nto = \"%d °C\"\n", celsius),
		"borosilicate-33", "sphere 10mm raised", piece.HotKiln, opening(t, celsius))
	if err != nil {
		t.Fatal(err)
	}
	g := rep.Pieces[0].Piece.Glass
	hot, room := 273.15+celsius, 293.15
	e := openSurface(g).Emissivity
	q := openAir*(hot-room) + e*5.670374419e-8*(math.Pow(hot, 4)-math.Pow(room, 4))
	want := g.Young.Number * g.Expansion.Number * q * 0.005 / (5 * (1 - g.Poisson.Number) * g.Conductivity.At(hot))
	if got := float64(rep.Pieces[0].Opened); !scalar.EqualWithinRel(got, want, 0.2) { // half a minute passes before the air is cold
		t.Errorf("opened: %.4f MPa, by hand %.4f MPa", got/1e6, want/1e6)
	}
}
