package sim

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"lehr/glass/casetest"
)

// Exact solutions of conduction and thermoelasticity with constant properties.
// Sources: Carslaw and Jaeger 1959, Conduction of Heat in Solids, secs 3.4, 7.6
// and 9.3; Timoshenko and Goodier, Theory of Elasticity [both memory; the
// series and the integrals are worked out here].

// besselZeros are the roots of J0, found here.
func besselZeros(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		x := (float64(i) + 0.75) * math.Pi
		for range 20 {
			x += math.J0(x) / math.J1(x)
		}
		out[i] = x
	}
	return out
}

// stepSeries returns (T−Ts)/(T0−Ts) at the innermost point and in the mean at
// Fourier number fo after the surface was stepped to Ts.
func stepSeries(form Form, fo float64) (center, mean float64) {
	zeros := besselZeros(40)
	for n := range 40 {
		switch form {
		case Slab:
			b := (float64(n) + 0.5) * math.Pi
			e := math.Exp(-b * b * fo)
			sign := 1 - 2*float64(n%2)
			center += 2 * sign / b * e
			mean += 2 / (b * b) * e
		case Cylinder:
			b := zeros[n]
			e := math.Exp(-b * b * fo)
			center += 2 / (b * math.J1(b)) * e
			mean += 4 / (b * b) * e
		case Sphere:
			b := (float64(n) + 1) * math.Pi
			e := math.Exp(-b * b * fo)
			sign := 1 - 2*float64(n%2)
			center += 2 * sign * e
			mean += 6 / (b * b) * e
		}
	}
	return center, mean
}

func TestStep(t *testing.T) {
	for form := Slab; form <= Sphere; form++ {
		for _, fo := range []float64{0.05, 0.1, 0.2, 0.3, 0.5} {
			center, mean := stepped(t, form, fo)
			wantCenter, wantMean := stepSeries(form, fo)
			near(t, fmt.Sprintf("%v, Fo %g, center", form, fo), center, wantCenter, 1e-3, 1e-4)
			near(t, fmt.Sprintf("%v, Fo %g, mean", form, fo), mean, wantMean, 1e-3, 2e-4)
		}
	}
}

// TestPublishedSteps holds the simulation against the tables of the same cases
// that the planner's formulas are held against.
func TestPublishedSteps(t *testing.T) {
	var list []casetest.Case
	for _, c := range casetest.Load(t, "carslaw1959") {
		if strings.HasSuffix(c.Func, "Step") || strings.HasSuffix(c.Func, "StartUp") {
			list = append(list, c)
		}
	}
	if len(list) < 15 {
		t.Fatalf("only %d cases found", len(list))
	}
	casetest.RunCases(t, list, Steps())
}

func TestRampSeries(t *testing.T) {
	// The ramp is the integral of the step.
	series := func(form Form, fo float64) float64 {
		sum := 0.0
		zeros := besselZeros(40)
		for n := range 40 {
			sign := 1 - 2*float64(n%2)
			switch form {
			case Slab:
				b := (float64(n) + 0.5) * math.Pi
				sum += 2 * sign / (b * b * b) * math.Exp(-b*b*fo)
			case Cylinder:
				b := zeros[n]
				sum += 2 / (b * b * b * math.J1(b)) * math.Exp(-b*b*fo)
			case Sphere:
				b := (float64(n) + 1) * math.Pi
				sum += 2 * sign / (b * b) * math.Exp(-b*b*fo)
			}
		}
		return 1 - sum*float64(2+2*form)
	}
	for form := Slab; form <= Sphere; form++ {
		for _, fo := range []float64{0.05, 0.1, 0.2, 0.3, 0.5, 1} {
			near(t, fmt.Sprintf("%v, Fo %g", form, fo), startUp(t, form, fo), series(form, fo), 1e-3, 1e-4)
		}
	}
}

