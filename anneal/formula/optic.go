package formula

import (
	"math"

	"lehr/glass/unit"
)

// Nanometer is the unit of retardation.
const Nanometer = unit.Length(1e-9)

// RealTemper returns the temper number of a container bottom reduced to the
// reference thickness.
//
// apparent is the number read; thickness is the full thickness where it was
// read.
//
//	T_R = T_A · 4.06 mm/t
//
// Valid: annealed containers, t where the retardation is greatest.
//
// Source: astm-c148, method A [verified in catalog copies].
//
// Checked: testdata/cases/astm-c148.toml
func RealTemper(apparent float64, thickness unit.Length) float64 {
	positive("thickness", float64(thickness))
	return apparent * 4.06 / thickness.Millimeters()
}

// TemperFromRotation returns the apparent temper number for the rotation of the
// analyzer [degrees] at which the dark spot clears: 1 up to 7.3°, 10 up to
// 72.6°. It returns 0 for a rotation beyond the table.
//
// Valid: 0° to 72.6°, light of 565 nm.
//
// Source: astm-c148, method B table [verified].
//
// Checked: testdata/cases/astm-c148.toml
func TemperFromRotation(degrees float64) int {
	notNegative("rotation", degrees)
	for i, upTo := range [...]float64{7.3, 14.5, 21.8, 29.0, 36.3, 43.6, 50.8, 58.1, 65.4, 72.6} {
		if degrees <= upTo {
			return i + 1
		}
	}
	return 0
}

// RotationRetardation returns the retardation for a rotation of the analyzer
// [degrees] behind a quarter-wave plate.
//
// wavelength is that of the light.
//
//	R = λ θ/180°
//
// Valid: 0° to 180°.
//
// Source: astm-f218, analyzer rotation [memory; a half turn is one wavelength].
//
// Checked: testdata/cases/astm-c148.toml
func RotationRetardation(degrees float64, wavelength unit.Length) unit.Length {
	return wavelength * unit.Length(degrees/180)
}

// TemperRetardation returns the retardation of an apparent temper number, that
// is, of a stack of so many strain discs: 22.8 nm each.
//
// Valid: numbers 0 to 10.
//
// Source: astm-c148, method B table [derived: 565 nm × 72.6°/180°/10].
//
// Checked: testdata/cases/astm-c148.toml
func TemperRetardation(number float64) unit.Length {
	return RotationRetardation(7.26*number, 565*Nanometer)
}

// StressRetardation returns the retardation that a stress difference causes
// along a light path.
//
// stress is the difference of the two principal stresses across the path, path
// its length through the glass, stressOptic the stress-optical coefficient
// [1/Pa]; 1 brewster is 1e-12 1/Pa.
//
//	R = C (σ₁ − σ₂) s
//
// Valid: stress constant along the path.
//
// Source: iso10110, introduction: optical path difference [verified].
//
// Checked: testdata/cases/iso10110.toml
func StressRetardation(stress unit.Stress, path unit.Length, stressOptic float64) unit.Length {
	positive("stress-optical coefficient", stressOptic)
	return unit.Length(stressOptic * float64(stress) * float64(path))
}

// RetardationStress returns the stress difference that causes a retardation
// along a light path: the inverse of [StressRetardation].
//
// path is the length through the glass; stressOptic is in 1/Pa.
//
//	σ₁ − σ₂ = R/(C s)
//
// Valid: stress constant along the path.
//
// Source: iso10110, introduction: optical path difference [verified].
//
// Checked: testdata/cases/iso10110.toml
func RetardationStress(retardation, path unit.Length, stressOptic float64) unit.Stress {
	positive("stress-optical coefficient", stressOptic)
	positive("path", float64(path))
	return unit.Stress(float64(retardation) / (stressOptic * float64(path)))
}

// SlabRetardation returns the retardation of a slab with a parabolic stress
// profile, looked at through its edge. Through its faces it shows none.
//
// place runs from 0 (middle) to 1 (face); surface is the stress at the faces
// (negative in an annealed slab); path is the length of glass the light crosses.
//
//	R = C · σ_surface · (3 x² − 1)/2 · s
//
// Valid: stress in both directions of the plane alike; the rim itself, about
// one thickness deep at either end of the path, carries less.
//
// Source: iso10110, introduction: optical path difference [derived in optic_test.go].
//
// Checked: testdata/cases/derived.toml
func SlabRetardation(place float64, surface unit.Stress, path unit.Length, stressOptic float64) unit.Length {
	fraction("place", place)
	return StressRetardation(surface*unit.Stress((3*place*place-1)/2), path, stressOptic)
}

// SphereRetardation returns the retardation of a sphere with a parabolic stress
// profile along a line of sight that passes its center at some offset.
//
// radius is half the diameter; offset is the distance of the line from the
// center; surface is the hoop stress at the surface (negative in an annealed
// sphere), so that σ_hoop − σ_radial = surface · ρ²; stressOptic is in 1/Pa.
//
//	R = C · surface · 2 b² √(R² − b²)/R²
//
// Through the center there is none. The greatest, C · surface · R · 4/(3√3) =
// 0.7698 C · surface · R, is seen at b = R √(2/3).
//
// Valid: 0 ≤ b ≤ R, straight rays (the sphere in a liquid of its own index, or
// allowance made for bending of light).
//
// Source: iso10110, introduction: optical path difference [derived in optic_test.go].
//
// Checked: testdata/cases/derived.toml
func SphereRetardation(radius, offset unit.Length, surface unit.Stress, stressOptic float64) unit.Length {
	positive("radius", float64(radius))
	b := math.Abs(float64(offset / radius))
	fraction("offset/radius", b)
	// Across the ray the principal stresses differ by (σ_θ − σ_r) b²/r² = surface · b²/R²:
	// the same all along it.
	path := unit.Length(2 * math.Sqrt(1-b*b) * float64(radius))
	return StressRetardation(surface*unit.Stress(b*b), path, stressOptic)
}
