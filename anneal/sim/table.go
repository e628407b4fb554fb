package sim

// table is a function of temperature read off at even spacing, so that a step
// costs a multiplication instead of a polynomial. Outside its range the end
// value stands; the range is chosen so that no temperature of the run leaves it.
type table struct {
	low, perKelvin float64
	value          []float64
}

const tableSpacing = 4.0 // [K]; linear between, error below 1e-5 for k(T), c(T) of glasses

func tabulate(f func(float64) float64, low, high float64) table {
	n := int((high-low)/tableSpacing) + 2
	t := table{low: low, perKelvin: 1 / tableSpacing, value: make([]float64, n+1)}
	for i := range t.value {
		t.value[i] = f(low + float64(i)*tableSpacing)
	}
	return t
}

func (t *table) at(kelvin float64) float64 {
	x := (kelvin - t.low) * t.perKelvin
	i := int(x)
	if x < 0 {
		return t.value[0]
	}
	if i >= len(t.value)-1 {
		return t.value[len(t.value)-1]
	}
	return t.value[i] + (x-float64(i))*(t.value[i+1]-t.value[i])
}
