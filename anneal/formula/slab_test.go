package formula

import (
	"testing"

	"lehr/glass/unit"
)

// The temperature of a slab at a steady rate solves κ T″ = q with T′ = 0 in the
// middle; its stress is the temperature less its mean, times −Eα/(1−ν).
func TestSlab_rederived(t *testing.T) {
	const half, q = 0.0125, -0.01
	temp := func(x float64) float64 { return q * x * x / (2 * sodaKappa) } // x from the middle, middle at 0
	mean := integral(temp, 0, half) / half
	close(t, "lag", float64(SlabLag(half, q, sodaKappa)), temp(0)-temp(half), 1e-12)
	close(t, "mean lag", float64(SlabMeanLag(half, q, sodaKappa)), mean-temp(half), 1e-12)
	close(t, "one face", float64(SlabOneFaceLag(half, q, sodaKappa)), temp(0)-temp(half), 1e-12)
	for _, x := range []float64{0, 0.3, 0.7, 1} {
		want := -float64(soda.PerKelvin()) * (temp(x*half) - mean)
		close(t, "stress", float64(SlabStress(half, x, q, sodaKappa, soda)), want, 1e-12)
	}
	close(t, "sudden drop", float64(soda.PerKelvin())*float64(SuddenDropLimit(7*unit.Megapascal, soda)), 7e6, 1e-12)
}

func TestSlabOneFaceFree_hasNoResultantOrMoment(t *testing.T) {
	at := func(x float64) float64 { return SlabOneFaceFreeStress(0.025, x, -0.01, sodaKappa, soda).Megapascals() }
	if sum := integral(at, 0, 1); sum > 1e-12 || sum < -1e-12 {
		t.Errorf("resultant %g", sum)
	}
	if moment := integral(func(x float64) float64 { return x * at(x) }, 0, 1); moment > 1e-12 || moment < -1e-12 {
		t.Errorf("moment %g", moment)
	}
	close(t, "faces", at(1), SlabStress(0.0125, 1, -0.01, sodaKappa, soda).Megapascals(), 1e-12)
}

// Heating turns every stress around.
func TestSlab_heatingIsTheMirror(t *testing.T) {
	if SlabStress(0.01, 0, 0.1, sodaKappa, soda) <= 0 || SlabStress(0.01, 1, 0.1, sodaKappa, soda) >= 0 {
		t.Error("a heated slab must be in tension in the middle")
	}
	q := SlabHeatingLimit(0.01, 7*unit.Megapascal, sodaKappa, soda)
	close(t, "middle at the heating limit", SlabStress(0.01, 0, q, sodaKappa, soda).Megapascals(), 7, 1e-12)
	q = SlabCoolingLimit(0.01, 7*unit.Megapascal, sodaKappa, soda)
	close(t, "face at the cooling limit", SlabStress(0.01, 1, q, sodaKappa, soda).Megapascals(), 7, 1e-12)
	face, middle := slabResidual(0.01, q, sodaKappa, soda)
	close(t, "left at the face", face.Megapascals(), -7, 1e-12)
	close(t, "left in the middle", middle.Megapascals(), 3.5, 1e-12)
}
