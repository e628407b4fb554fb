package formula

import (
	"math"
	"testing"
)

// spread integrates the heat equation with 100 shells by plain explicit steps,
// nothing in common with the series: the surface steps (rate 0) or ramps. It
// returns middle and mean, less the surface, at the Fourier number.
func spread(m int, fo, rate float64) (middle, mean float64) {
	const n = 100
	dx, start := 1.0/n, 1.0
	if rate != 0 {
		start = 0
	}
	T := make([]float64, n)
	for i := range T {
		T[i] = start
	}
	steps := int(math.Ceil(fo / (0.4 * dx * dx)))
	dt := fo / float64(steps)
	area := func(r float64) float64 { return math.Pow(r, float64(m)) }
	volume := func(i int) float64 {
		p := float64(m + 1)
		return (math.Pow(float64(i+1)*dx, p) - math.Pow(float64(i)*dx, p)) / p
	}
	for s := range steps {
		surface := rate * float64(s) * dt
		flow := make([]float64, n+1)
		for i := 1; i < n; i++ {
			flow[i] = area(float64(i)*dx) * (T[i] - T[i-1]) / dx
		}
		flow[n] = area(1) * (surface - T[n-1]) / (dx / 2)
		for i := range T {
			T[i] += dt * (flow[i+1] - flow[i]) / volume(i)
		}
	}
	surface, whole := rate*fo, 0.0
	for i := range T {
		mean += (T[i] - surface) * volume(i)
		whole += volume(i)
	}
	return T[0] - surface, mean / whole
}

func TestStepAndStartUp_rederived(t *testing.T) {
	step := []func(float64) (float64, float64){SlabStep, CylinderStep, SphereStep}
	start := []func(float64) (float64, float64){SlabStartUp, CylinderStartUp, SphereStartUp}
	steadyLag, steadyMean := []float64{2, 4, 6}, []float64{3, 8, 15}
	for m := range step {
		for _, fo := range []float64{0.02, 0.1, 0.4} {
			middle, mean := step[m](fo)
			gotMiddle, gotMean := spread(m, fo, 0)
			close(t, "step, middle", gotMiddle, middle, 2e-3)
			close(t, "step, mean", gotMean, mean, 2e-3)
			lag, stress := start[m](fo)
			gotMiddle, gotMean = spread(m, fo, -1)
			close(t, "ramp, middle", gotMiddle*steadyLag[m], lag, 5e-3)
			close(t, "ramp, mean", gotMean*steadyMean[m], stress, 5e-3)
		}
	}
}

// The series and the short-time expansions meet where one takes over.
func TestStep_shortTimes(t *testing.T) {
	for name, f := range map[string]func(float64) (float64, float64){"slab": SlabStep, "cylinder": CylinderStep, "sphere": SphereStep} {
		_, series := f(shortTime)
		_, short := f(shortTime * (1 - 1e-9))
		close(t, name, short, series, 3e-5)
		if middle, mean := f(0); middle != 1 || mean != 1 {
			t.Errorf("%s at once: %g %g, want 1 1", name, middle, mean)
		}
		if middle, mean := f(50); middle > 1e-12 || mean > 1e-12 {
			t.Errorf("%s after long: %g %g, want 0 0", name, middle, mean)
		}
	}
	for name, f := range map[string]func(float64) (float64, float64){"slab": SlabStartUp, "cylinder": CylinderStartUp, "sphere": SphereStartUp} {
		if lag, stress := f(0); lag > 1e-3 || stress > 1e-3 {
			t.Errorf("%s at once: %g %g, want 0 0", name, lag, stress)
		}
	}
}

// Zeros of J0 from the tables.
func TestBesselZero(t *testing.T) {
	for n, want := range map[int]float64{1: 2.404825557695773, 2: 5.520078110286311, 5: 14.930917708487785, 20: 62.048469190227170} {
		close(t, "zero", besselZero(n), want, 1e-14)
	}
}
