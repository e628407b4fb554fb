package cost

import (
	"math"

	"lehr/glass/cases"
	"lehr/glass/unit"
)

func tariff(t cases.T, text string) Tariff {
	t.Helper()
	x, err := ParseTariff(text)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// Cases answers the cases of testdata/cases that name this package.
func Cases() map[string]cases.Compute {
	return map[string]cases.Compute{
		"Tariff": func(t cases.T, v cases.Values) cases.Values {
			var steps []Step
			for _, p := range v.Floats("power_kW_by_hour") {
				steps = append(steps, Step{3600, 1000 * p})
			}
			start, err := unit.ParseClock(v.Text("starts"))
			if err != nil {
				t.Fatal(err)
			}
			return cases.Values{"energy_kWh": KWh(steps), "cost": tariff(t, "0.40 EUR from 6:00, 0.22 EUR from 22:00").Cost(start, steps).Amount}
		},
		"Meter": func(_ cases.T, v cases.Values) cases.Values {
			e := Pulses(v.Float("pulses"), v.Float("pulses_per_kWh"))
			return cases.Values{"energy_kWh": e, "cost": e * v.Float("price_per_kWh")}
		},
		"Duty": func(_ cases.T, v cases.Values) cases.Values {
			return cases.Values{"energy_kWh": Duty(unit.Power(v.Float("power_kW"))*unit.Kilowatt, v.Float("duty_percent")/100, v.Float("hours"))}
		},
		"GlassHeat": func(_ cases.T, v cases.Values) cases.Values {
			m := 0.0
			for _, row := range v.Rows("pieces") {
				m += row[0] * math.Pi / 6 * math.Pow(row[1]/1000, 3) * v.Float("density_g_cm3") * 1000
			}
			by := unit.Celsius(v.Float("from_C")).Sub(unit.Celsius(v.Float("to_C")))
			return cases.Values{"mass_kg": m, "heat_kWh": glassHeat(unit.Mass(m), 1000*v.Float("specific_heat_kJ_kgK"), by)}
		},
	}
}
