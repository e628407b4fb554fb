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
		notes := rep.Notes // over a limit, they begin with what to do: none of the readings will do for a sphere of this glass
		if len(notes) > 0 && over {
			if notes[0] != finding.OfPiece(finding.KeepClosed, 0).Against(unit.Celsius(65)) || rep.Notes.Has(finding.StillHot) {
				t.Errorf("opened at %d °C: %v", c.at, notes)
			}
			notes = notes[1:]
		}
		if len(notes) == 0 || notes[0] != finding.OfPiece(finding.OpenedAt, 0).At(unit.Celsius(float64(c.at))).Pulled(r.Opening.Worst, r.Opening.Pair.Worst).Also(r.Opening.Expected, r.Opening.Pair.Expected) {
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
		if rep.Pieces[0].Opened != 0 || rep.Notes.Has(finding.OpenedAt) || rep.Notes.Has(finding.KeepClosed) {
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

// TestVerify_closedUntil: opened at the reading that is named, the kiln left closed
// until then, the piece is within its limits, and a step hotter it is not: for a
// controller of either system, and for a kiln that nobody measured at every fall that
// it may have.
func TestVerify_closedUntil(t *testing.T) {
	const points = "cooling_points = \"560 °C 0 min, 480 °C 35 min, 300 °C 2.5 h, 100 °C 9 h\"\n"
	for _, c := range []struct {
		studio string
		step   unit.Delta
	}{{points, 5}, {points + "[controller]\nunits = \"f\"\n", unit.Fahrenheit(10).Sub(unit.Fahrenheit(0))}, {"", 0}} {
		st := studioOf(t, "[kiln]\nopening = \"195 °C\"\n"+c.studio)
		rep, err := verifyText(t, "from = \"560 °C\"\n[[segment]]\nhold = \"1 h\"\n[[segment]]\nrate = \"20 °C/h\"\nto = \"195 °C\"\n",
			"borosilicate-33", "sphere 3in", piece.HotKiln, st)
		if err != nil {
			t.Fatal(err)
		}
		f, ok := rep.Notes.Find(finding.KeepClosed)
		if !ok || f.Temp.IsZero() || !f.Temp.Less(st.Opening) || f.Yes != (c.step > 0) || f.Time <= 0 {
			t.Fatalf("%q: %+v", c.studio, f)
		}
		if x, _ := f.Temp.In(st.Controller.Units); math.Abs(x/5-math.Round(x/5)) > 1e-6 {
			t.Errorf("%q: %s is no round reading", c.studio, f.Temp.Text(st.Controller.Units))
		}
		for n := range 2 {
			if n == 1 && c.step == 0 { // as the ramp goes on it may pass
				continue
			}
			st.Opening = f.Temp.Add(unit.Delta(n) * c.step)
			next, err := Program(t.Context(), rep.Closed(st.Opening), rep.Load, st, kiln.Limits{})
			if err != nil {
				t.Fatal(err)
			}
			if over := next.Pieces[0].Over.Has(finding.OverOpening); over != (n == 1) {
				t.Errorf("%q: opened at %s: %v", c.studio, st.Opening.Text(unit.Metric), next.Pieces[0].Over)
			}
		}
	}
}
