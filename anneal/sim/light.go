package sim

import (
	"math"
	"sort"
)

// MaxTension returns the greatest principal stress of the profile [Pa]; it is
// negative only if no point is in tension.
func (p Profile) MaxTension() float64 {
	most := math.Inf(-1)
	for i := range p.Plane {
		most = math.Max(most, math.Max(p.Plane[i], math.Max(p.Axial[i], p.Radial[i])))
	}
	return most
}

// Greatest returns the greatest principal stress of the profile [Pa] and its
// relative depth, 1 the surface.
func (p Profile) Greatest() (stress, rho float64) {
	stress = math.Inf(-1)
	last := p.Depth[len(p.Depth)-1]
	for i := range p.Plane {
		if s := math.Max(p.Plane[i], math.Max(p.Axial[i], p.Radial[i])); s > stress {
			stress, rho = s, p.Depth[i]/last
		}
	}
	return stress, rho
}

// at returns the components at depth x by linear interpolation.
func (p Profile) at(x float64) (plane, axial, radial float64) {
	i := min(max(sort.SearchFloat64s(p.Depth, x)-1, 0), len(p.Depth)-2)
	w := (x - p.Depth[i]) / (p.Depth[i+1] - p.Depth[i])
	mix := func(s []float64) float64 { return s[i] + w*(s[i+1]-s[i]) }
	return mix(p.Plane), mix(p.Axial), mix(p.Radial)
}

// PathStress returns the greatest |∫ (σ₁ − σ₂) ds| over parallel lines of
// sight through the piece [N/m], σ₁ and σ₂ the principal stresses across the
// line. Times the stress-optic coefficient [1/Pa] it is the retardation [m] a
// polariscope shows at its brightest place.
//
// A sphere is seen from any side, a cylinder from the side. Along a diameter of
// a sphere the two are equal and nothing shows; the brightest ring lies at
// about 0.8 of the radius. A slab is seen through its edge over the path given
// [m]; through its faces nothing shows.
func (p Profile) PathStress(b Body, path float64) float64 {
	if b.Form == Slab {
		most := 0.0
		for _, s := range p.Plane {
			most = math.Max(most, math.Abs(s))
		}
		return most * path
	}
	const offsets, points = 40, 60
	most := 0.0
	for k := 0; k < offsets; k++ {
		off := b.Outer * (float64(k) + 0.5) / offsets
		if b.Form == Cylinder {
			off = b.Outer * float64(k) / offsets
		}
		half := math.Sqrt(b.Outer*b.Outer - off*off)
		sum := 0.0
		for j := 0; j < points; j++ {
			s := half * (float64(j) + 0.5) / points
			r2 := off*off + s*s
			r := math.Sqrt(r2)
			if r < b.Inner {
				continue
			}
			plane, axial, radial := p.at(r - b.Inner)
			share := off * off / r2
			if b.Form == Sphere {
				sum += (radial - plane) * share
			} else {
				sum += axial - radial*share - plane*(1-share)
			}
		}
		most = math.Max(most, math.Abs(sum)*2*half/points)
	}
	return most
}
