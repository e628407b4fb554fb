package figure

import (
	"math"
	"time"

	"lehr/glass/cases"
	"lehr/glass/unit"
	"lehr/safety/quantity"
)

type values = cases.Values

// must stops the test on an error of a formula.
func must[T any](t cases.T) func(T, error) T {
	return func(x T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
}

func mm(in values, name string) unit.Length { return unit.Length(in.Float(name)) * unit.Millimeter }

func flow(q quantity.Flow) values {
	return values{"Q_cfm": q.CFM(), "Q_m3_s": float64(q), "Q_m3_h": q.CubicMetersPerHour()}
}

// hoodInputs reads V, X and A in feet or in meters.
func hoodInputs(in values) (v quantity.Speed, x unit.Length, a quantity.Area) {
	if in.Has("V_m_s") {
		return quantity.Speed(in.Float("V_m_s")), unit.Length(in.Float("X_m")), quantity.Area(in.Float("A_m2"))
	}
	v = quantity.FeetPerMinute(in.Float("V_fpm"))
	if in.Has("X_ft") {
		x = quantity.Feet(in.Float("X_ft"))
	}
	if in.Has("A_ft2") {
		a = squareFeet(in.Float("A_ft2"))
	}
	return v, x, a
}

// Cases answers the cases of testdata/cases that name this package. It is a
// table, an entry a formula.
func Cases() map[string]cases.Compute {
	return map[string]cases.Compute{
		"blackFraction": func(t cases.T, in values) values {
			return values{"F": must[float64](t)(blackFraction(in.Float("lambdaT_um_K") * 1e-6))}
		},
		"bandFraction": func(t cases.T, in values) values {
			at := unit.Celsius(in.Float("temp_C"))
			m, f := must[float64](t)(blackExitance(at)), must[float64](t)(bandFraction(at, bandLow, bandHigh))
			return values{"sigmaT4_W_m2": m, "F_band": f, "M_band_W_m2": m * f}
		},
		"infraredLimit": func(t cases.T, in values) values {
			return values{"E_lim_W_m2": infraredLimit(time.Duration(in.Float("t_s") * 1e9))}
		},
		"shortLimitTime": func(t cases.T, in values) values {
			d, limited, err := shortLimitTime(in.Float("E_W_m2"))
			if err != nil {
				t.Fatal(err)
			}
			return values{"t_allow_s": d.Seconds(), "limited": oneIf(limited)}
		},
		"sphereIrradiance": func(t cases.T, in values) values {
			at, d, eps := unit.Celsius(in.Float("temp_C")), mm(in, "diameter_mm"), in.Float("emissivity") // we take 1
			e := eps * must[float64](t)(sphereIrradiance(at, d, mm(in, "distance_mm")))
			return values{
				"band_fraction":             must[float64](t)(bandFraction(at, bandLow, bandHigh)),
				"E_W_m2":                    e,
				"ratio_to_100":              e / longLimit,
				"distance_for_100_mm":       must[unit.Length](t)(limitDistance(at, d)).Millimeters() * math.Sqrt(eps),
				"filter_tau_needed_for_100": float64(must[quantity.Fraction](t)(greatestTransmittance(e))),
			}
		},
		"openingIrradiance": func(t cases.T, in values) values {
			o := in.Floats("opening_mm")
			return values{"E_W_m2": must[float64](t)(openingIrradiance(unit.Celsius(in.Float("temp_C")), quantity.Area(o[0]*o[1]*1e-6), mm(in, "distance_mm")))}
		},
		"dallaValleFlow": func(t cases.T, in values) values {
			return flow(must[quantity.Flow](t)(dallaValleFlow(hoodInputs(in))))
		},
		"flangedFlow": func(t cases.T, in values) values { return flow(must[quantity.Flow](t)(flangedFlow(hoodInputs(in)))) },
		"slotFlow": func(t cases.T, in values) values {
			v, x, _ := hoodInputs(in)
			return flow(must[quantity.Flow](t)(slotFlow(v, x, quantity.Feet(in.Float("L_ft")))))
		},
		"boothFlow": func(t cases.T, in values) values {
			v, _, a := hoodInputs(in)
			return flow(must[quantity.Flow](t)(boothFlow(v, a)))
		},
		"canopyFlow": func(t cases.T, in values) values {
			v, _, _ := hoodInputs(in)
			return flow(must[quantity.Flow](t)(canopyFlow(v, quantity.Feet(in.Float("H_ft")), quantity.Feet(in.Float("P_ft")))))
		},
		"weldingHoodFlow": func(t cases.T, in values) values {
			zone := in.Floats("zone_in")
			middle := unit.Length(zone[0]+zone[1]) / 2 * unit.Inch
			q := must[quantity.Flow](t)(weldingHoodFlow(middle)).CFM()
			return values{"Q_cfm_table": q, "Q_cfm_2piX2V": q}
		},
		"needsMechanical": func(t cases.T, in values) values {
			room := quantity.CubicFeet(in.Float("L_ft") * in.Float("W_ft") * in.Float("H_ft"))
			need, q, err := needsMechanical(room, quantity.Feet(in.Float("H_ft")), int(in.Float("workers")))
			if err != nil {
				t.Fatal(err)
			}
			return values{"volume_ft3": float64(room / quantity.CubicFeet(1)), "mechanical_needed": oneIf(need), "general_cfm": q.CFM()}
		},
		"openingVelocity": func(t cases.T, in values) values {
			return values{"V_fpm": float64(must[quantity.Speed](t)(openingVelocity(quantity.CFM(in.Float("Q_cfm")), squareFeet(in.Float("A_ft2")))) / quantity.FeetPerMinute(1))}
		},
		"dilutionFlow": func(t cases.T, in values) values {
			return flow(must[quantity.Flow](t)(dilutionFlow(quantity.CFM(in.Float("G_cfm")), in.Float("C_fraction"), in.Float("K"))))
		},
		"airChanges": func(t cases.T, in values) values {
			return values{"ACH": must[float64](t)(airChanges(quantity.CFM(in.Float("Q_cfm")), quantity.CubicFeet(in.Float("V_ft3"))))}
		},
		"buildUp": func(t cases.T, in values) values {
			c := must[float64](t)(buildUp(quantity.Flow(in.Float("G_m3_h")/3600), quantity.Flow(in.Float("Q_m3_h")/3600), quantity.Volume(in.Float("V_m3")),
				time.Duration(in.Float("t_h")*float64(time.Hour)), in.Float("K")))
			return values{"C_rise_ppm": c * 1e6}
		},
		"burn": func(t cases.T, in values) values {
			g, ok := fuelOf(in.Text("fuel"))
			if !ok {
				t.Fatal("no such fuel")
			}
			b := burn(g)
			return values{"CO2_kg": b.CO2, "H2O_kg": b.H2O, "O2_kg": b.O2, "air_vol_per_vol": b.AirVolume, "O2_vol_per_vol": b.OxygenVolume, "CO2_vol_per_vol": b.CO2Volume}
		},
		"carbonDioxideFloor": func(t cases.T, in values) values {
			fuel := quantity.KilogramsPerHour(in.Float("propane_kg_h"))
			g := must[quantity.Flow](t)(carbonDioxide(propane, fuel))
			q := must[quantity.Flow](t)(dilutionFlow(g, co2Limit-co2Outdoor, in.Float("K")))
			return values{"G_CO2_m3_h": g.CubicMetersPerHour(), "Q_m3_h": q.CubicMetersPerHour()}
		},
		"airRise": func(t cases.T, in values) values {
			p := must[unit.Power](t)(torchHeat(propane, quantity.KilogramsPerHour(in.Float("propane_kg_h"))))
			return values{"P_kW": p.Watts() / 1000, "dT_K": must[float64](t)(airRise(p, quantity.Flow(in.Float("Q_m3_h")/3600)))}
		},
		"explosiveMass": func(t cases.T, in values) values {
			kg, v, err := explosiveMass(propane, quantity.Volume(in.Float("V_m3")), in.Float("LEL"))
			if err != nil {
				t.Fatal(err)
			}
			return values{"V_gas_m3": float64(v), "m_kg": kg}
		},
		"enrichmentTime": func(t cases.T, in values) values {
			d, v, err := enrichmentTime(quantity.Volume(in.Float("V_m3")), quantity.Flow(in.Float("leak_L_min")/60000))
			if err != nil {
				t.Fatal(err)
			}
			return values{"V_leak_m3": float64(v), "t_min": d.Minutes()}
		},
		"oxygenShare": func(t cases.T, in values) values {
			return values{"x_percent": 100 * must[float64](t)(oxygenShare(quantity.Flow(in.Float("Q_m3_h")/3600), quantity.Flow(in.Float("g_L_min")/60000)))}
		},
		"circuitLoad": func(t cases.T, in values) values {
			i := must[quantity.Current](t)(RatedCurrent(unit.Power(in.Float("P_W")), quantity.Voltage(in.Float("V_V"))))
			least, breaker, err := circuitLoad(i)
			if err != nil {
				t.Fatal(err)
			}
			return values{"I_A": float64(i), "min_A": float64(least), "next_standard_A": float64(breaker)}
		},
		"noiseTime": func(t cases.T, in values) values {
			return values{"T_h": must[time.Duration](t)(NoiseTime(quantity.Level(in.Float("L_dBA")))).Hours()}
		},
	}
}

func oneIf(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func squareFeet(x float64) quantity.Area {
	return quantity.Area(x * float64(quantity.Feet(1)*quantity.Feet(1)))
}

// infraredLimit is the published curve itself, of which [shortLimitTime] is the
// inverse.
func infraredLimit(look time.Duration) float64 {
	if look > 1000*time.Second {
		return longLimit
	}
	return 18000 * math.Pow(look.Seconds(), -0.75)
}
