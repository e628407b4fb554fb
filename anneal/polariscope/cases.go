package polariscope

import (
	"lehr/glass/cases"
	"lehr/glass/unit"
)

type vals = cases.Values

func nm(l unit.Length) float64 { return float64(l / Nanometer) }

// Cases answers the cases of testdata/cases that name this package. It is a
// table, an entry a formula.
func Cases() map[string]cases.Compute {
	of := func(v vals, key string) unit.Length { return unit.Length(v.Float(key)) * Nanometer }
	ball := func(v vals) View {
		d := unit.Length(0)
		if v.Has("sphere_diameter_in") {
			d = unit.Length(v.Float("sphere_diameter_in")) * unit.Inch
		} else {
			d = unit.Length(v.Float("sphere_diameter_mm")) * unit.Millimeter
		}
		return View{Shape: Sphere, Size: d, Place: Brightest}
	}
	optic := func(v vals) float64 { return v.Float("stress_optic_TPa") * 1e-12 }
	stress := func(t cases.T, w View, r, e unit.Length, optic, spread float64) Stress {
		s, err := w.Stress(r, e, optic, spread)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	colors := func(v vals) []Color {
		var out []Color
		for _, x := range v.Floats("retardation_nm") {
			out = append(out, ColorOf(unit.Length(x)*Nanometer))
		}
		return out
	}
	return map[string]cases.Compute{
		"SphereShows": func(t cases.T, v vals) vals {
			w := ball(v)
			s := unit.Stress(v.Float("center_tension_MPa")) * unit.Megapascal
			r, err := w.Shows(s, optic(v))
			if err != nil {
				t.Fatal(err)
			}
			air := w
			air.Index, air.Place = 1.473, air.Size/2 // seen at its rim
			inAir, err := air.Shows(s, optic(v))
			if err != nil {
				t.Fatal(err)
			}
			middle := optic(v) * float64(s) * sphereProfile(0) * float64(w.Size/2)
			return vals{"greatest_nm": nm(r), "ring_radius_over_R": w.At(), "through_center_nm": middle * 1e9, "greatest_in_air_nm": nm(inAir)}
		},
		"SphereProfile": func(_ cases.T, v vals) vals {
			return vals{"retardation_over_CSR": sphereProfile(v.Float("offset_over_R"))}
		},
		"RodProfile": func(_ cases.T, v vals) vals {
			return vals{"retardation_over_CSR": rodProfile(v.Float("offset_over_R"))}
		},
		"StressFromRing": func(t cases.T, v vals) vals {
			s := stress(t, ball(v), of(v, "ring_retardation_nm"), 0, optic(v), 0)
			return vals{"center_tension_MPa": s.Center.Megapascals(), "surface_compression_MPa": -s.Surface.Megapascals()}
		},
		"RingUncertainty": func(t cases.T, v vals) vals {
			s := stress(t, ball(v), of(v, "ring_retardation_nm"), of(v, "reading_error_nm"), optic(v), optic(v)*v.Float("stress_optic_error_percent")/100)
			return vals{"center_tension_MPa": s.Center.Megapascals(), "error_MPa": s.Error.Megapascals()}
		},
		"Rotation": func(_ cases.T, v vals) vals {
			return vals{"retardation_nm": nm(rotation(v.Float("rotation_deg"), of(v, "wavelength_nm"), int(v.Float("whole_orders"))))}
		},
		"Discs": func(_ cases.T, v vals) vals {
			return vals{"retardation_nm": v.Float("discs") * nm(Disc)}
		},
		"QuarterWave": func(_ cases.T, v vals) vals {
			θ := plateRotation(of(v, "retardation_nm"), of(v, "plate_nm"), of(v, "wavelength_nm"))
			return vals{"rotation_deg": θ, "read_back_nm": nm(rotation(θ, of(v, "wavelength_nm"), 0))}
		},
		"Color": func(_ cases.T, v vals) vals {
			var y, cx, cy, r, g, b []float64
			for _, c := range colors(v) {
				x, yy := c.Chromaticity()
				y, cx, cy = append(y, c.Y), append(cx, x), append(cy, yy)
				red, green, blue := c.screen()
				r, g, b = append(r, float64(red)), append(g, float64(green)), append(b, float64(blue))
			}
			return vals{"Y": y, "x": cx, "y": cy, "red": r, "green": g, "blue": b}
		},
		"ColorName": func(t cases.T, v vals) vals {
			words, _ := v["color"].([]any)
			var at []float64
			for i, n := range Names() {
				if i >= len(words) || words[i] != n.Name {
					t.Fatalf("color %d is %q", i, n.Name)
				}
				at = append(at, nm(n.Retardation))
			}
			return vals{"retardation_nm": at}
		},
		"Tint": func(_ cases.T, v vals) vals {
			plate := of(v, "plate_nm")
			var plus, minus []float64
			for _, x := range v.Floats("retardation_nm") {
				r := unit.Length(x) * Nanometer
				plus = append(plus, difference(ColorOf(plate), ColorOf(plate+r)))
				minus = append(minus, difference(ColorOf(plate), ColorOf(plate-r)))
			}
			return vals{"plus": plus, "minus": minus}
		},
		"Brightness": func(_ cases.T, v vals) vals {
			return vals{"share_of_open_light": ColorOf(of(v, "retardation_nm")).Y}
		},
	}
}
