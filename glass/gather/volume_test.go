package gather

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"lehr/glass/unit"
)

func sqrt(x float64) float64 { return math.Sqrt(x) }

// sum adds up a body of rotation by discs, given its radius at each height.
func sum(height float64, radius func(float64) float64) float64 {
	return quad.Fixed(func(z float64) float64 { r := radius(z); return math.Pi * r * r }, 0, height, 40, quad.Legendre{}, 0)
}

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if math.Abs(got-want) > rel*math.Abs(want) {
		t.Errorf("%s: got %.9g, want %.9g", what, got, want)
	}
}

// Every volume agrees with the sum of the discs it is made of.
func TestVolumes_summed(t *testing.T) {
	ball := func(d float64) func(float64) float64 {
		return func(z float64) float64 { return sqrt(max(0, z*(d-z))) }
	}
	near(t, "sphere", sphereVolume(0.05), sum(0.05, ball(0.05)), 1e-9)
	near(t, "cap", capVolume(0.0635, 0.018), sum(0.018, ball(0.0635)), 1e-9)
	near(t, "frustum", frustumVolume(0.04, 0.02, 0.025), sum(0.025, func(z float64) float64 { return 0.02 - 0.01*z/0.025 }), 1e-9)
	near(t, "shell", shellVolume(0.0635, 0.003), sum(0.0635, ball(0.0635))-sum(0.0575, ball(0.0575)), 1e-9)
	for text, want := range map[string]float64{
		"rod 10mm x 200mm":           sum(0.2, func(float64) float64 { return 0.005 }),
		"disc 75mm x 25mm":           sum(0.025, func(float64) float64 { return 0.0375 }),
		"slab 200mm x 150mm x 20mm":  0.2 * 0.15 * 0.02,
		"tube 38mm x 100mm wall 4mm": sum(0.1, func(float64) float64 { return 0.019 }) - sum(0.1, func(float64) float64 { return 0.015 }),
		"tube 38mm wall 4mm x 100mm": sum(0.1, func(float64) float64 { return 0.019 }) - sum(0.1, func(float64) float64 { return 0.015 }),
		// A dome of 75 × 25 mm is cut from a sphere of (37.5² + 25²)/25 mm.
		"dome 75mm x 25mm raised": sum(0.025, ball((0.0375*0.0375+0.025*0.025)/0.025)),
		"pendant 50mm x 20mm":     2 * sum(0.01, ball((0.025*0.025+0.01*0.01)/0.01)),
		"cap 63.5mm x 18mm":       sum(0.018, ball(0.0635)),
		"cone 30mm x 40mm":        sum(0.04, func(z float64) float64 { return 0.015 * z / 0.04 }),
		"shell 63.5mm wall 3mm":   shellVolume(0.0635, 0.003),
		"2.5 spheres":             -1, "sphere": -1, "sphere 2.5": -1, "sphere 25m": -1, "cone 30mm": -1, "blob 3in": -1,
		"tube 10mm x 20mm": -1, "sphere 10mm wall 2mm": shellVolume(0.010, 0.002), "sphere 10mm wall 5mm": -1, "tube 10mm x 20mm wall 5mm": -1, "dome 20mm x 30mm": -1,
		"cap 20mm x 30mm": -1, "": -1,
	} {
		b, err := ParseBody(text)
		switch {
		case want < 0 && err == nil:
			t.Errorf("%q: read as %v", text, b)
		case want >= 0 && err != nil:
			t.Errorf("%q: %v", text, err)
		case want >= 0:
			near(t, text, b.Volume, want, 1e-9)
		}
	}
}

func TestFirstOrder(t *testing.T) {
	// A step of the volume itself.
	m, d, step := unit.Mass(sphereVolume(0.0635)*2230), unit.Length(0.0635), unit.Length(1e-6)
	near(t, "mass", float64(MassTolerance(m, d, step)), 2230*(sphereVolume(d+step)-sphereVolume(d)), 1e-4)
	long := rodLength(sphereVolume(d), 0.01)
	off := sphereDiameter(frustumVolume(0.01+1e-7, 0.01+1e-7, long)) - d
	near(t, "size", float64(sizeTolerance(d, 0.01, 1e-7)), float64(off), 1e-4)
}

func TestCapHeight_inverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(0, 1).Draw(t, "share")
		if got := capShare(capHeight(f)); math.Abs(got-f) > 1e-12 {
			t.Errorf("share %g comes back as %g", f, got)
		}
		v := rapid.Float64Range(1e-9, 1).Draw(t, "volume")
		if got := sphereVolume(sphereDiameter(v)); math.Abs(got-v) > 1e-12*v {
			t.Errorf("volume %g comes back as %g", v, got)
		}
	})
}

func TestWeighedDensity_refuses(t *testing.T) {
	for _, m := range [][2]unit.Mass{{1, 1}, {1, 2}, {1, 0}, {0, 0}, {unit.Mass(math.NaN()), 1}, {1, 0.9999999999}, {1, 0.91}} {
		if _, _, err := WeighedDensity(m[0], m[1]); err == nil {
			t.Errorf("%v: accepted", m)
		}
	}
}
