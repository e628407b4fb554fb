package evening

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/unit"
)

func borosilicate(t testing.TB) *glass.Glass {
	t.Helper()
	g, err := glass.Find("borosilicate-33")
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// problem is a piece of borosilicate 3.3, one Maxwell term and one curve.
func problem(t testing.TB, body sim.Body, c kiln.Curve, start func(float64) float64) sim.Problem {
	g := borosilicate(t)
	curves, err := g.Curves()
	if err != nil {
		t.Fatal(err)
	}
	return sim.Problem{Body: body,
		Material: sim.Material{Density: g.Density.Number, Conductivity: g.Conductivity.At, SpecificHeat: g.SpecificHeat.At,
			Young: g.Young.Number, Poisson: g.Poisson.Number, Expansion: g.Expansion.Number},
		Variants: []sim.Variant{{A: curves[0].A, B: curves[0].B, T0: curves[0].T0}}, Surface: sim.Surface{HeatTransfer: 5, Emissivity: 0.9},
		Kiln: sim.Kiln{At: c.At, Kinks: c.Kinks()}, Start: start, Room: unit.Celsius(20).Kelvin()}
}

func ball(d float64) sim.Body { return sim.Body{Form: sim.Sphere, Outer: d / 2000} }

// hold is a kiln at one temperature [°C] from zero on.
func hold(t testing.TB, celsius float64, long time.Duration) kiln.Curve {
	t.Helper()
	c, err := kiln.NewCurve([]kiln.Reading{{At: unit.Celsius(celsius)}, {At: unit.Celsius(celsius), Time: long}})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// The tension of an opening: the study's table (program model, 60 s), and that
// it grows with the depth of the dip and hardly with the time.
func TestSeen_tension(t *testing.T) {
	tension := func(size, at, dip float64, open time.Duration) float64 {
		c, err := Seen(hold(t, at, 2*time.Hour), unit.Celsius(20), []Opening{{At: time.Hour, Open: open, Dip: unit.Delta(dip)}})
		if err != nil {
			t.Fatal(err)
		}
		start := unit.Celsius(at).Kelvin()
		res, err := sim.Run(problem(t, ball(size), c, func(float64) float64 { return start }), sim.Settings{Cells: 40})
		if err != nil {
			t.Fatal(err)
		}
		return res.Outcomes[0].Peak / 1e6
	}
	for _, row := range []struct {
		at, size, dip float64
		open          time.Duration
		want          float64
	}{
		{560, 25, 50, 20 * time.Second, 1.22}, {560, 63.5, 50, 20 * time.Second, 1.94}, {560, 63.5, 50, time.Minute, 2.02}, {560, 63.5, 100, time.Minute, 4.16},
		{560, 100, 100, time.Minute, 5.01}, {500, 63.5, 100, time.Minute, 4.20}, {500, 100, 100, time.Minute, 5.12}, {400, 63.5, 100, 20 * time.Second, 3.03}, {300, 100, 50, time.Minute, 1.69},
	} {
		if got := tension(row.size, row.at, row.dip, row.open); math.Abs(got/row.want-1) > 0.03 {
			t.Errorf("%g mm at %g °C, %g K for %v: %.2f MPa, the study has %.2f", row.size, row.at, row.dip, row.open, got, row.want)
		}
	}
	// 0.042 MPa per kelvin for 63.5 mm at 560 °C.
	if per := tension(63.5, 560, 50, time.Minute) / 50; math.Abs(per-0.042) > 0.002 {
		t.Errorf("%.4f MPa per kelvin of dip", per)
	}
}

func TestEffective(t *testing.T) {
	for _, row := range [][2]float64{{0.15, 527}, {0.3, 490}, {0.5, 430}, {0, 560}, {1, 20}} {
		got := Effective(unit.Celsius(560), unit.Celsius(20), row[0])
		if math.Abs(got.Celsius()-row[1]) > 1 {
			t.Errorf("view %g: %v, want %g °C", row[0], got, row[1])
		}
		a, b, c := math.Pow(unit.Celsius(560).Kelvin(), 4), math.Pow(unit.Celsius(20).Kelvin(), 4), math.Pow(got.Kelvin(), 4)
		if back := (a - c) / (a - b); math.Abs(back-row[0]) > 1e-9 {
			t.Errorf("view %g comes back as %g", row[0], back)
		}
	}
}

// The form of the dips: one opening while the kiln still recovers from another,
// in any order; and how deep probe and skin fall.
func TestSeen_overlapping(t *testing.T) {
	c, err := kiln.NewCurve([]kiln.Reading{{At: unit.Celsius(560), Time: -3 * time.Hour}, {At: unit.Celsius(560)}})
	if err != nil {
		t.Fatal(err)
	}
	room := unit.Celsius(20)
	o := []Opening{{At: -time.Hour + 2*time.Minute, Open: 20 * time.Second, Dip: 60}, {At: -time.Hour, Open: time.Minute, Dip: 40, View: 0.3}}
	skin, err := Seen(c, room, o)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		at   time.Duration
		want float64
	}{
		{-2 * time.Hour, 560}, {-time.Hour, 560}, {-time.Hour + 5*time.Second, 490}, {-time.Hour + time.Minute, 490},
		{-time.Hour + 2*time.Minute, 504}, {-time.Hour + 2*time.Minute + 5*time.Second, 500}, {-time.Hour + 2*time.Minute + 20*time.Second, 500},
		{-time.Hour + 8*time.Minute, 560}, {0, 560},
	} {
		if got := skin.Temp(row.at).Celsius(); math.Abs(got-row.want) > 0.6 {
			t.Errorf("at %v: %.1f, want %g", row.at, got, row.want)
		}
	}
	for i, want := range [][2]float64{{60, 60}, {40, 70}} {
		if probe, skin, _ := o[i].Depth(unit.Celsius(560), room); math.Abs(float64(probe)-want[0]) > 0.6 || math.Abs(float64(skin)-want[1]) > 0.6 {
			t.Errorf("opening %d: probe falls by %v, skin by %v, want %v", i+1, probe, skin, want)
		}
	}
	if got := skin.From(-time.Hour).Temp(5 * time.Second).Celsius(); math.Abs(got-490) > 0.6 {
		t.Errorf("a piece that goes in then sees %.1f", got)
	}
}

// Twelve pieces of an evening of ten hours: each opens the kiln for those that
// are in already, none for those that come later.
func TestForPieces(t *testing.T) {
	c, err := kiln.NewCurve([]kiln.Reading{{At: unit.Celsius(560), Time: -10 * time.Hour}, {At: unit.Celsius(560)}, {At: unit.Celsius(450), Time: 2 * time.Hour}})
	if err != nil {
		t.Fatal(err)
	}
	in := []time.Duration{-time.Hour, -9 * time.Hour, -time.Hour + 5*time.Second, -3 * time.Hour}
	o := ForPieces(in, Usual)
	if len(o) != 3 || o[0].At != -9*time.Hour || o[2].At != -time.Hour || o[1].View != Usual.View {
		t.Fatal(o)
	}
	seen, err := Seen(c, unit.Celsius(20), o)
	if err != nil {
		t.Fatal(err)
	}
	dips := func(c kiln.Curve) (n int) {
		for _, p := range c.Points() {
			if p.Time < c.End()-2*time.Hour && p.At.Celsius() < 528 {
				n++
			}
		}
		return n / 2
	}
	for i, want := range []int{3, 2, 1} {
		if got := dips(seen.From(o[i].At)); got != want {
			t.Errorf("a piece in at %v sees %d openings, want %d", o[i].At, got, want)
		}
	}
}

func TestSeen_refused(t *testing.T) {
	c := hold(t, 560, 3*time.Hour)
	for _, row := range []struct {
		o    []Opening
		want string
	}{
		{[]Opening{{At: time.Hour, Open: time.Minute, Dip: 545}}, "opening 1: dip 545 K from 560 °C: falls below the room, 20 °C"},
		{[]Opening{{At: time.Hour, Open: 20 * time.Minute, Dip: 50}}, "opening 1: open for 20 min: must be at most 15 min"},
		{[]Opening{{At: time.Hour, Dip: 50}}, "opening 1: open for 0 min: must be above 0"},
		{[]Opening{{At: time.Hour, Open: time.Minute}}, "opening 1: dip 0 K: must be above 0"},
		{[]Opening{{At: time.Hour, Open: time.Minute, Dip: unit.Delta(math.NaN())}}, "opening 1: dip"},
		{[]Opening{{At: time.Hour, Open: time.Minute, View: 1.2}}, "opening 1: view 1.2: must be from 0 to 1"},
		{[]Opening{{At: time.Hour, Open: time.Minute, Dip: 5}, {At: time.Hour + 30*time.Second, Open: time.Second, Dip: 5}}, "opening 2: the kiln is open already, from opening 1"},
		{[]Opening{{At: 9 * time.Hour, Open: time.Minute, Dip: 5}}, "opening 1: lies outside"},
	} {
		_, err := Seen(c, unit.Celsius(20), row.o)
		var e *OpeningError
		if !errors.As(err, &e) || !strings.HasPrefix(err.Error(), row.want) {
			t.Errorf("got %v, want %s", err, row.want)
		}
	}
}

// The e-folds of the study, the closed form against a simulation, and that five
// of them leave a piece from the flame even.
func TestEFold(t *testing.T) {
	g := borosilicate(t)
	at := unit.Celsius(560)
	h := HeatTransferAt(at, 0.9)
	if math.Abs(h-123) > 1 {
		t.Errorf("heat transfer %.1f W/m²K", h)
	}
	k, kappa := g.Conductivity.At(at.Kelvin()), g.Diffusivity(at)
	for _, row := range []struct{ size, want, five float64 }{{25, 1.8, 9}, {63.5, 5.8, 30}, {100, 11.1, 55}} {
		fold := EFold(ball(row.size), k, kappa, h)
		if math.Abs(fold.Minutes()/row.want-1) > 0.03 {
			t.Errorf("%g mm: e-fold %.2f min, the study has %g", row.size, fold.Minutes(), row.want)
		}
		even := EvenAt(0, fold, FromFlame(g.Soften.Temp()))
		if math.Abs(even.Minutes()/row.five-1) > 0.06 {
			t.Errorf("%g mm: even after %.0f min, want %g", row.size, even.Minutes(), row.five)
		}
		core := FromFlame(g.Soften.Temp()).At.Kelvin()
		res, err := sim.Run(problem(t, ball(row.size), hold(t, 560, even), func(rho float64) float64 { return at.Kelvin() + (core-at.Kelvin())*(1-rho*rho) }), sim.Settings{Cells: 40})
		if err != nil {
			t.Fatal(err)
		}
		if left := res.Temperature[0] - at.Kelvin(); left > 2.5 || left < 0.2 {
			t.Errorf("%g mm: %.2f K left after five e-folds", row.size, left)
		}
	}
	// Every form against its own simulation: two looks one e-fold apart.
	for _, b := range []sim.Body{{Form: sim.Slab, Outer: 0.015}, {Form: sim.Slab, Outer: 0.02, OneFace: true, Held: true}, {Form: sim.Cylinder, Outer: 0.02}, ball(50),
		{Form: sim.Cylinder, Outer: 0.02, Inner: 0.015}, {Form: sim.Cylinder, Outer: 0.02, Inner: 0.015, InnerOpen: true}} {
		fold := EFold(b, k, kappa, h)
		look := func(d time.Duration) float64 {
			res, err := sim.Run(problem(t, b, hold(t, 560, d), func(float64) float64 { return at.Kelvin() + 20 }), sim.Settings{Cells: 40, Tolerance: 0.01})
			if err != nil {
				t.Fatal(err)
			}
			return res.Temperature[len(res.Temperature)/2] - at.Kelvin()
		}
		ratio := math.Log(look(fold) / look(2*fold))
		slack := 0.03
		if b.Inner > 0 {
			slack = 0.25 // the wall counts as flat, which is slower for a closed bore
		}
		if math.Abs(ratio-1) > slack || b.Inner > 0 && !b.InnerOpen && ratio < 1 {
			t.Errorf("%v: %.3f e-folds in one", b, ratio)
		}
	}
}

func TestParseIn(t *testing.T) {
	start, err := unit.ParseClock("22:15")
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]time.Duration{"19:40": 155 * time.Minute, "7:40 pm": 155 * time.Minute, "22:15": 0, "2h before": 2 * time.Hour, "90 min before": 90 * time.Minute, "11:00": 675 * time.Minute} {
		if got, err := ParseIn(text, start, true); err != nil || got != want {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	after, _ := unit.ParseClock("00:30")
	if got, err := ParseIn("23:50", after, true); err != nil || got != 40*time.Minute {
		t.Error(got, err)
	}
	for text, want := range map[string]string{"22:45": "22:45: is 30 min after the start, 22:15", "10:45 pm": "10:45 pm: is 30 min after the start, 10:15 pm", "17h before": "17h before: is more than 16 h before the start", "2 h": "", "": "", "-2h before": ""} {
		if got, err := ParseIn(text, start, true); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	if _, err := ParseIn("19:40", 0, false); err == nil || !strings.Contains(err.Error(), "no start") {
		t.Error(err)
	}
	for text, ok := range map[string]bool{"950 °C": true, "1740 °F": true, "even": true, "950": false, "3000 °C": false, "-5 °C": false, "hot": false} {
		if c, err := ParseCore(text); (err == nil) != ok {
			t.Errorf("%q: %+v, %v", text, c, err)
		}
	}
}

// Whatever is typed, it is refused in one line or lies within the evening.
func FuzzIn(f *testing.F) {
	for _, s := range []string{"19:40", "7:40 pm", "2h before", "90 min before", "before", " before before", "25:00"} {
		f.Add(s, 22*60)
	}
	f.Fuzz(func(t *testing.T, text string, start int) {
		c := unit.Clock((start%1440 + 1440) % 1440)
		before, err := ParseIn(text, c, true)
		if err == nil && (before < 0 || before > longestEvening) || err != nil && len(err.Error()) > 500 {
			t.Fatalf("%q: %v, %v", text, before, err)
		}
		if core, err := ParseCore(text); err == nil && !core.Even && (core.At.Celsius() < 19.99 || core.At.Celsius() > 1500.01) {
			t.Fatalf("%q: %v", text, core.At)
		}
	})
}