// TestSteadyStress checks lag and all stresses of steady cooling against
// σ(ρ) in units of EαβR²/((1−ν)κ), at every volume, with the default settings.
func TestSteadyStress(t *testing.T) {
	// all by the mean q of ρ² over a volume; the fields are linear in it
	exact := map[Form]func(q float64) (plane, axial, radial float64){
		Slab:     func(q float64) (a, b, c float64) { return (3*q - 1) / 6, (3*q - 1) / 6, 0 },
		Cylinder: func(q float64) (a, b, c float64) { return (3*q - 1) / 16, (2*q - 1) / 8, -(1 - q) / 16 },
		Sphere:   func(q float64) (a, b, c float64) { return (2*q - 1) / 15, (2*q - 1) / 15, -(1 - q) / 15 },
	}
	surface := map[Form]float64{Slab: 1.0 / 3, Cylinder: 1.0 / 8, Sphere: 1.0 / 15}
	for form := Slab; form <= Sphere; form++ {
		const size = 0.025
		unit := 70e9 * 9e-6 * rampRate * size * size / ((1 - 0.22) * 4.6e-7)
		r := ramped(t, Body{Form: form, Outer: size}, 4, Settings{Cells: 64})
		h, f := r.heat, r.fields[0]
		near(t, form.String()+" lag", h.temp[0]-h.temp[h.n], steadyLag(form, size), 1e-3, 0)
		near(t, form.String()+" mean lag", h.average()-h.temp[h.n], steadyLag(form, size)*2/float64(form+3), 1e-3, 0)
		scale := surface[form]
		for i := range f.plane {
			_, q := h.moments(i)
			plane, axial, radial := exact[form](q / (size * size))
			what := fmt.Sprintf("%v, volume %d, ", form, i)
			near(t, what+"plane", f.plane[i]/unit, plane, 0, 1e-3*scale)
			near(t, what+"axial", f.axial[i]/unit, axial, 0, 1e-3*scale)
			near(t, what+"radial", f.radial[i]/unit, radial, 0, 1e-3*scale)
		}
		near(t, form.String()+" surface", f.outer.plane/unit, scale, 1e-3, 0)
		near(t, form.String()+" surface, axial", f.outer.axial/unit, scale, 1e-3, 0)
		plane, axial, _ := exact[form](0)
		near(t, form.String()+" center", f.inner.plane/unit, plane, 1e-3, 0)
		near(t, form.String()+" center, axial", f.inner.axial/unit, axial, 1e-3, 0)
		// where stress changes sign
		cross := func(s []float64) float64 {
			for i := 1; i < len(s); i++ {
				if s[i-1] < 0 && s[i] >= 0 {
					return (h.mid[i-1] + (h.mid[i]-h.mid[i-1])*s[i-1]/(s[i-1]-s[i])) / size
				}
			}
			return math.NaN()
		}
		want := map[Form]float64{Slab: 1 / math.Sqrt(3), Cylinder: 1 / math.Sqrt(3), Sphere: 1 / math.Sqrt2}[form]
		near(t, form.String()+" zero of plane stress", cross(f.plane), want, 1e-3, 0)
		if form == Cylinder {
			near(t, "zero of axial stress", cross(f.axial), 1/math.Sqrt2, 1e-3, 0)
		}
	}
}

// TestOneFace: a slab cooled from one face lags four times as much as one of
// the same thickness cooled from both. Free to bend it takes the linear part
// of T out, and what is left is that of the slab cooled from both faces.
func TestOneFace(t *testing.T) {
	const thick = 0.02
	one := ramped(t, Body{Form: Slab, Outer: thick, OneFace: true}, 4, Settings{Cells: 48})
	both := ramped(t, Body{Form: Slab, Outer: thick / 2}, 8, Settings{Cells: 48})
	near(t, "lag", one.heat.temp[0]-one.heat.temp[48], 4*(both.heat.temp[0]-both.heat.temp[48]), 1e-3, 0)
	f, g := one.fields[0], both.fields[0]
	near(t, "cooled face", f.outer.plane, g.outer.plane, 1e-3, 0)
	near(t, "far face", f.inner.plane, g.outer.plane, 1e-3, 0)
	near(t, "middle", f.plane[24], g.inner.plane, 2e-3, 0)
	// Held flat it is half of a slab twice as thick.
	held := ramped(t, Body{Form: Slab, Outer: thick, OneFace: true, Held: true}, 4, Settings{Cells: 48}).fields[0]
	whole := ramped(t, Body{Form: Slab, Outer: thick}, 4, Settings{Cells: 48}).fields[0]
	near(t, "held, cooled face", held.outer.plane, whole.outer.plane, 1e-6, 0)
	near(t, "held, far face", held.inner.plane, whole.inner.plane, 1e-3, 0)
}

