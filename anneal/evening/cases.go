package evening

import (
	"time"

	"lehr/anneal/kiln"
	"lehr/glass/cases"
	"lehr/glass/unit"
)

// Cases answers the cases of testdata/cases that name this package.
func Cases() map[string]cases.Compute {
	return map[string]cases.Compute{
		"SkinDrop": func(t cases.T, in cases.Values) cases.Values {
			drop, flux := skinDrop(unit.Celsius(in.Float("piece_C")), unit.Celsius(in.Float("room_C")), in.Float("view_factor"), in.Float("emissivity"),
				in.Float("film_W_m2K"), in.Float("k_W_mK"), in.Float("kappa_m2_s"), time.Duration(in.Float("seconds")*1e9))
			// The cases take E α/(1 − ν) of 63 GPa, 3.3e-6, 0.2 and of 70 GPa, 9e-6, 0.22.
			return cases.Values{"flux_kW_m2": flux / 1e3, "surface_drop_K": float64(drop),
				"elastic_tension_boro33_MPa":  float64(drop) * 63e3 * 3.3e-6 / 0.8,
				"elastic_tension_soda104_MPa": float64(drop) * 70e3 * 9e-6 / 0.78}
		},
		"OpeningLoss": func(t cases.T, in cases.Values) cases.Values {
			p := openingLoss(unit.Celsius(in.Float("kiln_C")), unit.Celsius(20), in.Float("opening_m2"))
			return cases.Values{"power_kW": p.Watts() / 1e3, "energy_kWh": p.Watts() / 1e3 * in.Float("minutes") / 60}
		},
		"Outage": func(t cases.T, in cases.Values) cases.Values {
			f := kiln.Fall{TimeConstant: time.Duration(in.Float("time_constant_h") * float64(time.Hour)), Room: unit.Celsius(in.Float("room_C"))}
			from := unit.Celsius(in.Float("kiln_C"))
			return cases.Values{"first_rate_C_per_h": f.Rate(from).KelvinPerHour(),
				"reading_C": f.After(from, time.Duration(in.Float("minutes")*float64(time.Minute))).Celsius()}
		},
	}
}
