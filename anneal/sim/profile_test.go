package sim

import (
	"math"
	"testing"
)

// steadyProfile is the stress of even cooling in unit EαβR²/((1−ν)κ), R = 1.
func steadyProfile(form Form, cells int) Profile {
	var p Profile
	for i := range cells + 1 {
		x := float64(i) / float64(cells)
		q := x * x
		p.Depth = append(p.Depth, x)
		switch form {
		case Slab:
			p.Plane, p.Axial, p.Radial = append(p.Plane, (3*q-1)/6), append(p.Axial, (3*q-1)/6), append(p.Radial, 0)
		case Cylinder:
			p.Plane, p.Axial, p.Radial = append(p.Plane, (3*q-1)/16), append(p.Axial, (2*q-1)/8), append(p.Radial, (q-1)/16)
		case Sphere:
			p.Plane, p.Axial, p.Radial = append(p.Plane, (2*q-1)/15), append(p.Axial, (2*q-1)/15), append(p.Radial, (q-1)/15)
		}
	}
	return p
}

// TestPathStress integrates σ₁ − σ₂ along a line of sight by hand. In a sphere
// seen at the distance o from its center (σ_r − σ_θ) o²/r² is −o²/15
// everywhere on the line, and ∫ = 2 o² √(1−o²)/15, greatest 4/(3√3)/15 at
// o² = 2/3. In a cylinder seen from the side the integral is
// √(1−o²) (4o²−1)/12, 1/12 on the axis and as much again, of the other sign, at
// o² = 3/4. A slab has in its middle plane half of what its faces have, 1/6 and 1/3.
func TestPathStress(t *testing.T) {
	sphere := steadyProfile(Sphere, 96)
	near(t, "sphere", sphere.PathStress(Body{Form: Sphere, Outer: 1}, 0), 4/(3*math.Sqrt(3))/15, 5e-3, 0)
	rod := steadyProfile(Cylinder, 96)
	near(t, "cylinder", rod.PathStress(Body{Form: Cylinder, Outer: 1}, 0), 1.0/12, 5e-3, 0)
	slab := steadyProfile(Slab, 96)
	near(t, "slab", slab.PathStress(Body{Form: Slab, Outer: 1}, 0.03), 0.03/6, 1e-9, 0)
	// Cooled from one face, the middle plane is half way to it: (1 − 3/4)/6 here.
	near(t, "slab from one face", slab.PathStress(Body{Form: Slab, Outer: 1, OneFace: true}, 0.03), 0.03/24, 1e-3, 0)
	near(t, "greatest tension", sphere.MaxTension(), 1.0/15, 1e-9, 0)

	// The same from a run with the nodes it has by default.
	const size = 0.025
	unit := 70e9 * 9e-6 * rampRate * size * size / ((1 - 0.22) * 4.6e-7)
	for form, want := range map[Form]float64{Sphere: 4 / (3 * math.Sqrt(3)) / 15, Cylinder: 1.0 / 12} {
		r := ramped(t, Body{Form: form, Outer: size}, 4, Settings{})
		got := leftOf(r).PathStress(Body{Form: form, Outer: size}, 0)
		near(t, form.String(), got/unit/size, want, 1e-2, 0)
	}
}

// TestPathStress_onTheAxis: a rod is read on its axis also where a line near its
// rim shows more. With nothing but σ_z = r⁴ − 1/3 the axis shows
// 2(1/3 − 1/5) = 4/15, the line at 0.9 of the radius 0.377.
func TestPathStress_onTheAxis(t *testing.T) {
	var p Profile
	for i := range 201 {
		r := float64(i) / 200
		p.Depth, p.Axial = append(p.Depth, r), append(p.Axial, r*r*r*r-1.0/3)
		p.Plane, p.Radial = append(p.Plane, 0), append(p.Radial, 0)
	}
	near(t, "axis", p.PathStress(Body{Form: Cylinder, Outer: 1}, 0), 4.0/15, 1e-3, 0)
}

// TestCenterTension: evenly frozen glass carries its greatest tension inside.
func TestCenterTension(t *testing.T) {
	var p Profile
	for _, s := range steadyProfile(Sphere, 10).Plane {
		p.Plane, p.Axial, p.Radial = append(p.Plane, -s), append(p.Axial, -s), append(p.Radial, 0)
	}
	near(t, "greatest tension", p.MaxTension(), 1.0/15, 1e-9, 0)
}

// leftOf is the stress of the first variant as it stands.
func leftOf(r *run) Profile {
	p := newProfile(r.heat)
	r.fields[0].profile(r.heat, &p)
	return p
}
