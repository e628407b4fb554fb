package seal

import (
	"errors"
	"fmt"
	"math"

	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/unit"
)

// relaxingShell is a shell of a layered sphere with what lets its stress relax.
type relaxingShell struct {
	Shell
	// Curve is its viscosity, nil for a solid that does not flow.
	Curve *glass.Curve
	// Terms is the relaxation of shear, times relative to η/G (default one
	// Maxwell term).
	Terms []sim.Term
}

// cooled is a layered sphere after a history.
type cooled struct {
	Shells []ShellStress // one for each layer, from the core outward
	ball   *ball
}

// at returns radial and hoop stress in layer i at a radius inside it.
func (c cooled) at(i int, radius unit.Length) (radial, hoop unit.Stress) {
	return c.ball.at(i, float64(radius))
}

// coolSphere follows a layered sphere of even temperature through a history and
// returns the stress at its end. Each layer relaxes along its own viscosity:
// shear by its terms, bulk not at all. It begins without stress. Unlike
// [LayeredSphere] it needs no setting temperature; the two are second opinions
// of each other.
//
// Structure is taken to follow temperature: glasses whose transformation lies
// apart shrink apart a little more than this.
//
// Errors: those of [History.check], and weights that do not sum to one.
func coolSphere(shells []relaxingShell, h History) (cooled, error) {
	if err := h.check(); err != nil {
		return cooled{}, err
	}
	plain := make([]Shell, len(shells))
	for i, s := range shells {
		plain[i] = s.Shell
	}
	b := newBall(plain)
	m, err := newMemory(b, shells)
	if err != nil {
		return cooled{}, err
	}
	const most = 2e6 // substeps
	count := 0
	for i := 1; i < len(h.Seconds); i++ {
		k0, dT := h.Kelvin[i-1], h.Kelvin[i]-h.Kelvin[i-1]
		dt := h.Seconds[i] - h.Seconds[i-1]
		n := int(math.Max(math.Abs(dT)/0.5, math.Min(400, m.fastest(k0, k0+dT)*dt/0.05))) + 1
		if count += n; count > most {
			return cooled{}, fmt.Errorf("history: needs more than %.0g steps", most)
		}
		for j := range n {
			f := 1 / float64(n)
			m.step(k0+dT*f*float64(j), k0+dT*f*float64(j+1), dt*f)
			b.shrinkAll(-dT * f)
			b.solve()
			m.accept()
		}
	}
	return cooled{b.stresses(), b}, nil
}

// memory is what each layer remembers of its shear, by term.
type memory struct {
	ball   *ball
	shells []relaxingShell
	terms  [][]sim.Term
	pulls  [][]float64 // deviatoric strain that still pulls
	part   [][]float64
	was    []float64 // b before the step
}

func newMemory(b *ball, shells []relaxingShell) (*memory, error) {
	m := &memory{ball: b, shells: shells, was: make([]float64, len(shells))}
	for i, s := range shells {
		terms := s.Terms
		if terms == nil {
			terms = []sim.Term{{Weight: 1, Time: 1}}
		}
		sum := 0.0
		for _, t := range terms {
			if !(t.Weight >= 0) || !(t.Time > 0) {
				return nil, fmt.Errorf("layer %d: relaxation: weights and times must be positive", i+1)
			}
			sum += t.Weight
		}
		if math.Abs(sum-1) > 1e-6 {
			return nil, errors.New("relaxation: weights must sum to one")
		}
		m.terms = append(m.terms, terms)
		m.pulls = append(m.pulls, make([]float64, len(terms)))
		m.part = append(m.part, make([]float64, len(terms)))
	}
	return m, nil
}

// fastest returns the greatest rate of relaxation of any layer that still
// counts, in the middle of a step [1/s].
func (m *memory) fastest(from, to float64) float64 {
	most := 0.0
	for i, s := range m.shells {
		if s.Curve != nil {
			most = math.Max(most, reduced(*s.Curve, m.ball.shear[i], from, to))
		}
	}
	return most
}

// step prepares the equations of a step in time.
func (m *memory) step(from, to, dt float64) {
	b := m.ball
	for i, s := range m.shells {
		ξ := 0.0
		if s.Curve != nil {
			ξ = reduced(*s.Curve, b.shear[i], from, to) * dt
		}
		b.stiff[i], b.held[i] = 0, 0
		m.was[i] = b.b[i]
		for j, t := range m.terms[i] {
			left, share := decayed(ξ / t.Time)
			m.pulls[i][j] *= left
			m.part[i][j] = t.Weight * share
			b.stiff[i] += m.part[i][j]
			b.held[i] += m.pulls[i][j]
		}
		b.held[i] -= b.stiff[i] * m.was[i]
	}
}

// accept takes the strains that were found into the memory.
func (m *memory) accept() {
	for i := range m.shells {
		d := m.ball.b[i] - m.was[i]
		for j := range m.pulls[i] {
			m.pulls[i][j] += m.part[i][j] * d
		}
	}
}
