package figure

import (
	"math"
	"os"
	"regexp"
	"testing"
	"time"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"lehr/glass/unit"
	"lehr/safety/quantity"
)

// The series against a numerical integral of Planck's law.
func TestBlackFraction_integral(t *testing.T) {
	// F(λT) = 15/π⁴ ∫ₓ^∞ u³/(e^u − 1) du, x = c₂/(λT)
	for _, lambdaT := range []float64{1e-3, 2.898e-3, 5e-3, 2e-2, 0.2, 0.9} {
		x := radiationC2 / lambdaT
		want := 15 / math.Pow(math.Pi, 4) * quad.Fixed(func(u float64) float64 {
			return u * u * u / math.Expm1(u)
		}, x, x+80, 2000, nil, 0)
		got := must[float64](t)(blackFraction(lambdaT))
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("F(%g) = %.12g, integral %.12g", lambdaT, got, want)
		}
	}
}

// The Stefan-Boltzmann law from Planck's law with the exact SI constants.
func TestBlackExitance_planck(t *testing.T) {
	const h, c, k = 6.62607015e-34, 299792458.0, 1.380649e-23
	sigma := 2 * math.Pow(math.Pi, 5) * math.Pow(k, 4) / (15 * math.Pow(h, 3) * c * c)
	if math.Abs(sigma/stefanBoltzmann-1) > 1e-9 {
		t.Errorf("σ = %g, constants give %g", stefanBoltzmann, sigma)
	}
	if c2 := h * c / k; math.Abs(c2/radiationC2-1) > 1e-9 {
		t.Errorf("c₂ = %g, constants give %g", radiationC2, c2)
	}
}

// The view factor (R/d)² against the integral over the visible cap of the ball,
// and a²/(a²+d²) against the integral over the disc.
func TestViewFactors_integral(t *testing.T) {
	for _, ratio := range []float64{0.05, 0.3, 0.9} { // R/d with d = 1
		// ∫ cosθ_eye cosθ_ball / (π s²) dA over the cap that sees the eye
		sphere := quad.Fixed(func(phi float64) float64 {
			s2 := 1 + ratio*ratio - 2*ratio*math.Cos(phi)
			s := math.Sqrt(s2)
			ball := (math.Cos(phi) - ratio) / s
			eye := (1 - ratio*math.Cos(phi)) / s
			return ball * eye / (math.Pi * s2) * 2 * math.Pi * ratio * ratio * math.Sin(phi)
		}, 0, math.Acos(ratio), 400, nil, 0)
		if math.Abs(sphere/(ratio*ratio)-1) > 1e-9 {
			t.Errorf("ball R/d = %g: integral %g, (R/d)² %g", ratio, sphere, ratio*ratio)
		}
		disc := quad.Fixed(func(r float64) float64 {
			s2 := 1 + r*r
			return 1 / (math.Pi * s2 * s2) * 2 * math.Pi * r
		}, 0, ratio, 400, nil, 0)
		if want := ratio * ratio / (1 + ratio*ratio); math.Abs(disc/want-1) > 1e-9 {
			t.Errorf("disc a/d = %g: integral %g, closed form %g", ratio, disc, want)
		}
	}
}

// The bound of a rod against the exact view, rays from the eye over the whole
// half space: never below it, broadside, tilted and end-on, near and far; and
// not far above it.
func TestRodIrradiance_integral(t *testing.T) {
	n := 150
	if os.Getenv("LEHR_LONG") == "1" {
		n = 600
	}
	view := func(R, L, d, tilt float64) float64 {
		// The eye at the origin looks along x to the middle of the rod, whose
		// axis a is tilted out of the y direction toward the eye.
		ax, ay := -math.Sin(tilt), math.Cos(tilt)
		reach := math.Min(math.Asin(math.Min(1, math.Hypot(R, L/2)/d)), math.Pi/2)
		sum := 0.0
		for i := range n {
			theta := reach * (float64(i) + 0.5) / float64(n)
			hits := 0
			for j := range n {
				phi := 2 * math.Pi * (float64(j) + 0.5) / float64(n)
				u := [3]float64{math.Cos(theta), math.Sin(theta) * math.Cos(phi), math.Sin(theta) * math.Sin(phi)}
				if hitsRod(u, ax, ay, R, L, d) {
					hits++
				}
			}
			sum += float64(hits) / float64(n) * 2 * math.Pi * math.Sin(theta) * math.Cos(theta) * reach / float64(n) / math.Pi
		}
		return sum
	}
	for _, c := range []struct{ R, L, d float64 }{{5, 200, 300}, {5, 200, 120}, {5, 30, 60}, {20, 60, 70}, {20, 20, 60}, {15, 400, 250}, {5, 200, 3000}} {
		most := 0.0
		for _, tilt := range []float64{0, 0.2, 0.5, 0.9, 1.2, 1.45, math.Pi / 2} {
			most = math.Max(most, view(c.R, c.L, c.d, tilt))
		}
		bound := must[float64](t)(rodView(2*unit.Length(c.R/1000), unit.Length(c.L/1000), unit.Length(c.d/1000)))
		loose := 3.0
		if c.d < c.L {
			loose = 8
		}
		if bound < most || bound > loose*most {
			t.Errorf("rod %v: bound %.4g, exact at most %.4g", c, bound, most)
		}
	}
	// From far away, the projected area of the side.
	far := must[float64](t)(rodView(10*unit.Millimeter, 200*unit.Millimeter, 10))
	if side := 0.01 * 0.2 / (math.Pi * 100); far < side || far > 2.2*side {
		t.Errorf("far away: bound %g, side %g", far, side)
	}
	r := must[EyeReport](t)(EyeAtRod(unit.Celsius(1200), 10*unit.Millimeter, 200*unit.Millimeter, 300*unit.Millimeter, Lens{}))
	at := must[float64](t)(rodIrradiance(unit.Celsius(1200), 10*unit.Millimeter, 200*unit.Millimeter, r.LimitDistance))
	if math.Abs(at-longLimit) > 0.01 {
		t.Errorf("at the limit distance: %g W/m²", at)
	}
}

