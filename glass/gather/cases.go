package gather

import (
	"math"

	"lehr/glass/cases"
	"lehr/glass/unit"
)

type vals = cases.Values

const mm, in = unit.Millimeter, unit.Inch

// Cases answers the cases of testdata/cases that name this package. It is a
// table, an entry a formula.
func Cases() map[string]cases.Compute {
	density := func(v vals) float64 { return 1000 * v.Float("density_g_cm3") }
	length := func(v vals, key string, u unit.Length) unit.Length { return unit.Length(v.Float(key)) * u }
	return map[string]cases.Compute{
		"SphereRods": func(t cases.T, v vals) vals {
			d := length(v, "sphere_diameter_in", in)
			r := Recipe{Piece: body(t, "sphere "+d.String()), Density: density(v)}
			out := vals{"sphere_diameter_mm": d.Millimeters(), "volume_cm3": r.Piece.Volume * 1e6, "mass_g": r.Mass().Grams()}
			var long, inches []float64
			for _, x := range v.Floats("rod_diameters_mm") {
				l := r.Take(Rod{Diameter: unit.Length(x) * mm}, r.Mass()).Net
				long, inches = append(long, l.Millimeters()), append(inches, l.Inches())
			}
			out["rod_length_mm"], out["rod_length_in"] = long, inches
			return out
		},
		"Buy": func(t cases.T, v vals) vals {
			d := length(v, "sphere_diameter_in", in)
			r := Recipe{Piece: body(t, "sphere "+d.String()), Density: 2230, Loss: v.Float("loss_share"),
				Stub: length(v, "stub_mm_each", mm), Stubs: int(v.Float("rods"))}
			take := r.Take(Rod{Diameter: length(v, "rod_diameter_mm", mm)}, r.Mass())
			return vals{"net_mm": take.Net.Millimeters(), "gross_mm": take.Buy.Millimeters(), "gross_in": take.Buy.Inches()}
		},
		"SphereFromRod": func(t cases.T, v vals) vals {
			d := length(v, "rod_diameter_mm", mm)
			return diameter(sphereDiameter(frustumVolume(d, d, length(v, "rod_length_mm", mm))))
		},
		"SphereFromMass": func(t cases.T, v vals) vals {
			r := Recipe{Piece: body(t, "sphere 50mm"), Density: density(v)}
			return diameter(r.SizeOf(unit.Mass(v.Float("mass_g")) * unit.Gram).Size())
		},
		"MassTolerance": func(t cases.T, v vals) vals {
			d := length(v, "sphere_diameter_in", in)
			m := unit.Mass(sphereVolume(d) * density(v))
			off := MassTolerance(m, d, length(v, "allowed_diameter_error_mm", mm))
			return vals{"allowed_mass_error_g": off.Grams(), "allowed_volume_error_percent": 100 * float64(off/m)}
		},
		"SizeTolerance": func(t cases.T, v vals) vals {
			d, rod, off := length(v, "sphere_diameter_in", in), length(v, "rod_diameter_mm", mm), length(v, "rod_tolerance_mm", mm)
			e := sizeTolerance(d, rod, off)
			return vals{"diameter_error_mm": e.Millimeters(), "diameter_error_percent": 100 * float64(e/d),
				"volume_error_percent": 100 * float64(2*off/rod)}
		},
		"CapShare": func(_ cases.T, v vals) vals {
			return vals{"volume_share_of_sphere": capShare(v.Float("height_over_radius"))}
		},
		"CapHeight": func(_ cases.T, v vals) vals {
			x := capHeight(v.Float("volume_share_of_sphere"))
			u := 1 - x
			return vals{"height_over_radius": x, "plane_from_center_over_radius": u, "circle_radius_over_radius": math.Sqrt(1 - u*u)}
		},
		"Portions": func(t cases.T, v vals) vals {
			d := length(v, "sphere_diameter_in", in)
			rod := Rod{Diameter: length(v, "rod_diameter_mm", mm)}
			r := Recipe{Piece: body(t, "sphere "+d.String()), Density: density(v), Parts: []Part{
				{Name: "lens", Share: v.Float("lens_share")}, {Name: "core", Share: v.Float("core_share")}, {Name: "backing", Share: v.Float("backing_share")}}}
			p, err := r.Portions()
			if err != nil {
				t.Fatal(err)
			}
			return vals{
				"lens_height_mm": p[0].Height.Millimeters(), "core_thickness_mm": p[1].Height.Millimeters(), "backing_height_mm": p[2].Height.Millimeters(),
				"lens_cm3": p[0].Volume * 1e6, "core_cm3": p[1].Volume * 1e6, "backing_cm3": p[2].Volume * 1e6,
				"lens_g": p[0].Mass.Grams(), "core_g": p[1].Mass.Grams(), "backing_g": p[2].Mass.Grams(),
				"lens_rod_25mm_mm": r.Take(rod, p[0].Mass).Net.Millimeters(), "backing_rod_25mm_mm": r.Take(rod, p[2].Mass).Net.Millimeters(),
			}
		},
		"FrustumVolume": func(_ cases.T, v vals) vals {
			x := frustumVolume(2*length(v, "bottom_radius_mm", mm), 2*length(v, "top_radius_mm", mm), length(v, "height_mm", mm))
			return vals{"volume_cm3": x * 1e6, "mass_g": x * density(v) * 1000}
		},
		"ShellVolume": func(_ cases.T, v vals) vals {
			d, wall := length(v, "outside_diameter_mm", mm), length(v, "clear_thickness_mm", mm)
			x := shellVolume(d, wall)
			return vals{"clear_cm3": x * 1e6, "core_diameter_mm": (d - 2*wall).Millimeters(), "core_share": 1 - x/sphereVolume(d)}
		},
		"WeighedDensity": func(t cases.T, v vals) vals {
			if w := v.Float("water_density_g_cm3") * 1000; w < WaterDensity-1e-9 || w > WaterDensity+1e-9 {
				t.Errorf("water of %g", v.Float("water_density_g_cm3"))
			}
			x, rho, err := WeighedDensity(unit.Mass(v.Float("mass_in_air_g"))*unit.Gram, unit.Mass(v.Float("apparent_mass_in_water_g"))*unit.Gram)
			if err != nil {
				t.Fatal(err)
			}
			return vals{"volume_cm3": x * 1e6, "density_g_cm3": rho / 1000}
		},
		"HotSize": func(_ cases.T, v vals) vals {
			d := length(v, "cold_diameter_mm", mm)
			hot := HotSize(d, v.Float("expansion_per_K"), unit.Celsius(v.Float("temperature_C")).Sub(unit.Celsius(20)))
			return vals{"hot_diameter_mm": hot.Millimeters(), "difference_mm": (hot - d).Millimeters()}
		},
	}
}

func diameter(d unit.Length) vals {
	return vals{"sphere_diameter_mm": d.Millimeters(), "sphere_diameter_in": d.Inches()}
}

func body(t cases.T, text string) Body {
	t.Helper()
	b, err := ParseBody(text)
	if err != nil {
		t.Fatal(err)
	}
	return b
}
