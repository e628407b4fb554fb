package sim

// overnight is the work the benchmarks do: a night's program of twelve hours.
func overnight(form Form, size float64, glass func() (Material, []Variant), shift float64) Problem {
	m, v := glass()
	return Problem{Body: Body{Form: form, Outer: size / 2}, Material: m, Variants: v, Surface: air,
		Kiln: program([2]float64{0, 520 + shift}, [2]float64{0.25, 565 + shift}, [2]float64{3.25, 565 + shift},
			[2]float64{7.25, 465 + shift}, [2]float64{9.25, 365 + shift}, [2]float64{12, 90}),
		Start: uniform(520 + shift), Mark: 3.25 * 3600, Room: 293.15}
}
