package seal

import (
	"math"
	"testing"

	"lehr/glass"
	"lehr/glass/unit"
)

// A misfit that is there relaxes with c η/G: a glass shell round a rigid core,
// made to fit badly while cold, is held at a temperature.
func TestMisfitTime_isWhatTheSphereDoes(t *testing.T) {
	for _, ratio := range []float64{0.1, 0.5, 0.9} {
		c := misfitTime(opal, boro, ratio)
		const eta = 1e12
		flat := glass.Curve{A: 12} // the same viscosity at every temperature
		shear := float64(boro.Young) / (2 * (1 + boro.Poisson))
		tau := c * eta / shear
		shells := []relaxingShell{{Shell: Shell{unit.Length(0.02 * ratio), opal}}, {Shell: Shell{0.02, boro}, Curve: &flat}}
		quick := History{[]float64{0, tau * 1e-6}, []float64{800, 300}}
		held := History{append(quick.Seconds, tau), append(quick.Kelvin, 300)}
		p0 := must(coolSphere(shells, quick))(t).Shells[0].OuterRadial
		p1 := must(coolSphere(shells, held))(t).Shells[0].OuterRadial
		close(t, "pressure after one such time", float64(p1/p0), math.Exp(-1), 2e-4)
	}
}

// A flat layer held at its size: σ̇ = −σ/(c η/G) with c = 3(1−ν)/(1+ν), from
// ε̇_x = 0 = (1−ν) σ̇/E + σ/(6 η) (fluid of viscosity η under equal stress in two
// directions stretches by σ/(6 η)).
func TestSkinTime(t *testing.T) {
	const e, nu = 63.5e9, 0.2
	shear := e / (2 * (1 + nu))
	close(t, "c", skinTime(nu), (1-nu)/e*6*shear, 1e-12)
	close(t, "thin shell on a rigid core", misfitTime(Elastic{1e20, 0.2, 0}, boro, 1-1e-9), 1+4.0/3*shear*3*(1-2*nu)/e, 1e-6)
}

// With ln η linear in T the fall is (1/a)(…): ∫exp(−e^x) gives e^−γ exactly.
func TestSettingTemperature_linear(t *testing.T) {
	// Far from T0 the curve is nearly linear over the few kelvin that matter.
	curve := glass.Curve{A: 12.5 - 3000, B: 3e8, T0: 790 - 1e5}
	set := must(settingIn(steady(unit.Kelvin(1000), unit.KelvinPerHour(60)), curve, 26e9, 2))(t)
	closed := must(settingTemperature(curve, 26e9, 2, unit.KelvinPerHour(60)))(t)
	if d := math.Abs(set.Temp.Kelvin() - closed.Kelvin()); d > 0.02 {
		t.Errorf("%.3f K apart", d)
	}
}

// The fall grows to its end, nothing of it is there in runny glass, and a
// history cut off early is taken as elastic from there.
func TestSet_course(t *testing.T) {
	h := steady(unit.Celsius(620), unit.KelvinPerHour(60))
	set := must(settingIn(h, boroCurve, 26.4583e9, 2))(t)
	if set.At(-1) != 0 || math.Abs(float64(set.At(1e9)-set.Fall)) > 1e-9 {
		t.Errorf("from %v to %v, want 0 to %v", set.At(-1), set.At(1e9), set.Fall)
	}
	cut := History{[]float64{0, 220 * 60}, []float64{620 + 273.15, 400 + 273.15}}
	short := must(settingIn(cut, boroCurve, 26.4583e9, 2))(t)
	close(t, "cut at 400 °C", float64(short.Fall), float64(set.Fall), 1e-5)
	// Reheated and soaked, finished work forgets how it set before.
	again := History{[]float64{0, 3600, 3 * 3600, 3*3600 + 535*60}, []float64{298.15, 560 + 273.15, 560 + 273.15, 298.15}}
	close(t, "second firing", float64(must(settingIn(again, boroCurve, 26.4583e9, 2))(t).Fall), float64(set.Fall), 2e-4)
	for _, bad := range []History{{}, {[]float64{0}, []float64{300}}, {[]float64{0, 0}, []float64{300, 300}}, {[]float64{0, 1}, []float64{300, math.NaN()}}} {
		if _, err := settingIn(bad, boroCurve, 26e9, 2); err == nil {
			t.Errorf("accepted %v", bad)
		}
	}
}

// In the elastic limit, cooled at once, the simulated sphere is the layered
// closed form to 0.1 %; runny glass carries nothing but a pressure.
func TestCoolSphere_limits(t *testing.T) {
	mm := unit.Millimeter
	shells := []Shell{{5 * mm, opal}, {8 * mm, boro}, {9 * mm, Elastic{70e9, 0.22, 3.6e-6}}, {20 * mm, boro}}
	relaxing := make([]relaxingShell, len(shells))
	for i, s := range shells {
		relaxing[i] = relaxingShell{Shell: s, Curve: &boroCurve}
	}
	cold := History{[]float64{0, 60}, []float64{400 + 273.15, 25 + 273.15}}
	got := must(coolSphere(relaxing, cold))(t)
	for i, want := range LayeredSphere(shells, 375) {
		for name, pair := range map[string][2]unit.Stress{"inner hoop": {got.Shells[i].InnerHoop, want.InnerHoop},
			"outer hoop": {got.Shells[i].OuterHoop, want.OuterHoop}, "inner radial": {got.Shells[i].InnerRadial, want.InnerRadial}} {
			if math.Abs(float64(pair[0]-pair[1])) > 1e-3*math.Abs(float64(pair[1])) {
				t.Errorf("layer %d: %s %v, want %v", i+1, name, pair[0], pair[1])
			}
		}
	}
	runny := History{[]float64{0, 36000}, []float64{800 + 273.15, 700 + 273.15}}
	for i, s := range must(coolSphere(relaxing, runny))(t).Shells {
		if d := s.OuterHoop - s.OuterRadial; math.Abs(float64(d)) > 1e3 {
			t.Errorf("layer %d: runny glass holds %v of shear", i+1, d)
		}
	}
}
