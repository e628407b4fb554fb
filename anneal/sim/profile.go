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

// PathStress returns |∫ (σ₁ − σ₂) ds| along the line of sight on which a piece is
// read [N/m], σ₁ and σ₂ the principal stresses across the line. Times the
// stress-optic coefficient [1/Pa] it is the retardation [m] that a polariscope
// shows there.
//
// A sphere is seen from any side, and a solid one read at its brightest ring,
// which lies at about 0.8 of the radius; along a diameter the two stresses are
// equal and nothing shows. A solid cylinder is seen from the side, and read on
// its axis; what has a bore is read at its brightest place. A slab is seen
// through its edge over the path given [m], and read in its middle plane; its
// faces show about twice as much, and through them nothing shows.
func (p Profile) PathStress(b Body, path float64) float64 {
	if b.Form == Slab {
		middle := 0.0
		if b.OneFace {
			middle = p.Depth[len(p.Depth)-1] / 2
		}
		plane, _, _ := p.at(middle)
		return math.Abs(plane) * path
	}
	offsets := 40
	if b.Form == Cylinder && b.Inner == 0 {
		offsets = 1 // the axis
	}
	const points = 60
	most := 0.0
	for k := 0; k < offsets; k++ {
		off := b.Outer * (float64(k) + 0.5) / float64(offsets)
		if b.Form == Cylinder {
			off = b.Outer * float64(k) / float64(offsets)
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
