package axial

import "math"

// element is one quadrilateral ring: one strain, the mean over its volume, and
// one stress. Volumes and areas are per radian.
//
// The means are exact integrals, so that a uniform pressure is in discrete
// equilibrium. A mean strain does not see the two motions in which opposite
// corners go the same way; a small stiffness against their increments, which
// leaves no stress behind, keeps the displacement smooth.
type element struct {
	node    [4]int
	volume  float64       // ∫ r dA [m³]
	center  Point         // of the volume
	share   [4]float64    // weight of each corner in the mean temperature
	quarter [4]float64    // volume around each corner [m³]
	flow    [4][4]float64 // conductance over k
	rr, zz  [4]float64    // mean ∂N/∂r and ∂N/∂z: ε_r, ε_z, and both in 2 ε_rz
	hoop    [4]float64    // mean N/r: ε_θ
	bulk    [36]float64
	shear   [36]float64 // stiffness by K and by G, lower triangle of 8 × 8, r and z of each corner in turn
}

// stabilizing is the share of an element's stiffness against bending that
// stands against the motions its mean strain does not see.
const stabilizing = 0.1

var gauss = [2]float64{-1 / math.Sqrt(3), 1 / math.Sqrt(3)}

// corner signs of the reference square
var signXi, signEta = [4]float64{-1, 1, 1, -1}, [4]float64{-1, -1, 1, 1}

// sample is a place in an element: shape functions, their gradients, that of
// ξη, and the determinant of the map.
type sample struct {
	det, r, z float64
	n, dr, dz [4]float64
	hr, hz    float64
}

func sampled(x *[4]Point, xi, eta float64) sample {
	var s sample
	var byXi, byEta Point
	for c, p := range x {
		dXi, dEta := signXi[c]*(1+signEta[c]*eta)/4, signEta[c]*(1+signXi[c]*xi)/4
		byXi.R += dXi * p.R
		byXi.Z += dXi * p.Z
		byEta.R += dEta * p.R
		byEta.Z += dEta * p.Z
		n := (1 + signXi[c]*xi) * (1 + signEta[c]*eta) / 4
		s.r += n * p.R
		s.z += n * p.Z
	}
	s.fill(xi, eta, byXi, byEta)
	return s
}

// fill takes the derivatives of the place in the reference square.
func (s *sample) fill(xi, eta float64, byXi, byEta Point) {
	s.det = byXi.cross(byEta)
	grad := func(a, b float64) (r, z float64) {
		return (byEta.Z*a - byXi.Z*b) / s.det, (byXi.R*b - byEta.R*a) / s.det
	}
	for c := range s.n {
		s.n[c] = (1 + signXi[c]*xi) * (1 + signEta[c]*eta) / 4
		s.dr[c], s.dz[c] = grad(signXi[c]*(1+signEta[c]*eta)/4, signEta[c]*(1+signXi[c]*xi)/4)
	}
	s.hr, s.hz = grad(eta, xi)
}

func newElement(g *grid, index int) element {
	q := g.quad[index]
	e := element{node: q}
	var x, round [4]Point
	for c, n := range q {
		x[c], round[c] = g.sloped[n], g.node[n]
	}
	var area, hrr, hzz float64
	var planeR, planeZ [4]float64 // ∫ ∂N/∂r dA, ∫ ∂N/∂z dA
	for _, xi := range gauss {
		for _, eta := range gauss {
			s := sampled(&x, xi, eta)
			w := s.r * s.det
			for c := range x {
				e.share[c] += s.n[c] * w
				e.hoop[c] += s.n[c] * s.det
				e.rr[c] += s.dr[c] * w
				e.zz[c] += s.dz[c] * w
				planeR[c] += s.dr[c] * s.det
				planeZ[c] += s.dz[c] * s.det
			}
			area += s.det
			e.volume += w
			e.center.R += s.r * w
			e.center.Z += s.z * w
			hrr += s.hr * s.hr * w
			hzz += s.hz * s.hz * w
		}
	}
	e.center.R /= e.volume
	e.center.Z /= e.volume
	for c := range 4 {
		e.share[c] /= e.volume
		e.hoop[c] /= e.volume
		e.rr[c] /= e.volume
		e.zz[c] /= e.volume
	}
	e.conduct(&round, &g.curve[index])
	e.stiffness(x, planeR, planeZ, area, hrr, hzz)
	return e
}

