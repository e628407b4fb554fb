package formula

import (
	"testing"
	"time"

	"lehr/glass/casetest"
	"lehr/glass/unit"
)

// What the closed forms say of the cases of the relaxation solver: its result
// with structural relaxation off, and the published share of it.
func TestLeft_agreesWithTheSolver(t *testing.T) {
	cases := map[string]casetest.Case{}
	for _, c := range casetest.Load(t, "viscoelastic") {
		cases[c.ID] = c
	}
	e := Elastic{Young: 70e9, Poisson: 0.22, Expansion: 9e-6}
	k := cases["k-and-cp-soda-lime"].Expected.Float("kappa_m2_s")

	c := cases["plate-anneal-structure-off"]
	surface, middle := slabResidual(millimeters(c.Inputs, "thickness_mm")/2, unit.Rate(-c.Inputs.Float("surface_rate_K_s")), k, e)
	if msg := c.Judge(vals{"center_MPa": mpa(middle), "surface_MPa": mpa(surface)}); msg != "" {
		t.Error(msg)
	}
	c = cases["sphere-anneal-structure-on"]
	_, center := sphereResidual(millimeters(c.Inputs, "D_mm")/2, unit.Rate(-c.Inputs.Float("surface_rate_K_s")), k, e)
	close(t, "sphere, structure off", mpa(center), c.Expected.Float("structure_off_MPa"), c.Tolerance.Rel)
	close(t, "sphere, structure on", mpa(center)*StructuralFactor(9.1e-6, 25.1e-6), c.Expected.Float("center_MPa"), 0.06)

	c = cases["structural-share-linear-annealing"]
	close(t, "structural share", StructuralShare(), c.Expected.Float("share_of_residual_from_structural_relaxation"), 1e-12)
}

// The six terms are those of the source.
func TestSixTerms_areThoseOfTheSource(t *testing.T) {
	for _, c := range casetest.Load(t, "viscoelastic") {
		switch c.ID {
		case "prony-soda-lime":
			for i, w := range c.Expected.Floats("shear_weights") {
				close(t, "weight", sixWeights[i], w, 1e-12)
			}
			for i, τ := range c.Expected.Floats("shear_tau_s") {
				close(t, "time", sixTimes[i], τ, 1e-12)
			}
		case "prony-sums":
			close(t, "mean", sixMean(), c.Expected.Float("mean_shear_tau_s"), 1e-4)
		}
	}
	for _, share := range []float64{0, 0.3, 0.9, 0.99, 0.99999} {
		close(t, "there and back", SixTermRelaxed(SixTermSoak(share, time.Hour), time.Hour), share, 1e-9)
	}
}
