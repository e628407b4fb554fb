package cases

import (
	"fmt"
	"maps"
	"slices"
)

// Float returns the number of that name. A name or kind that is not there is a
// mistake of the test and panics, as in all methods here.
func (v Values) Float(name string) float64 { return number(name, v.must(name)) }

// Has reports whether there is a value of that name.
func (v Values) Has(name string) bool { _, ok := v[name]; return ok }

// Text returns the words of that name.
func (v Values) Text(name string) string {
	s, ok := v.must(name).(string)
	if !ok {
		panic(fmt.Sprintf("cases: %s is not text", name))
	}
	return s
}

// True returns the truth value of that name.
func (v Values) True(name string) bool {
	b, ok := v.must(name).(bool)
	if !ok {
		panic(fmt.Sprintf("cases: %s is not true or false", name))
	}
	return b
}

// Floats returns the list of numbers of that name.
func (v Values) Floats(name string) []float64 { return list(name, v.must(name)) }

// Rows returns the list of lists of numbers of that name.
func (v Values) Rows(name string) [][]float64 {
	of, ok := v.must(name).([]any)
	if !ok {
		panic(fmt.Sprintf("cases: %s is not a list", name))
	}
	rows := make([][]float64, len(of))
	for i, x := range of {
		rows[i] = list(name, x)
	}
	return rows
}

func (v Values) must(name string) any {
	x, ok := v[name]
	if !ok {
		panic(fmt.Sprintf("cases: no %s among %v", name, slices.Sorted(maps.Keys(v))))
	}
	return x
}

func number(name string, x any) float64 {
	switch x := x.(type) {
	case float64:
		return x
	case int64:
		return float64(x)
	case int:
		return float64(x)
	}
	panic(fmt.Sprintf("cases: %s is not a number", name))
}

func list(name string, x any) []float64 {
	switch x := x.(type) {
	case []float64:
		return x
	case []any:
		out := make([]float64, len(x))
		for i := range x {
			out[i] = number(name, x[i])
		}
		return out
	}
	return []float64{number(name, x)}
}
