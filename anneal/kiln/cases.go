package kiln

import (
	"math"

	"lehr/glass/cases"
	"lehr/glass/unit"
)

// Cases answers the cases of testdata/cases that name this package.
func Cases() map[string]cases.Compute {
	return map[string]cases.Compute{
		"RampMinutes": func(_ cases.T, v cases.Values) cases.Values {
			temp, rate := unit.Celsius, unit.KelvinPerHour
			if v.Text("unit") == "F" {
				temp, rate = unit.Fahrenheit, unit.FahrenheitPerHour
			}
			from, to := temp(v.Float("from")), temp(v.Float("to"))
			keyed, _ := DefaultController().InMinutes().RampMinutes(from, to, -rate(v.Float("rate_per_h")))
			exact := math.Abs(float64(to.Sub(from))) / rate(v.Float("rate_per_h")).KelvinPerHour() * 60
			return cases.Values{"exact_min": exact, "keyed_min": float64(keyed)}
		},
	}
}