// hitsRod reports whether a ray u from the origin meets a solid rod around the
// point (d, 0, 0) with the axis (ax, ay, 0).
func hitsRod(u [3]float64, ax, ay, R, L, d float64) bool {
	// Into the rod's own system: z along the axis, x across it in the plane.
	along := func(x, y float64) float64 { return x*ax + y*ay }
	across := func(x, y float64) float64 { return x*ay - y*ax }
	z0, x0 := along(-d, 0), across(-d, 0)
	uz, ux, uy := along(u[0], u[1]), across(u[0], u[1]), u[2]
	in, out := 0.0, math.Inf(1)
	if a := ux*ux + uy*uy; a > 0 {
		b, c := x0*ux, x0*x0-R*R
		disc := b*b - a*c
		if disc < 0 {
			return false
		}
		in, out = math.Max(in, (-b-math.Sqrt(disc))/a), math.Min(out, (-b+math.Sqrt(disc))/a)
	} else if math.Abs(x0) > R {
		return false
	}
	if uz == 0 {
		return in < out && math.Abs(z0) <= L/2
	}
	p, q := (-L/2-z0)/uz, (L/2-z0)/uz
	return math.Max(in, math.Min(p, q)) < math.Min(out, math.Max(p, q))
}

// Published findings that the bound must agree with: demonstrations of small
// beads stayed below the limit; Okuno's threshold for the lens is passed by a
// big piece close up.
func TestEye_studies(t *testing.T) {
	bead := must[EyeReport](t)(Eye(unit.Celsius(1100), 10*unit.Millimeter, 250*unit.Millimeter, Lens{}))
	if bead.Over || bead.MaxTransmittance != 1 || bead.ShortTime != 0 {
		t.Errorf("a 10 mm bead: %+v", bead)
	}
	big := must[EyeReport](t)(Eye(unit.Celsius(1200), 75*unit.Millimeter, 300*unit.Millimeter, Lens{0.1, bandHigh}))
	if big.Irradiance < 1630 || !big.Over || !big.BehindOver {
		t.Errorf("a 75 mm piece: %+v", big)
	}
	at := must[float64](t)(sphereIrradiance(unit.Celsius(1200), 75*unit.Millimeter, big.LimitDistance))
	if math.Abs(at-longLimit) > 1e-6 {
		t.Errorf("at the limit distance: %g W/m²", at)
	}
	if lens := must[EyeReport](t)(Eye(unit.Celsius(1200), 75*unit.Millimeter, 300*unit.Millimeter, Lens{big.MaxTransmittance, bandHigh})); lens.BehindOver {
		t.Errorf("a lens with the greatest transmittance: %g W/m² behind it", lens.Behind)
	}
}

func TestEye_properties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(400, 1900).Draw(t, "°C")
		size := unit.Length(rapid.Float64Range(0.005, 0.2).Draw(t, "size"))
		far := size * unit.Length(rapid.Float64Range(0.6, 50).Draw(t, "distance / size"))
		e := func(c float64, size, far unit.Length) float64 {
			x, err := sphereIrradiance(unit.Celsius(c), size, far)
			if err != nil {
				t.Fatal(err)
			}
			return x
		}
		base := e(c, size, far)
		if e(c+50, size, far) <= base || e(c, size, far*1.1) >= base || e(c, size*1.05, far) <= base {
			t.Fatal("hotter, nearer and bigger must give more")
		}
		if r := e(c, size, 2*far) / base; math.Abs(r-0.25) > 1e-9 {
			t.Fatalf("twice as far: %g of the irradiance", r)
		}
		if base > longLimit {
			d, limited, err := shortLimitTime(base)
			if err != nil || !limited || d > 1000*time.Second {
				t.Fatal(d, limited, err)
			}
			if d >= time.Second && d < 1000*time.Second {
				if l := infraredLimit(d); math.Abs(l/base-1) > 1e-6 {
					t.Fatalf("limit at the time %v is %g, irradiance %g", d, l, base)
				}
			}
		}
	})
}

