package kilnlog

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/unit"
)

// sphere simulates a sphere of borosilicate 3.3 and returns the greatest
// tension and the tension left [Pa], one Maxwell term, one viscosity curve.
func sphere(t testing.TB, size unit.Length, c kiln.Curve) (peak, left float64) {
	t.Helper()
	g, err := glass.Find("borosilicate-33")
	if err != nil {
		t.Fatal(err)
	}
	curves, err := g.Curves()
	if err != nil {
		t.Fatal(err)
	}
	v := sim.Variant{A: curves[0].A, B: curves[0].B, T0: curves[0].T0}
	start := c.At(0)
	res, err := sim.Run(sim.Problem{
		Body: sim.Body{Form: sim.Sphere, Outer: size.Meters() / 2},
		Material: sim.Material{Density: g.Density.Number, Conductivity: g.Conductivity.At, SpecificHeat: g.SpecificHeat.At,
			Young: g.Young.Number, Poisson: g.Poisson.Number, Expansion: g.Expansion.Number},
		Variants: []sim.Variant{v}, Surface: sim.Surface{HeatTransfer: 5, Emissivity: 0.9},
		Kiln: sim.Kiln{At: c.At, Kinks: c.Kinks()}, Start: func(float64) float64 { return start }, Room: unit.Celsius(20).Kelvin(),
	}, sim.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	return res.Outcomes[0].Peak, res.Outcomes[0].Residual.MaxTension()
}

// night is a program with its end left to the kiln: soak, slow and faster
// cooling, natural fall.
func night(t testing.TB) kiln.Curve {
	t.Helper()
	c, err := kiln.NewCurve([]kiln.Reading{{At: unit.Celsius(560)}, {At: unit.Celsius(560), Time: hours(1)},
		{At: unit.Celsius(450), Time: hours(1 + 110./60)}, {At: unit.Celsius(350), Time: hours(1 + 110./60 + 0.75)}})
	if err != nil {
		t.Fatal(err)
	}
	fall := kiln.Fall{TimeConstant: 150 * time.Minute, Room: unit.Celsius(20)}
	return c.Then(fall.Curve(unit.Celsius(350), hours(8)))
}

// logged writes what a logger does of a curve: one reading every so often, with
// even noise, in steps of the display.
func logged(c kiln.Curve, every time.Duration, noise, step float64, seed uint64) string {
	rnd := rand.New(rand.NewPCG(seed, 7))
	var b strings.Builder
	b.WriteString("time,temp_C\n")
	start := time.Date(2026, 11, 25, 22, 15, 0, 0, time.UTC)
	for at := c.Start(); at <= c.End(); at += every {
		x := c.Temp(at).Celsius() + noise*(2*rnd.Float64()-1)
		if step > 0 {
			x = math.Round(x/step) * step
		}
		fmt.Fprintf(&b, "%s,%g\n", start.Add(at).Format(time.RFC3339), x)
	}
	return b.String()
}

// A night logged with noise and in whole degrees gives back the tension left
// within 2 %, and the greatest tension within 4 %.
func TestCurve_replaysANight(t *testing.T) {
	truth := night(t)
	for _, size := range []unit.Length{63.5 * unit.Millimeter, 100 * unit.Millimeter} {
		wantPeak, wantLeft := sphere(t, size, truth)
		for _, row := range []struct {
			every       time.Duration
			noise, step float64
		}{{time.Minute, 0, 0}, {5 * time.Minute, 0, 0}, {time.Minute, 1, 1}, {5 * time.Minute, 1, 1}, {10 * time.Second, 1, 1}, {time.Minute, 0, 5}} {
			for seed := range uint64(3) {
				l := read(t, logged(truth, row.every, row.noise, row.step, seed), Options{})
				c, err := l.Curve()
				if err != nil {
					t.Fatal(err)
				}
				peak, left := sphere(t, size, c)
				dPeak, dLeft := 100*(peak/wantPeak-1), 100*(left/wantLeft-1)
				if seed == 0 {
					t.Logf("%v every %v, noise ±%g K, steps of %g: tension %+.1f %%, left %+.1f %% (of %.2f and %.2f MPa), %d points of %d, noise found %.2f",
						size, row.every, row.noise, row.step, dPeak, dLeft, wantPeak/1e6, wantLeft/1e6, len(c.Points()), len(l.Readings), float64(l.Account.Noise))
				}
				if math.Abs(dLeft) > 2 {
					t.Errorf("%v every %v, noise ±%g K, steps of %g, seed %d: left %+.2f %%", size, row.every, row.noise, row.step, seed, dLeft)
				}
				if math.Abs(dPeak) > 4 {
					t.Errorf("%v every %v, noise ±%g K, steps of %g, seed %d: tension %+.2f %%", size, row.every, row.noise, row.step, seed, dPeak)
				}
			}
		}
	}
}

// The swing of a relay is found, told, and not handed to the glass.
func TestCurve_relaySwing(t *testing.T) {
	truth := night(t)
	size := 63.5 * unit.Millimeter
	wantPeak, wantLeft := sphere(t, size, truth)
	for _, row := range []struct {
		amplitude, minutes, noise float64
		every                     time.Duration
	}{{4, 10, 0.5, time.Minute}, {4, 10, 0, 30 * time.Second}, {3, 6, 0.5, time.Minute}, {0, 10, 1, time.Minute}} {
		var points []kiln.Reading
		for at := truth.Start(); at <= truth.End(); at += row.every {
			p := kiln.Reading{At: truth.Temp(at), Time: at}
			if p.At.Celsius() > 340 { // the elements work
				p.At = p.At.Add(unit.Delta(row.amplitude * math.Sin(2*math.Pi*at.Minutes()/row.minutes)))
			}
			points = append(points, p)
		}
		c, err := kiln.NewCurve(points)
		if err != nil {
			t.Fatal(err)
		}
		l := read(t, logged(c, row.every, row.noise, 0.1, 1), Options{})
		s := l.Account.Swing
		if math.Abs(float64(s.Amplitude)-row.amplitude) > 0.15*row.amplitude || row.amplitude > 0 && math.Abs(s.Period.Minutes()-row.minutes) > 1 {
			t.Errorf("±%g K every %g min: found ±%.2f K every %v", row.amplitude, row.minutes, float64(s.Amplitude), s.Period)
		}
		got, err := l.Curve()
		if err != nil {
			t.Fatal(err)
		}
		raw, _ := sphere(t, size, c)
		peak, left := sphere(t, size, got)
		t.Logf("±%g K every %g min: tension %+.1f %%, left %+.1f %%; as logged %+.1f %%", row.amplitude, row.minutes, 100*(peak/wantPeak-1), 100*(left/wantLeft-1), 100*(raw/wantPeak-1))
		if math.Abs(peak/wantPeak-1) > 0.05 || math.Abs(left/wantLeft-1) > 0.02 {
			t.Errorf("±%g K every %g min: tension %+.1f %%, left %+.1f %%", row.amplitude, row.minutes, 100*(peak/wantPeak-1), 100*(left/wantLeft-1))
		}
	}
}
