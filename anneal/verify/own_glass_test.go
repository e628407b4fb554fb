package verify

import (
	"context"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"lehr/anneal/finding"
	"lehr/anneal/formula"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/rule"
	"lehr/glass"
	"lehr/glass/unit"
)

const textbookGlass = `[[glass]]
name = "textbook"
relaxation = "maxwell"
viscosity = { A = -2.601, B = 4330.9, T0 = "246.1 °C" }
expansion = "9e-6 /K"
density = "2500 kg/m³"
young_modulus = "70 GPa"
poisson = 0.22
conductivity = "1 W/m/K"
specific_heat = "1000 J/kg/K"
emissivity = 0.9
stress_optic = "2.7 Brewster"
`

// ownGlass reads a glass file with some of its text replaced.
func ownGlass(t *testing.T, pairs ...string) *glass.Glass {
	t.Helper()
	table, err := glass.Load(strings.NewReader(strings.NewReplacer(pairs...).Replace(textbookGlass)), "own.toml")
	if err != nil {
		t.Fatal(err)
	}
	return table.Glasses[0]
}

func verifyOwn(t *testing.T, g *glass.Glass) *Report {
	t.Helper()
	s, err := readSchedule("from = \"540 °C\"\n[[segment]]\nhold = \"60 min\"\n[[segment]]\nrate = \"60 °C/h\"\nto = \"40 °C\"\n")
	if err != nil {
		t.Fatal(err)
	}
	p, err := piece.Parse("sphere 40mm raised")
	if err != nil {
		t.Fatal(err)
	}
	p.Glass = g
	rep, err := Program(context.Background(), s, &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{p}}, kiln.DefaultStudio(), kiln.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

// TestVerify_ratioOfZero: Poisson's ratio may be 0; stress then scales with
// E α instead of E α/(1 − ν), and the ratio of both is known.
func TestVerify_ratioOfZero(t *testing.T) {
	peak := func(ratio string) float64 {
		return float64(verifyOwn(t, ownGlass(t, "poisson = 0.22", "poisson = "+ratio, "A = -2.601", "A = 20")).Pieces[0].Peak) // so stiff that it stays elastic
	}
	if a, b := peak("0"), peak("0.25"); !scalar.EqualWithinRel(a, 0.75*b, 0.01) {
		t.Errorf("ratio 0: %g MPa, ratio 0.25: %g MPa", a/1e6, b/1e6)
	}
}

// TestVerify_constantViscosity: B = 0 is a viscosity that no temperature
// changes. At 10^9 Pa·s the glass bears no stress while it cools; when the ramp
// ends, the difference of a steady ramp evens out and leaves its mirror, a tenth
// less because heat transfer holds a cold piece back.
func TestVerify_constantViscosity(t *testing.T) {
	g := ownGlass(t, `{ A = -2.601, B = 4330.9, T0 = "246.1 °C" }`, `{ A = 9, B = 0 }`)
	r := verifyOwn(t, g).Pieces[0]
	b := rule.NewSteadyBody(rule.Request{Glass: g, Shape: formula.FormSphere, Size: 40 * unit.Millimeter})
	want := b.Stress(b.Inner, unit.KelvinPerHour(-60), 1.0/2500/1000)
	if r.SegmentPeak(1) > 10000*unit.Pascal || !scalar.EqualWithinRel(float64(r.Residual), math.Abs(float64(want)), 0.12) {
		t.Errorf("tension while cooling %s, left %s, want none and %s", r.SegmentPeak(1), r.Residual, want)
	}
}

// TestVerify_negativeStressOptic: a coefficient's sign tells which way the
// colors move, not how bright the piece is.
func TestVerify_negativeStressOptic(t *testing.T) {
	up, down := verifyOwn(t, ownGlass(t)), verifyOwn(t, ownGlass(t, "2.7 Brewster", "-2.7 Brewster"))
	a, b := up.Pieces[0].Retardation, down.Pieces[0].Retardation
	if !(a > 0) || math.Abs(float64(a-b)) > 1e-15 {
		t.Errorf("retardation %s and, with the sign turned, %s", a, b)
	}
	if up.Assumptions.Has(finding.NegativeOptic) || !down.Assumptions.Has(finding.NegativeOptic) {
		t.Error("the sign is not said of the right glass")
	}
}
