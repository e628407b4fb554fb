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
	node   [4]int
	volume float64    // ∫ r dA [m³]
	center Point      // of the volume
	share  [4]float64 // weight of each corner in the mean temperature
	flow   [4][4]float64
	rr, zz [4]float64 // mean ∂N/∂r and ∂N/∂z: ε_r, ε_z, and both in 2 ε_rz
	hoop   [4]float64 // mean N/r: ε_θ
	bulk   [36]float64
	shear  [36]float64 // stiffness by K and by G, lower triangle of 8 × 8, r and z of each corner in turn
}

// stabilizing is the share of an element's stiffness against bending that
// stands against the motions its mean strain does not see.
const stabilizing = 0.1

var gauss = [2]float64{-1 / math.Sqrt(3), 1 / math.Sqrt(3)}

// corner signs of the reference square
var signXi, signEta = [4]float64{-1, 1, 1, -1}, [4]float64{-1, -1, 1, 1}

func newElement(g *grid, q [4]int) element {
	e := element{node: q}
	var x [4]Point
	for c, n := range q {
		x[c] = g.node[n]
	}
	var area float64
	var planeR, planeZ [4]float64 // ∫ ∂N/∂r dA, ∫ ∂N/∂z dA
	type sample struct {
		w, r   float64
		dr, dz [4]float64
		hr, hz float64 // gradient of ξη
	}
	var samples []sample
	for _, xi := range gauss {
		for _, eta := range gauss {
			var n, dXi, dEta [4]float64
			var jac [2][2]float64
			var at Point
			for c := range x {
				n[c] = (1 + signXi[c]*xi) * (1 + signEta[c]*eta) / 4
				dXi[c] = signXi[c] * (1 + signEta[c]*eta) / 4
				dEta[c] = signEta[c] * (1 + signXi[c]*xi) / 4
				jac[0][0] += dXi[c] * x[c].R
				jac[0][1] += dXi[c] * x[c].Z
				jac[1][0] += dEta[c] * x[c].R
				jac[1][1] += dEta[c] * x[c].Z
				at.R += n[c] * x[c].R
				at.Z += n[c] * x[c].Z
			}
			det := jac[0][0]*jac[1][1] - jac[0][1]*jac[1][0]
			s := sample{w: det, r: at.R}
			grad := func(a, b float64) (r, z float64) {
				return (jac[1][1]*a - jac[0][1]*b) / det, (jac[0][0]*b - jac[1][0]*a) / det
			}
			for c := range x {
				s.dr[c], s.dz[c] = grad(dXi[c], dEta[c])
				e.share[c] += n[c] * at.R * det
				e.hoop[c] += n[c] * det
				e.rr[c] += s.dr[c] * at.R * det
				e.zz[c] += s.dz[c] * at.R * det
				planeR[c] += s.dr[c] * det
				planeZ[c] += s.dz[c] * det
			}
			s.hr, s.hz = grad(eta, xi)
			area += det
			e.volume += at.R * det
			e.center.R += at.R * at.R * det
			e.center.Z += at.Z * at.R * det
			samples = append(samples, s)
		}
	}
	e.center.R /= e.volume
	e.center.Z /= e.volume
	var hrr, hzz float64
	for _, s := range samples {
		for i := range 4 {
			for j := range 4 {
				e.flow[i][j] += (s.dr[i]*s.dr[j] + s.dz[i]*s.dz[j]) * s.r * s.w
			}
		}
		hrr += s.hr * s.hr * s.r * s.w
		hzz += s.hz * s.hz * s.r * s.w
	}
	for c := range 4 {
		e.share[c] /= e.volume
		e.hoop[c] /= e.volume
		e.rr[c] /= e.volume
		e.zz[c] /= e.volume
	}
	e.stiffness(x, planeR, planeZ, area, hrr, hzz)
	return e
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
