package verify

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/seal"
	"lehr/glass"
	"lehr/glass/casetest"
	"lehr/glass/unit"
)

// What a program does to two layers, from the file of the glasses to the report,
// against a stiff integrator on finite elements that knows no setting
// temperature (testdata/cases/scipy_seal.py). A glass of constants, so thin to
// heat that it follows its kiln.
func TestInside_againstIntegrator(t *testing.T) {
	ran := 0
	for _, c := range casetest.Load(t, "scipy_seal") {
		core, shell := casetest.Values(c.Inputs["core"].(map[string]any)), casetest.Values(c.Inputs["shell"].(map[string]any))
		if !core.Has("A") || len(shell.Floats("weights")) > 1 {
			continue // a stone has its own table, and one glass has one shape of relaxation
		}
		// Not by the mean from 20 to 300 °C, as a glass is stated, but over the fall.
		ran++
		text := ""
		for name, m := range map[string]casetest.Values{"core": core, "shell": shell} {
			text += fmt.Sprintf("[[glass]]\nname = %q\nrelaxation = \"maxwell\"\nviscosity = { A = %g, B = %g, T0 = \"%g °C\" }\nexpansion = \"%.6ge-6 /K\"\ndensity = \"2230 kg/m³\"\nyoung_modulus = \"%g GPa\"\npoisson = %g\nconductivity = \"50 W/m/K\"\nspecific_heat = \"100 J/kg/K\"\nsurface = \"follows kiln\"\n",
				name, m.Float("A"), m.Float("B"), m.Float("T0")-273.15, m.Float("alpha")/1.07*1e6, m.Float("E_GPa"), m.Float("nu"))
		}
		table, err := glass.Load(strings.NewReader(text), "own.toml")
		if err != nil {
			t.Fatal(err)
		}
		radii := c.Inputs.Floats("radii_m")
		// The piece is of the shell's glass, with a core of the other.
		p, err := piece.Parse(fmt.Sprintf("sphere %g mm textbook; layers core core %g mm / clear", radii[1]*2000, radii[0]*2000))
		if err != nil {
			t.Fatal(err)
		}
		g, err := table.Find("shell")
		if err != nil {
			t.Fatal(err)
		}
		if err := p.Fill(g, table.Find); err != nil {
			t.Fatal(err)
		}
		hours, celsius := c.Inputs.Floats("hours"), c.Inputs.Floats("celsius")
		s := program.Schedule{From: unit.Celsius(celsius[0])}
		for i := 1; i < len(hours); i++ {
			seg := program.Segment{Purpose: "cooling", To: unit.Celsius(celsius[i])}
			if d := celsius[i] - celsius[i-1]; d != 0 {
				seg.Rate = unit.KelvinPerHour(d / (hours[i] - hours[i-1]))
			} else {
				seg.Hold = time.Duration((hours[i] - hours[i-1]) * float64(time.Hour))
			}
			s.Segments = append(s.Segments, seg)
		}
		rep := mustVerify(t, s, &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{p}}, kiln.Limits{})
		got := map[string]float64{}
		for _, b := range rep.Pieces[0].Inside.Misfit.Places {
			switch b.Kind {
			case seal.InCore:
				got["core_MPa"] = b.Hoop.Expected.Megapascals()
			case seal.InsideOf:
				got["inside_MPa"], got["radial_MPa"] = b.Hoop.Expected.Megapascals(), b.Radial.Expected.Megapascals()
			case seal.OuterSurface:
				got["outside_MPa"] = b.Hoop.Expected.Megapascals()
			}
		}
		most := math.Abs(c.Expected.Float("inside_MPa"))
		for _, key := range []string{"core_MPa", "inside_MPa", "radial_MPa", "outside_MPa"} {
			if d := math.Abs(got[key] - c.Expected.Float(key)); !(d < 0.02*most) {
				t.Errorf("%s: %s %.4f, the integrator %.4f", c.ID, key, got[key], c.Expected.Float(key))
			}
		}
		if len(got) != 4 {
			t.Errorf("%s: places %v", c.ID, got)
		}
		// And by this fall the report is the elastic layered sphere to 0.1 %.
		elastic := func(m casetest.Values) seal.Elastic {
			return seal.Elastic{Young: unit.Stress(m.Float("E_GPa") * 1e9), Poisson: m.Float("nu"), Expansion: m.Float("alpha")}
		}
		layers := seal.LayeredSphere([]seal.Shell{{Outer: unit.Length(radii[0]), Elastic: elastic(core)}, {Outer: unit.Length(radii[1]), Elastic: elastic(shell)}}, rep.Pieces[0].Inside.Misfit.Falls.Fall)
		if want := layers[1].OuterHoop.Megapascals(); math.Abs(got["outside_MPa"]-want) > 1e-3*math.Abs(want) {
			t.Errorf("%s: outside %.5f, the layered sphere %.5f", c.ID, got["outside_MPa"], want)
		}
	}
	if ran < 2 {
		t.Errorf("%d cases", ran)
	}
}
