package kilnlog

import (
	"math"
	"time"

	"lehr/anneal/kiln"
	"lehr/glass/cases"
	"lehr/glass/unit"
)

func couple(in cases.Values) Couple { return Couple(in.Text("type")[0]) }

func hours(h float64) time.Duration { return time.Duration(h * float64(time.Hour)) }

// Cases answers the cases of testdata/cases that name this package.
func Cases() map[string]cases.Compute {
	return map[string]cases.Compute{
		"Millivolts": func(t cases.T, in cases.Values) cases.Values {
			var out []float64
			for _, c := range in.Floats("temperature_C") {
				out = append(out, couple(in).millivolts(unit.Celsius(c)))
			}
			return cases.Values{"emf_mV": out}
		},
		"Coefficients": func(t cases.T, in cases.Values) cases.Values {
			r := couple(in).in(100)
			if want := in.Floats("range_C"); r.low != want[0] || r.high != want[1] {
				t.Errorf("range %g to %g °C", r.low, r.high)
			}
			return cases.Values{"c": r.c, "a": r.a[:]}
		},
		"Temperature": func(t cases.T, in cases.Values) cases.Values {
			mV, junction := in.Float("emf_mV"), unit.Celsius(in.Float("junction_C"))
			got, ok := couple(in).temperature(mV, junction)
			zero, ok0 := couple(in).temperature(mV, unit.Celsius(0))
			if !ok || !ok0 {
				t.Error("out of range")
			}
			return cases.Values{"temperature_C": got.Celsius(), "adding_degrees_instead_C": zero.Celsius() + junction.Celsius()}
		},
		"Sensitivity": func(t cases.T, in cases.Values) cases.Values {
			return cases.Values{"microvolt_per_K": 1000 * couple(in).sensitivity(unit.Celsius(in.Float("temperature_C")))}
		},
		"Interpolation": func(t cases.T, in cases.Values) cases.Values {
			f := kiln.Fall{TimeConstant: hours(in.Float("time_constant_h")), Room: unit.Celsius(in.Float("room_C"))}
			from, step := unit.Celsius(in.Float("temperature_C")), time.Duration(in.Float("interval_s"))*time.Second
			// The line between the readings half an interval to either side.
			a := kiln.Reading{At: f.After(from, step/2), Time: step / 2}
			ahead := f.Room.Add(unit.Delta(float64(from.Sub(f.Room)) * math.Exp(step.Seconds()/2/f.TimeConstant.Seconds())))
			c, err := kiln.NewCurve([]kiln.Reading{{At: ahead, Time: -step / 2}, a})
			if err != nil {
				t.Fatal(err)
			}
			return cases.Values{"largest_error_K": float64(c.Temp(0).Sub(from))}
		},
		"SlopeNoise": func(t cases.T, in cases.Values) cases.Values {
			var r []kiln.Reading
			for i := range int(in.Float("intervals")) + 1 {
				r = append(r, kiln.Reading{At: unit.Celsius(500), Time: time.Duration(float64(i) * in.Float("interval_s") * 1e9)})
			}
			return cases.Values{"slope_sd_K_per_h": fitRate(r, unit.Delta(in.Float("step_K"))).Error.KelvinPerHour()}
		},
		"Tolerance": func(t cases.T, in cases.Values) cases.Values {
			standard, special := couple(in).tolerance(unit.Celsius(in.Float("temperature_C")))
			return cases.Values{"standard_C": standard.Kelvin(), "special_C": special.Kelvin()}
		},
	}
}