// conduct fills quarter and flow. Each corner has the volume of its quarter and
// the gradient at the corner, so that a temperature that depends on r alone, or
// on z alone, flows exactly as between volumes around the nodes; shape functions
// and Gauss points would leave the axis too warm. The sides are curved as the
// section is: straight ones would make a cone of a sphere's pole.
func (e *element) conduct(x *[4]Point, curve *[5]Point) {
	for c := range x {
		for _, xi := range gauss {
			for _, eta := range gauss {
				s := curved(x, curve, (signXi[c]+xi)/2, (signEta[c]+eta)/2)
				e.quarter[c] += s.r * s.det / 4
			}
		}
		at := [2]float64{signXi[c], signEta[c]}
		if q := e.node; q[c] == q[(c+1)%4] || q[c] == q[(c+3)%4] {
			at = [2]float64{0, 0} // the corner of a triangle has no map
		}
		s := curved(x, curve, at[0], at[1])
		for i := range 4 {
			for j := range 4 {
				e.flow[i][j] += (s.dr[i]*s.dr[j] + s.dz[i]*s.dz[j]) * e.quarter[c]
			}
		}
	}
}

// curved is sampled for an element whose sides go through the points of curve.
func curved(x *[4]Point, curve *[5]Point, xi, eta float64) sample {
	// Lagrange's parabolas through −1, 0 and 1, and their slopes
	parabolas := func(t float64) (f, d [3]float64) {
		return [3]float64{t * (t - 1) / 2, 1 - t*t, t * (t + 1) / 2}, [3]float64{t - 0.5, -2 * t, t + 0.5}
	}
	fx, dx := parabolas(xi)
	fy, dy := parabolas(eta)
	points := [3][3]Point{{x[0], curve[0], x[1]}, {curve[3], curve[4], curve[1]}, {x[3], curve[2], x[2]}} // by η, then ξ
	var s sample
	var byXi, byEta Point
	for i := range 3 {
		for j := range 3 {
			p := points[j][i]
			s.r += fx[i] * fy[j] * p.R
			s.z += fx[i] * fy[j] * p.Z
			byXi.R += dx[i] * fy[j] * p.R
			byXi.Z += dx[i] * fy[j] * p.Z
			byEta.R += fx[i] * dy[j] * p.R
			byEta.Z += fx[i] * dy[j] * p.Z
		}
	}
	s.fill(xi, eta, byXi, byEta)
	return s
}

// stiffness fills what K and G are to be multiplied by.
func (e *element) stiffness(x [4]Point, planeR, planeZ [4]float64, area, hrr, hzz float64) {
	// what is not linear in the corners' displacement, as ξη would be
	var odd [4]float64
	var hr, hz float64
	for c := range x {
		odd[c] = signXi[c] * signEta[c]
		hr += odd[c] * x[c].R
		hz += odd[c] * x[c].Z
	}
	for c := range odd {
		odd[c] = (odd[c] - hr*planeR[c]/area - hz*planeZ[c]/area) / 4
	}
	const young = 2.5 // E over G, in the middle between elastic and runny glass
	k := 0
	for i := range 8 {
		for j := 0; j <= i; j++ {
			vi, ri, zi, ti, si := e.strains(i)
			vj, rj, zj, tj, sj := e.strains(j)
			e.bulk[k] = e.volume * vi * vj
			e.shear[k] = 2 * e.volume * (ri*rj + zi*zj + ti*tj + 2*si*sj)
			if i%2 == j%2 {
				against := hrr
				if i%2 == 1 {
					against = hzz
				}
				e.shear[k] += stabilizing * young * against * odd[i/2] * odd[j/2]
			}
			k++
		}
	}
}

// strains returns the volume strain and the deviators r, z, θ and rz that a
// unit of displacement d causes.
func (e *element) strains(d int) (vol, r, z, t, s float64) {
	c := d / 2
	if d%2 == 0 {
		vol = e.rr[c] + e.hoop[c]
		return vol, e.rr[c] - vol/3, -vol / 3, e.hoop[c] - vol/3, e.zz[c] / 2
	}
	vol = e.zz[c]
	return vol, -vol / 3, vol - vol/3, -vol / 3, e.rr[c] / 2
}
