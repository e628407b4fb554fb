package sim

// overnight is the work the benchmarks do: a night's program of twelve hours.
func overnight(form Form, size float64, glass func() (Material, []Variant), shift float64) Problem {
	m, v := glass()
	return Problem{Body: Body{Form: form, Outer: size / 2}, Material: m, Variants: v, Surface: air,
		Kiln: program([2]float64{0, 520 + shift}, [2]float64{0.25, 565 + shift}, [2]float64{3.25, 565 + shift},
			[2]float64{7.25, 465 + shift}, [2]float64{9.25, 365 + shift}, [2]float64{12, 90}),
		Start: uniform(520 + shift), Mark: 3.25 * 3600, Room: 293.15}
}

// soda is a float soda-lime glass with its two curves.
func soda() (Material, []Variant) {
	m := Material{Density: 2500, Conductivity: poly(0.919, 0.00086, 0), SpecificHeat: sharpGinther(2.1516, 738),
		Young: 71e9, Poisson: 0.22, Expansion: 8.8e-6, Shear: meanOne(sodaTerms)}
	return m, curves(-20.5917, 27407.32, -292.93, -2.1738, 3845.92, 276.66, 23.1e-6, 27.1e-6)
}