// TestTubeLimits: a thin tube is a slab that cannot bend and passes heat
// through one face; a tube whose bore vanishes is a cylinder.
func TestTubeLimits(t *testing.T) {
	const wall = 0.004
	unit := 70e9 * 9e-6 * rampRate * wall * wall / ((1 - 0.22) * 4.6e-7)
	thin := ramped(t, Body{Form: Cylinder, Outer: 4, Inner: 4 - wall}, 4, Settings{Cells: 32})
	near(t, "lag of a thin wall", thin.heat.temp[0]-thin.heat.temp[32], steadyLag(Slab, wall), 2e-3, 0)
	f := thin.fields[0]
	near(t, "outside of a thin wall", f.outer.plane/unit, 1.0/3, 3e-3, 0)
	near(t, "inside of a thin wall", f.inner.plane/unit, -1.0/6, 3e-3, 0)
	near(t, "outside of a thin wall, axial", f.outer.axial/unit, 1.0/3, 3e-3, 0)

	open := ramped(t, Body{Form: Cylinder, Outer: 4, Inner: 4 - wall, InnerOpen: true}, 4, Settings{Cells: 32})
	near(t, "open bore: faces", open.fields[0].outer.plane/unit, 1.0/12, 1e-2, 0)
	near(t, "open bore: faces", open.fields[0].inner.plane/unit, 1.0/12, 1e-2, 0)

	const size = 0.025
	rod := ramped(t, Body{Form: Cylinder, Outer: size}, 4, Settings{Cells: 64})
	bore := ramped(t, Body{Form: Cylinder, Outer: size, Inner: size * 1e-3}, 4, Settings{Cells: 64})
	near(t, "vanishing bore: lag", bore.heat.temp[0]-bore.heat.temp[64], rod.heat.temp[0]-rod.heat.temp[64], 1e-3, 0)
	near(t, "vanishing bore: surface", bore.fields[0].outer.plane, rod.fields[0].outer.plane, 1e-3, 0)
	near(t, "vanishing bore: axial stress inside", bore.fields[0].inner.axial, rod.fields[0].inner.axial, 0.02, 0)
}

// TestThickTube compares with the closed form of Timoshenko and Goodier for
// any T(r), its integrals taken here numerically.
func TestThickTube(t *testing.T) {
	const a, b = 0.008, 0.02
	r := ramped(t, Body{Form: Cylinder, Outer: b, Inner: a}, 5, Settings{Cells: 96})
	h, f := r.heat, r.fields[0]
	// steady: T = −β/(4κ) (r² − 2a² ln r) + const, no flow at the bore
	temp := func(x float64) float64 { return -rampRate / (4 * 4.6e-7) * (x*x - 2*a*a*math.Log(x)) }
	moment := func(to float64) float64 { // ∫ T r dr from a
		const n = 4000
		sum := 0.0
		for i := range n {
			x := a + (to-a)*(float64(i)+0.5)/n
			sum += temp(x) * x
		}
		return sum * (to - a) / n
	}
	all := moment(b)
	factor := 70e9 * 9e-6 / (1 - 0.22)
	scale := math.Abs(factor * (2*all/(b*b-a*a) - temp(b)))
	for i := 8; i < 90; i += 9 {
		x := h.r[i]
		hoop := factor / (x * x) * ((x*x+a*a)/(b*b-a*a)*all + moment(x) - temp(x)*x*x)
		radial := factor / (x * x) * ((x*x-a*a)/(b*b-a*a)*all - moment(x))
		axial := factor * (2*all/(b*b-a*a) - temp(x))
		near(t, fmt.Sprintf("hoop at %.4f m", x), f.plane[i], hoop, 0, 2e-3*scale)
		near(t, fmt.Sprintf("radial at %.4f m", x), f.radial[i], radial, 0, 2e-3*scale)
		near(t, fmt.Sprintf("axial at %.4f m", x), f.axial[i], axial, 0, 2e-3*scale)
	}
}

// TestHollowSphereLimits: a thin shell is a slab that cannot bend and passes heat
// through one face; a sphere whose cavity vanishes is solid.
func TestHollowSphereLimits(t *testing.T) {
	const wall = 0.004
	unit := 70e9 * 9e-6 * rampRate * wall * wall / ((1 - 0.22) * 4.6e-7)
	thin := ramped(t, Body{Form: Sphere, Outer: 4, Inner: 4 - wall}, 4, Settings{Cells: 32})
	near(t, "lag of a thin wall", thin.heat.temp[0]-thin.heat.temp[32], steadyLag(Slab, wall), 3e-3, 0)
	near(t, "outside of a thin wall", thin.fields[0].outer.plane/unit, 1.0/3, 4e-3, 0)
	near(t, "inside of a thin wall", thin.fields[0].inner.plane/unit, -1.0/6, 4e-3, 0)

	const size = 0.025
	solid := ramped(t, Body{Form: Sphere, Outer: size}, 4, Settings{Cells: 64})
	hollow := ramped(t, Body{Form: Sphere, Outer: size, Inner: size * 0.05}, 4, Settings{Cells: 64})
	near(t, "vanishing cavity: lag", hollow.heat.temp[0]-hollow.heat.temp[64], solid.heat.temp[0]-solid.heat.temp[64], 0.01, 0)
	near(t, "vanishing cavity: surface", hollow.fields[0].outer.plane, solid.fields[0].outer.plane, 2e-3, 0)
}

