package verify

import (
	"math"
	"testing"

	"lehr/anneal/finding"
	"lehr/anneal/piece"
	"lehr/glass/unit"
)

// TestWallStress holds the mean against the textbook's thin wall, p r/(2 t), and
// against the sum of the textbook's thick one over its section.
func TestWallStress(t *testing.T) {
	const p = unit.Stress(1e5)
	if got, want := wallStress(p, 200*unit.Millimeter, unit.Millimeter), p*99/2; math.Abs(float64(got/want)-1) > 0.01 {
		t.Errorf("thin: %v, want %v", got, want)
	}
	a, b := 0.034, 0.038
	sum, n := 0.0, 4000
	for i := range n { // hoop stress times the ring it acts on
		r := a + (b-a)*(float64(i)+0.5)/float64(n)
		sum += float64(p) * a * a * a / (b*b*b - a*a*a) * (1 + b*b*b/(2*r*r*r)) * 2 * math.Pi * r * (b - a) / float64(n)
	}
	want := sum / (math.Pi * (b*b - a*a))
	if got := float64(wallStress(p, 76*unit.Millimeter, 4*unit.Millimeter)); math.Abs(got/want-1) > 1e-4 {
		t.Errorf("thick: %v, want %v", got, want)
	}
}

// TestBeware: shut-in air and a kiln too hot are spoken of where they are, and
// nowhere else.
func TestBeware(t *testing.T) {
	at := func(soak string) string {
		return "from = \"" + soak + "\"\n[[segment]]\nhold = \"1 h\"\n[[segment]]\nrate = \"30 °C/h\"\nto = \"43 °C\"\n"
	}
	for _, c := range []struct {
		glass, what, soak string
		air, hot          bool
	}{{"borosilicate-33", "sphere 3in wall 4mm", "560 °C", true, false}, {"borosilicate-33", "sphere 3in", "560 °C", false, false}, {"fused-silica", "sphere 1in", "1180 °C", false, true}} {
		rep, err := verifyText(t, at(c.soak), c.glass, c.what, piece.HotKiln, studioOf(t, "[kiln]\ncooling_time_constant = \"3 h\"\n"))
		if err != nil {
			t.Fatal(err)
		}
		f, air := rep.Notes.Find(finding.ShutAir)
		if hot := rep.Notes.Has(finding.HotterThanKilns); air != c.air || hot != c.hot {
			t.Errorf("%s at %s: air %v, hot %v", c.what, c.soak, air, hot)
		}
		// A gas shut in: 833.15 K over 293.15 K.
		if want := 833.15 / rep.Studio.Kiln.Fall.Room.Kelvin(); air && math.Abs(f.Number-want) > 0.001 {
			t.Errorf("%v times, want %v", f.Number, want)
		}
	}
}
