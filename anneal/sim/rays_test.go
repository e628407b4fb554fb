package sim

import (
	"math"
	"testing"
)

// TestBands holds the series of the Planck integral against the integral and
// the fractions that every table of it begins with.
func TestBands(t *testing.T) {
	for _, k := range []float64{300, 573.15, 773.15, 1500} {
		for _, um := range []float64{1, 2.1, 3, 5, 10, 40} {
			const c2 = 1.438776877e-2
			x := c2 / (um * 1e-6 * k)
			sum, h := 0.0, 1e-3
			for y := x + h/2; y < x+60; y += h {
				sum += h * y * y * y / math.Expm1(y)
			}
			near(t, "share", blackShare(um*1e-6, k), 15/math.Pow(math.Pi, 4)*sum, 1e-6, 1e-12)
		}
	}
	near(t, "half of all below 4107 µm K", blackShare(4107e-6, 1), 0.5, 1e-3, 0)
	o := Optics{Index: 1.45, Bands: []Band{{2.1e-6, 4}, {5e-6, 100}}}
	sum := 0.0
	for _, e := range o.emission(800) {
		sum += e
	}
	near(t, "all bands", sum, StefanBoltzmann*math.Pow(800, 4), 1e-12, 0)
}

// TestReflectivity: straight through ((n−1)/(n+1))², and over all directions
// what a thick body of index 1.45 does not emit, 1 − 0.9156 from outside.
func TestReflectivity(t *testing.T) {
	near(t, "straight", reflectivity(1.5, 1), 0.04, 1e-12, 0)
	near(t, "beyond the critical angle", reflectivity(1.5, 0.7), 1, 0, 0)
	const n, steps = 1.45, 200000
	sum := 0.0
	for i := range steps {
		mu := (float64(i) + 0.5) / steps
		sum += 2 * mu * reflectivity(n, mu) / steps
	}
	near(t, "from inside", sum, 1-0.9156/(n*n), 1e-4, 0)
}

// TestRaySums: an even body at the temperature of the kiln has no flux, and
// what leaves through the surface is what the volumes lose.
func TestRaySums(t *testing.T) {
	for form := Slab; form <= Sphere; form++ {
		for _, k := range []float64{2, 30, 560, 5000, 1e5} {
			for _, in := range []Layer{{}, {Rho: 0.25}, {Rho: 0.9}, {Rho: 0.5, Black: true}, {Black: true}} {
				l := rayed(t, Body{Form: form, Outer: 0.0381}, 1.45, k, in, 16)
				area := math.Pow(0.0381, float64(form))
				row := func(row []float64) (sum float64) {
					for _, x := range row {
						sum += x
					}
					return sum / area
				}
				for i := range l.gain[0] {
					near(t, form.String()+": row", row(l.gain[0][i]), 0, 0, 4e-15)
				}
				near(t, form.String()+": surface", row(l.out[0]), 0, 0, 4e-15)
				n := len(l.r) - 1
				for j := range n + 2 {
					sum := 0.0
					for i := range l.gain[0] {
						sum += l.gain[0][i][j]
					}
					near(t, form.String()+": column", sum+l.out[0][j], 0, 0, 1e-14*area)
				}
			}
		}
	}
}

// TestThickGlass: a thick body of index 1.45 emits 0.9156 of a black one, and a
// gradient of emission carries 4n²/3κ of it, in every form.
func TestThickGlass(t *testing.T) {
	const R, n = 0.0381, 1.45
	for form := Slab; form <= Sphere; form++ {
		e := make([]float64, 41)
		for i := range e {
			e[i] = 1
		}
		l := rayed(t, Body{Form: form, Outer: R}, n, 1e5, Layer{}, 40)
		near(t, form.String()+": emission", outward(l, e, 0)[41]/math.Pow(R, float64(form)), 0.9156, 3e-4, 0)
		l = rayed(t, Body{Form: form, Outer: R}, n, 2e4, Layer{}, 40)
		for i, r := range l.r {
			e[i] = 1 + r/R
		}
		const f = 20
		area := math.Pow(0.5*(l.r[f-1]+l.r[f]), float64(form))
		near(t, form.String()+": flux", -outward(l, e, 0)[f]/area, 4*n*n/(3*2e4)/R, 3e-3, 0)
	}
}

// TestThinGlass: a thin body emits from its whole volume what does not stay
// inside by total reflection.
func TestThinGlass(t *testing.T) {
	const R, n, kappa = 1e-3, 1.45, 1.0
	for form := Slab; form <= Sphere; form++ {
		l := rayed(t, Body{Form: form, Outer: R}, n, kappa, Layer{}, 16)
		e := make([]float64, 17)
		for i := range e {
			e[i] = 1
		}
		// Each direction inside a slab, and each point and direction inside a
		// sphere, leaves when its µ at the surface is above the critical one.
		critical := math.Sqrt(1 - 1/(n*n))
		leaves := map[Form]float64{Slab: 1 - critical, Sphere: 1 - math.Pow(critical, 3)}[form]
		if form == Cylinder {
			continue // between the two
		}
		volume := R / (1 + float64(form))
		got := outward(l, e, 0)[17] / math.Pow(R, float64(form)) / (4 * kappa * n * n * volume)
		near(t, form.String()+": emission", got, leaves, 0.02, 0)
	}
}

func BenchmarkLight(b *testing.B) {
	for form := Slab; form <= Sphere; form++ {
		b.Run(form.String(), func(b *testing.B) {
			for b.Loop() {
				NewLight(Body{Form: form, Outer: 0.03}, Optics{Index: 1.45, Bands: []Band{{2.1e-6, 4}, {2.68e-6, 30}, {3e-6, 560}, {3.5e-6, 200}, {4.2e-6, 740}, {5e-6, 2600}}}, Layer{}, 16)
			}
		})
	}
}
