package glass

import (
	"math"
	"testing"
)

// emits returns the hemispherical emissivity of an opaque body with a specular
// surface, by Fresnel's laws for its index.
func emits(n float64) float64 {
	const steps = 4000
	sum := 0.0
	for i := range steps {
		mu := (float64(i) + 0.5) / steps // cosine to the normal
		inner := math.Sqrt(1 - (1-mu*mu)/(n*n))
		s, p := (mu-n*inner)/(mu+n*inner), (n*mu-inner)/(n*mu+inner)
		sum += (1 - (s*s+p*p)/2) * 2 * mu / steps
	}
	return sum
}

// below returns the share of what a black body gives off below a wavelength [m].
func below(wavelength, kelvin float64) float64 {
	const c2 = 0.01438777 // m K
	z, sum := c2/(wavelength*kelvin), 0.0
	for n := 1.0; n < 60; n++ {
		sum += math.Exp(-n*z) * (z*z*z/n + 3*z*z/(n*n) + 6*z/(n*n*n) + 6/(n*n*n*n))
	}
	return 15 / math.Pow(math.Pi, 4) * sum
}

// TestEmissivity_derivation: two bands, Fresnel's laws at the short waves and
// at the long ones what makes the 0.84 of float at 24 °C, give what the table
// states for hot opaque glass, wherever between 5 and 8 µm they part.
func TestEmissivity_derivation(t *testing.T) {
	if e := emits(1.45); math.Abs(e-0.9156) > 0.0002 { // 1 − the reflectance integrated elsewhere
		t.Errorf("index 1.45: %.4f, want 0.9156", e)
	}
	if f := below(2897.77e-6/300, 300); math.Abs(f-0.25005) > 1e-4 { // a quarter lies below the peak
		t.Errorf("below the peak: %.5f, want 0.25005", f)
	}
	measured := mustFind(t, "float").Emissivity
	if measured.Status != Verified || measured.Number != 0.84 {
		t.Fatalf("float: %+v", measured)
	}
	for _, g := range Builtin() {
		e := g.Emissivity
		if e.Status == Memory {
			t.Errorf("%s: emissivity %s rests on memory alone", g.Name, e.Text)
		}
		if e.Status != Derived {
			continue
		}
		for _, index := range []float64{1.45, g.Refractive.Number} {
			for _, part := range []float64{5e-6, 6e-6, 7e-6, 8e-6} {
				short := emits(index)
				cold := below(part, 297)
				long := (measured.Number - cold*short) / (1 - cold)
				for _, celsius := range []float64{300, 450, 600} {
					hot := below(part, celsius+273.15)
					if got := hot*short + (1-hot)*long; math.Abs(got-e.Number) > e.Spread {
						t.Errorf("%s: %.3f at %g °C with index %g parting at %g µm, the table has %s", g.Name, got, celsius, index, part*1e6, e.Text)
					}
				}
			}
		}
	}
}
