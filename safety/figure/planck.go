package figure

import (
	"math"

	"lehr/glass/unit"
)

// Constants of radiation.
//
// Source: SI definitions of 2019 (σ and c₂ follow from exact constants) [derived].
const (
	stefanBoltzmann = 5.670374419e-8 // σ [W/(m²·K⁴)]
	radiationC2     = 1.438776877e-2 // c₂ [m·K]
)

// The infrared band of the limits for cornea and lens.
const (
	bandLow  = 0.78e-6 // [m]
	bandHigh = 3.0e-6  // [m]
)

// blackFraction returns the share of a black body's radiation that lies below
// a wavelength, as a function of wavelength times temperature [m·K].
//
//	F(λT) = 15/π⁴ Σ e^(−n x) (x³/n + 3x²/n² + 6x/n³ + 6/n⁴),  x = c₂/(λT)
//
// Valid: 1e-4 to 1 m·K (100 to 1 000 000 µm·K); *InputError outside. The sum
// runs to 1e-15 of its value, within 4000 terms.
//
// Source: mech-handbook, vol. 4, Table 16, p. 183 for the numbers [verified];
// the series follows from Planck's law [derived; see figures_test.go].
//
// Checked: testdata/cases/safety-planck.toml
func blackFraction(lambdaT float64) (float64, error) {
	if err := refuse(between("wavelength times temperature", lambdaT, "m·K", 1e-4, 1)); err != nil {
		return 0, err
	}
	x := radiationC2 / lambdaT
	var sum float64
	for i := 1; i <= 4000; i++ {
		n := float64(i)
		term := math.Exp(-n*x) * (x*x*x/n + 3*x*x/(n*n) + 6*x/(n*n*n) + 6/(n*n*n*n))
		sum += term
		if term < 1e-15*sum {
			break
		}
	}
	return 15 / math.Pow(math.Pi, 4) * sum, nil
}

// bandFraction returns the share of a black body's radiation between two
// wavelengths [m] at temperature t.
//
//	F_band = F(λ₂T) − F(λ₁T)
//
// Valid: 0 °C to 3000 °C, 0.3 µm to 300 µm.
//
// Source: as [blackFraction].
//
// Checked: testdata/cases/safety-infrared.toml
func bandFraction(t unit.Temp, from, to float64) (float64, error) {
	err := refuse(
		between("temperature", t.Kelvin(), "K", 273, 3300),
		between("shorter wavelength", from, "m", 0.3e-6, 300e-6),
		between("longer wavelength", to, "m", 0.3e-6, 300e-6))
	if err != nil {
		return 0, err
	}
	if from >= to {
		return 0, &InputError{Quantity: "wavelength band", value: amount{from * 1e6, "µm"}, rule: "must begin below its end"}
	}
	low, high := 0.0, 0.0
	if x := from * t.Kelvin(); x >= 1e-4 { // below, the share is under 1e-50
		if low, err = blackFraction(x); err != nil {
			return 0, err
		}
	}
	if x := to * t.Kelvin(); x >= 1e-4 {
		if high, err = blackFraction(x); err != nil {
			return 0, err
		}
	}
	return high - low, nil
}

// blackExitance returns what a black body gives off in all directions [W/m²].
//
//	M = σ T⁴
//
// Valid: 0 °C to 3000 °C.
//
// Source: Stefan-Boltzmann law [derived from Planck's law; see figures_test.go].
//
// Checked: testdata/cases/safety-infrared.toml
func blackExitance(t unit.Temp) (float64, error) {
	if err := refuse(between("temperature", t.Kelvin(), "K", 273, 3300)); err != nil {
		return 0, err
	}
	return stefanBoltzmann * math.Pow(t.Kelvin(), 4), nil
}