// TestThickHollowSphere compares with the closed form of Timoshenko and Goodier
// for any T(r), its integrals taken here numerically.
func TestThickHollowSphere(t *testing.T) {
	for _, a := range []float64{0.004, 0.008, 0.017} {
		const b = 0.02
		r := ramped(t, Body{Form: Sphere, Outer: b, Inner: a}, 5, Settings{Cells: 96})
		h, f := r.heat, r.fields[0]
		// steady: T = −β/(6κ) (r² + 2a³/r) + const, no flow at the cavity
		temp := func(x float64) float64 { return -rampRate / (6 * 4.6e-7) * (x*x + 2*a*a*a/x) }
		moment := func(to float64) float64 { // ∫ T r² dr from a
			const n = 4000
			sum := 0.0
			for i := range n {
				x := a + (to-a)*(float64(i)+0.5)/n
				sum += temp(x) * x * x
			}
			return sum * (to - a) / n
		}
		all, cube := moment(b), func(x float64) float64 { return x * x * x }
		factor := 2 * 70e9 * 9e-6 / (1 - 0.22)
		hoopAt := func(x float64) float64 {
			return factor * ((2*cube(x)+cube(a))/(2*(cube(b)-cube(a))*cube(x))*all + moment(x)/(2*cube(x)) - temp(x)/2)
		}
		scale := math.Abs(hoopAt(b))
		near(t, fmt.Sprintf("outer face, cavity %g m", a), f.outer.plane, hoopAt(b), 0, 2e-3*scale)
		near(t, fmt.Sprintf("inner face, cavity %g m", a), f.inner.plane, hoopAt(a), 0, 5e-3*scale)
		for i := 8; i < 90; i += 9 {
			x := h.r[i]
			radial := factor * ((cube(x)-cube(a))/((cube(b)-cube(a))*cube(x))*all - moment(x)/cube(x))
			near(t, fmt.Sprintf("hoop at %.4f m, cavity %g m", x, a), f.plane[i], hoopAt(x), 0, 2e-3*scale)
			near(t, fmt.Sprintf("radial at %.4f m, cavity %g m", x, a), f.radial[i], radial, 0, 2e-3*scale)
		}
	}
}

// TestLumped: a thin piece of high conductivity is one temperature. With a
// convection alone it falls exponentially; with radiation alone in a cold kiln it
// follows 1/T³ = 1/T0³ + 3 ε σ A t/(ρ c V); with both it follows an ordinary
// equation, integrated here by Runge and Kutta's rule.
func TestLumped(t *testing.T) {
	m, v := plain()
	m.Conductivity = constant(1e4)
	const size = 0.005
	for form := Slab; form <= Sphere; form++ {
		areaByVolume := float64(form+1) / size
		c := 2500 * 1000 / areaByVolume // J/m²K
		cool := func(s Surface, kiln float64) float64 {
			r := runTo(t, Problem{Body: Body{Form: form, Outer: size}, Material: m, Variants: v, Surface: s,
				Kiln: Kiln{At: constant(kiln), Kinks: []float64{300}}, Start: constant(900)}, Settings{Tolerance: 0.001, MaxChange: 50})
			return r.heat.temp[0]
		}
		near(t, form.String()+", convection", cool(Surface{HeatTransfer: 20}, 300), 300+600*math.Exp(-20*300/c), 1e-5, 0)
		got := cool(Surface{Emissivity: 0.9}, 1e-3)
		want := math.Pow(math.Pow(900, -3)+3*0.9*StefanBoltzmann*300/c, -1.0/3)
		near(t, form.String()+", radiation", got, want, 1e-5, 0)
		x, dt := 900.0, 0.5
		rate := func(x float64) float64 {
			return (5*(400-x) + 0.9*StefanBoltzmann*(math.Pow(400, 4)-math.Pow(x, 4))) / c
		}
		for range 600 {
			k1 := rate(x)
			k2 := rate(x + dt/2*k1)
			k3 := rate(x + dt/2*k2)
			k4 := rate(x + dt*k3)
			x += dt / 6 * (k1 + 2*k2 + 2*k3 + k4)
		}
		near(t, form.String()+", both", cool(air, 400), x, 1e-5, 0)
	}
}