// Every figure refuses what cannot be.
func TestRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	hot, ball := unit.Celsius(1200), 50*unit.Millimeter
	bad := map[string]error{}
	put := func(name string, err error) { bad[name] = err }
	e1 := func(_ any, err error) error { return err }
	put("eye inside", e1(sphereIrradiance(hot, ball, 25*unit.Millimeter)))
	put("no distance", e1(sphereIrradiance(hot, ball, 0)))
	put("size below zero", e1(sphereIrradiance(hot, -ball, 1)))
	put("size NaN", e1(sphereIrradiance(hot, unit.Length(nan), 1)))
	put("cold glass", e1(sphereIrradiance(unit.Celsius(20), ball, 1)))
	put("no temperature", e1(sphereIrradiance(unit.Temp{}, ball, 1)))
	put("fraction NaN", e1(blackFraction(nan)))
	put("fraction Inf", e1(blackFraction(inf)))
	put("band upside down", e1(bandFraction(hot, 3e-6, 0.78e-6)))
	put("kiln distance", e1(openingIrradiance(unit.Celsius(560), 0.04, 0)))
	put("irradiance NaN", e1(greatestTransmittance(nan)))
	put("lens above one", e1(Eye(hot, ball, 1, Lens{1.5, bandHigh})))
	put("hood V", e1(dallaValleFlow(-1, 0.3, 0.06)))
	put("hood X", e1(flangedFlow(0.5, 0, 0.06)))
	put("hood A", e1(dallaValleFlow(0.5, 0.3, quantity.Area(inf))))
	put("slot", e1(slotFlow(0.5, 0.3, 0)))
	put("booth", e1(boothFlow(quantity.Speed(nan), 1)))
	put("canopy", e1(canopyFlow(0.5, 0.3, -2)))
	put("table below", e1(weldingHoodFlow(3*unit.Inch)))
	put("table above", e1(weldingHoodFlow(13*unit.Inch)))
	put("inlet", e1(openingVelocity(1, 0)))
	put("dilution", e1(dilutionFlow(1, 0, 1)))
	put("mixing", e1(dilutionFlow(1, 0.1, 0.5)))
	put("build-up", e1(buildUp(1, 1, 0, time.Hour, 1)))
	put("air changes", e1(airChanges(1, quantity.Volume(nan))))
	put("fuel", e1(carbonDioxide(propane, 0)))
	put("unknown fuel", e1(carbonDioxide(fuelGas{Name: "hydrogen"}, 1e-4)))
	put("heat of methane", e1(torchHeat(methane, 1e-4)))
	put("air rise", e1(airRise(1000, 0)))
	put("oxygen", e1(oxygenShare(0, 1e-3)))
	put("current", e1(RatedCurrent(0, 240)))
	put("noise", e1(NoiseTime(200)))
	_, _, err := circuitLoad(quantity.Current(nan))
	put("breaker", err)
	_, _, err = circuitLoad(161)
	put("breaker beyond", err)
	_, _, err = enrichmentTime(30, 0)
	put("leak", err)
	_, _, err = explosiveMass(propane, 30, 21)
	put("explosive", err)
	_, _, err = needsMechanical(30, 3, 0)
	put("workers", err)
	for name, err := range bad {
		e, ok := err.(*InputError)
		if !ok {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if e.Quantity == "" || e.rule == "" {
			t.Errorf("%s: %q", name, e)
		}
	}
}

// A steady leak must agree with the mass balance run to its end, and the
// build-up with no airflow with its limit.
func TestBalances(t *testing.T) {
	x, dt, q, g, v := oxygenOutdoor, 1.0, 20./3600, 10./60000, 30.0
	for range 200000 {
		x += dt * (q*oxygenOutdoor + g - (q+g)*x) / v
	}
	if got := must[float64](t)(oxygenShare(quantity.Flow(q), quantity.Flow(g))); math.Abs(got-x) > 1e-9 {
		t.Errorf("oxygen %g, balance %g", got, x)
	}
	still := must[float64](t)(buildUp(1e-4, 0, 76, time.Hour, 1))
	slow := must[float64](t)(buildUp(1e-4, 1e-9, 76, time.Hour, 1))
	if math.Abs(slow/still-1) > 1e-6 {
		t.Errorf("no airflow %g, hardly any %g", still, slow)
	}
}

// forbidden are words that the product never prints: it cannot know.
var forbidden = regexp.MustCompile(`(?i)\b(safe|safely|ok|okay|compliant|complies|approved|guaranteed?)\b`)
