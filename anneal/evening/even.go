package evening

import (
	"fmt"
	"math"
	"time"

	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// EvenFolds is how many e-folds a piece has to even out before the soak counts:
// of 260 K between core and kiln then 2 K are left.
//
// Source: simulations of pieces put in with a hot core [derived; even_test.go].
const EvenFolds = 5

// HeatTransferAt returns the heat-transfer coefficient by which a kiln at a temperature heats or cools
// a piece that is nearly as hot [W/m²K]: still air and radiation.
//
//	h = 5 + 4 ε σ T³
//
// Source: common practice for the air, 5 W/m²K; Stefan-Boltzmann law [derived].
//
// Checked: even_test.go
func HeatTransferAt(at unit.Temp, emissivity float64) float64 {
	k := at.Kelvin()
	return 5 + 4*emissivity*sim.StefanBoltzmann*k*k*k
}

// EFold returns the time in which the differences in a piece fall to 1/e once
// the first rush is over: that of its slowest mode with heat transfer at the surface.
//
//	slab      L²/(m² κ)   m tan m = Bi,          Bi = h L/k
//	cylinder  R²/(m² κ)   m J₁(m) = Bi J₀(m),    Bi = h R/k
//	sphere    R²/(m² κ)   m cot m = 1 − Bi,      Bi = h R/k
//
// k [W/mK] and kappa [m²/s] are those of the glass at the kiln's temperature, h
// its heat transfer [W/m²K]. A tube counts as a slab of its wall, closed inside unless
// its bore is open.
//
// Valid: k, kappa, h and the size above zero; panics otherwise.
//
// Source: Carslaw and Jaeger, sec. 3.11, 7.7, 9.4 [memory; re-derived: the roots
// and a simulation agree, even_test.go].
//
// Checked: even_test.go
func EFold(b sim.Body, k, kappa, h float64) time.Duration {
	size, form := b.Outer, b.Form
	if form == sim.Cylinder && b.Inner > 0 {
		form, size = sim.Slab, b.Outer-b.Inner
		if b.InnerOpen {
			size /= 2
		}
	}
	for name, x := range map[string]float64{"size": size, "conductivity": k, "diffusivity": kappa, "heat transfer": h} {
		if !(x > 0) || math.IsInf(x, 1) {
			panic(fmt.Sprintf("evening: %s %g must be above zero", name, x))
		}
	}
	m := root(form, h*size/k)
	return unit.Seconds(size * size / (m * m * kappa))
}

// root is the first positive root of the form's condition, by halving: the
// condition changes its sign once before its pole.
func root(form sim.Form, bi float64) float64 {
	const besselZero = 2.404825557695773 // first zero of J₀
	f, high := func(m float64) float64 { return m*math.Sin(m) - bi*math.Cos(m) }, math.Pi/2
	switch form {
	case sim.Cylinder:
		f, high = func(m float64) float64 { return m*math.J1(m) - bi*math.J0(m) }, besselZero
	case sim.Sphere:
		f, high = func(m float64) float64 { return (1-bi)*math.Sin(m) - m*math.Cos(m) }, math.Pi
	}
	low := 0.0
	for range 80 {
		if mid := (low + high) / 2; f(mid) < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// EvenAt returns when a piece is even that went in hot: five e-folds after it
// went in, never before it. Times are those of the program, below zero before
// its start. The soak counts for a load from the last of these times.
func EvenAt(in, eFold time.Duration, core Core) time.Duration {
	if core.Even {
		return in
	}
	return in + EvenFolds*eFold
}
