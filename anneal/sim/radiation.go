package sim

import "math"

// radiation is the radiation inside a piece during a run.
type radiation struct {
	l      *Light
	below  []curve // black emission of each band [W/m²]
	beyond curve   // and of all wavelengths beyond, where the surface radiates
	// of the last rate: emission by band at the nodes and of the kiln, and its
	// slope with temperature
	emits, slope [][]float64
	matrix       *dense
	push         []float64 // γ dt ∂F/∂t of each node: the kiln's slope seen through the surface
}

func newRadiation(l *Light, low, high float64) *radiation {
	bands, n := len(l.optics.Bands), len(l.r)-1
	s := &radiation{l: l, emits: grid(bands, n+2), slope: grid(bands, n+2), matrix: newDense(n + 1), push: make([]float64, n+1)}
	steps := int((high-low)/tableSpacing) + 5
	all := make([][]float64, steps)
	for i := range all {
		all[i] = l.optics.emission(low + tableSpacing*float64(i-1))
	}
	for b := range bands + 1 {
		c := curve{low: low, points: make([][2]float64, steps-2)}
		for i := range c.points {
			c.points[i] = [2]float64{all[i+1][b], (all[i+2][b] - all[i][b]) / 2}
		}
		if b < bands {
			s.below = append(s.below, c)
		} else {
			s.beyond = c
		}
	}
	return s
}

// curve is a smooth function of temperature by cubics between points at even
// spacing: value and slope times spacing. Unlike a table of straight lines it
// leaves the steps their order.
type curve struct {
	low    float64
	points [][2]float64
}

// at returns the value.
func (c *curve) at(kelvin float64) float64 {
	v, _ := c.both(kelvin)
	return v
}

// both returns the value and the slope [per kelvin]. Outside its range the
// last cubic goes on.
func (c *curve) both(kelvin float64) (value, slope float64) {
	x := (kelvin - c.low) * (1 / tableSpacing)
	i := min(max(int(x), 0), len(c.points)-2)
	x -= float64(i)
	p, q := &c.points[i], &c.points[i+1]
	d := q[0] - p[0]
	a, b := p[1]-d, d-q[1]
	y := 1 - x
	return p[0] + x*d + x*y*(y*a+x*b), (d + (y-x)*(y*a+x*b) + x*y*(b-a)) * (1 / tableSpacing)
}

// slopeAt returns the slope [per kelvin].
func (c *curve) slopeAt(kelvin float64) float64 {
	_, s := c.both(kelvin)
	return s
}

// emit finds the emission of the field u and of the kiln.
func (s *radiation) emit(u []float64, kiln float64) {
	for b := range s.below {
		t, e := &s.below[b], s.emits[b]
		for j, k := range u {
			e[j] = t.at(k)
		}
		e[len(u)] = t.at(kiln)
	}
}

// add adds to out [K/s] what the radiation inside brings; caps is 1/(ρ c V).
func (s *radiation) add(out, caps []float64) {
	for b, gain := range s.l.gain {
		e := s.emits[b]
		for i := range out {
			out[i] += caps[i] * dot(gain[i], e)
		}
	}
}

// through returns the heat outward through the cooled face, times its area.
func (s *radiation) through() (sum float64) {
	for b, out := range s.l.out {
		sum += dot(out, s.emits[b])
	}
	return sum
}

// dot is the scalar product, in two sums that need not wait for each other.
func dot(a, b []float64) float64 {
	var even, odd float64
	b = b[:len(a)]
	for len(a) >= 2 && len(b) >= 2 {
		even += a[0] * b[0]
		odd += a[1] * b[1]
		a, b = a[2:], b[2:]
	}
	if len(a) > 0 && len(b) > 0 {
		even += a[0] * b[0]
	}
	return even + odd
}

// jacobian fills the matrix with I − γ dt J from what conduction and the surface have
// put into t, and push with the share of the kiln's slope; g is γ dt.
func (s *radiation) jacobian(t *tridiag, u, caps []float64, g, kiln, kilnRate float64, follows bool) {
	n := len(u) - 1
	for b := range s.below {
		for j, k := range u {
			s.slope[b][j] = s.below[b].slopeAt(k)
		}
		s.slope[b][n+1] = s.below[b].slopeAt(kiln) * kilnRate
	}
	for i := range u {
		row := s.matrix.row(i)
		clear(row)
		s.push[i] = 0
		if !follows || i < n {
			w := g * caps[i]
			for b, gain := range s.l.gain {
				slope, gain := s.slope[b][:n+1], gain[i][:n+1]
				for j, x := range gain {
					row[j] -= w * x * slope[j]
				}
				s.push[i] += w * s.l.gain[b][i][n+1] * s.slope[b][n+1]
			}
		}
		row[i] += t.diag[i]
		if i > 0 {
			row[i-1] += t.lower[i]
		}
		if i < n {
			row[i+1] += t.upper[i]
		}
	}
}

// dense solves A x = b for a diagonally dominant A without pivoting.
type dense struct {
	n int
	a []float64
}

func newDense(n int) *dense { return &dense{n, make([]float64, n*n)} }

func (d *dense) row(i int) []float64 { return d.a[i*d.n : (i+1)*d.n : (i+1)*d.n] }

// factor replaces A by its triangles; the diagonal holds its inverse.
func (d *dense) factor() {
	for k := range d.n {
		pivot := d.row(k)
		inv := 1 / pivot[k]
		pivot[k] = inv
		tail := pivot[k+1:]
		for i := k + 1; i < d.n; i++ {
			row := d.row(i)
			f := row[k] * inv
			row[k] = f
			if f == 0 {
				continue
			}
			rest := row[k+1:][:len(tail)]
			for j, x := range tail {
				rest[j] -= f * x
			}
		}
	}
}

// solve overwrites b with the solution.
func (d *dense) solve(b []float64) {
	for i := 1; i < d.n; i++ {
		b[i] -= dot(d.row(i)[:i], b)
	}
	for i := d.n - 1; i >= 0; i-- {
		row := d.row(i)
		b[i] = (b[i] - dot(row[i+1:], b[i+1:])) * row[i]
	}
}

// fits reports whether the light was traced for a body.
func (l *Light) fits(b Body) bool {
	return l.body.Form == b.Form && math.Abs(l.body.Outer-b.Outer) <= 1e-12*b.Outer && b.Inner == 0
}

// cells returns the number of cells a run with this light has, whatever its
// [Settings].
func (l *Light) cells() int { return len(l.r) - 1 }
