package sim

// Shape is a body that is none of the three forms: RunShape steps its
// temperatures and relaxes its glass as Run does, and leaves to it where heat
// flows and how stress balances. Packages plane and axial have theirs. A Shape
// serves one run at a time.
type Shape interface {
	// Prepare takes the problem, its defaults filled in, and conductivity
	// [W/mK] and specific heat [J/kgK] by temperature [K]. It returns the
	// temperatures at the start [K], the number of points at which glass
	// relaxes, that of independent deviatoric stresses a point has, and the
	// time in which the slowest part of the body evens out [s].
	Prepare(p *Problem, k, c func(kelvin float64) float64) (start []float64, points, components int, slowest float64)
	// Rate puts dT/dt [K/s] at the temperatures temp into out.
	Rate(temp, out []float64, kiln, kilnRate float64)
	// Factor prepares Solve for the matrix I − g ∂rate/∂temp [g in s] and puts
	// g ∂rate/∂kiln kilnRate into slope [K/s].
	Factor(temp []float64, g, kiln, kilnRate float64, slope []float64)
	// Solve overwrites b with the solution.
	Solve(b []float64)
	// Points puts the temperature of each point into out [K].
	Points(temp []float64, kiln float64, out []float64)
	// Section returns what shall hold the stiffness along one viscosity curve.
	Section() Section
	// Look is called after each step with the state of each variant, and
	// returns the greatest tension [Pa] and a number for its place.
	Look(v Look) (tension, place float64)
}

// Section balances the stress of a Shape.
type Section interface {
	// Stiffen takes the bulk and shear modulus of the step [Pa], by point.
	Stiffen(bulk, shear []float64)
	// Balance finds the strain of the step and books it by Points.Shear and
	// Points.Volume.
	Balance(p *Points)
}

// Look is the state after a step.
type Look struct {
	Variant    int
	Time, Kiln float64 // [s], [K]
	Span       int     // index of the kink that ends the span
	Temp       []float64
	Stress     *Points
	AtRoom     bool // the piece has come to room temperature after the program
}

// Points is the stress of one variant at the points of a Shape. The slices are
// the simulation's own.
type Points struct {
	// BeforeMean and BeforeShear are mean stress and deviators relaxed over the
	// step, before its strain [Pa]; deviators point by point. Thermal is the
	// thermal strain of the step, structural part included.
	BeforeMean, BeforeShear, Thermal []float64
	// Mean and Deviator are the stress after what has been booked [Pa].
	Mean, Deviator []float64
	f              *field
}

// Shear books the increment of deviatoric strain d of a point.
func (p *Points) Shear(point, d int, strain float64) {
	p.f.shear(point, point*p.f.comps+d, strain)
}

// Volume books the increment of volume strain of a point.
func (p *Points) Volume(point int, strain float64) { p.f.volumetric(point, strain) }

// Flux returns the heat flux from kiln into a surface [W/m²] and its slope with
// the surface temperature [W/m²K]. It is not for a surface that follows.
func (s Surface) Flux(kiln, surface float64) (flux, slope float64) {
	es := s.Emissivity * StefanBoltzmann
	k2, s2 := kiln*kiln, surface*surface
	return s.HeatTransfer*(kiln-surface) + es*(k2*k2-s2*s2), -s.HeatTransfer - 4*es*s2*surface
}

// RunShape simulates the problem for a body of the caller's own; the problem's
// Body is checked and otherwise not used, nor is Settings.Cells or Record.
// Result.Outcomes have no Residual, PeakRho is the shape's number for the place,
// FictiveCenter and FictiveSurface are those of the first and last point.
// Errors as for Run.
func RunShape(p Problem, s Settings, shape Shape) (Result, error) {
	if p.Light != nil {
		return Result{}, bad("radiation inside the glass is known for slab and sphere only, not for another shape")
	}
	return simulate(p, s, shape)
}

// other stands for a Shape's field of temperature.
type other struct {
	Shape
	kiln  float64 // at the end of the step last tried [K]
	slope []float64
}

func newShapeHeat(p *Problem, shape Shape, low, high float64) (*heat, int) {
	h := &heat{p: p, other: &other{Shape: shape, kiln: p.Kiln.At(0)}}
	h.k, h.c = tabulate(p.Material.Conductivity, low, high), tabulate(p.Material.SpecificHeat, low, high)
	start, points, comps, slowest := shape.Prepare(p, h.k.at, h.c.at)
	h.slowest = slowest
	h.temp = start
	h.trial = make([]float64, len(start))
	h.other.slope = make([]float64, len(start))
	for i := range h.stage {
		h.stage[i] = make([]float64, len(start))
	}
	h.n = points - 1
	h.mean, h.was = make([]float64, points), make([]float64, points)
	return h, comps
}

// stepOther is step for a Shape.
func (h *heat) stepOther(t, dt float64) (err float64) {
	o := h.other
	k0, kEnd := h.p.Kiln.At(t), h.p.Kiln.At(t+dt)
	kilnRate := (kEnd - k0) / dt
	g := rosGamma * dt
	o.Factor(h.temp, g, k0, kilnRate, o.slope)
	for i := range h.stage {
		u := h.stage[i]
		kiln := k0
		copy(h.trial, h.temp)
		for j := range i {
			if a := rosA[i][j]; a != 0 {
				for l, x := range h.stage[j] {
					h.trial[l] += a * x
				}
			}
		}
		if i > 0 {
			kiln = h.p.Kiln.At(t + rosAlpha[i]*dt)
		}
		o.Rate(h.trial, u, kiln, kilnRate)
		for l := range u {
			u[l] = g*u[l] + o.slope[l]*rosSum[i]*dt
		}
		for j := range i {
			if c := rosC[i][j]; c != 0 {
				for l, x := range h.stage[j] {
					u[l] += c * x
				}
			}
		}
		o.Solve(u)
	}
	err = h.combine()
	if h.p.Surface.Follows {
		err = max(err, h.sag(t, dt))
	}
	o.kiln = kEnd
	return err
}

// points is the state of a field as a Shape sees it.
func (f *field) points() *Points {
	return &Points{BeforeMean: f.hM, BeforeShear: f.hS, Thermal: f.eth, Mean: f.mean, Deviator: f.devSum, f: f}
}
