package cases

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
)

// Number is one number of an answer beside the one that is expected.
type Number struct {
	Name      string
	Got, Want float64
	// Scale is the greatest of the expected numbers of that name, which a list
	// is measured by.
	Scale float64
}

// Judge compares answers with what the case expects and returns what is wrong,
// or "". The text gives case, got, want, tolerance and source.
func (c Case) Judge(got Values) string {
	_, wrong := c.Compare(got)
	return wrong
}

// Compare returns every number of the answers that the case expects, in the
// order of their names, and what is wrong, or "".
func (c Case) Compare(got Values) (numbers []Number, wrong string) {
	var faults []string
	for _, name := range slices.Sorted(maps.Keys(c.Expected)) {
		if !got.Has(name) {
			return nil, c.describe(fmt.Sprintf("%s: nothing computes it", name))
		}
		if words, ok := asWords(c.Expected[name]); ok {
			if have, _ := asWords(got[name]); !slices.Equal(have, words) {
				faults = append(faults, fmt.Sprintf("%s: got %v, want %v", name, got[name], c.Expected[name]))
			}
			continue
		}
		want, have := list(name, c.Expected[name]), list(name, got[name])
		if len(have) != len(want) {
			faults = append(faults, fmt.Sprintf("%s: got %d numbers, want %d", name, len(have), len(want)))
			continue
		}
		scale := 0.0
		for _, w := range want {
			scale = max(scale, math.Abs(w))
		}
		for i := range want {
			numbers = append(numbers, Number{Name: name, Got: have[i], Want: want[i], Scale: scale})
			if !c.accepts(have[i], want[i]) {
				faults = append(faults, fmt.Sprintf("%s[%d]: got %.7g, want %.7g", name, i, have[i], want[i]))
			}
		}
	}
	switch {
	case c.Known != "" && len(faults) == 0:
		return numbers, c.describe(fmt.Sprintf("the known deviation %q has vanished: remove it", c.Known))
	case c.Known != "" || len(faults) == 0:
		return numbers, ""
	}
	return numbers, c.describe(strings.Join(faults, "; "))
}

func (c Case) describe(what string) string {
	return fmt.Sprintf("case %s in %s.toml: %s (tolerance rel %g abs %g; source %s, %s)",
		c.ID, c.File, what, c.Tolerance.Rel, c.Tolerance.Abs, c.Source, c.Status)
}

// accepts allows for the rounding of the arithmetic on top of the tolerance.
func (c Case) accepts(have, want float64) bool {
	const rounding = 1e-12
	off := math.Abs(have - want)
	return c.Bound == AtLeast && have >= want || off <= c.Tolerance.Abs+rounding ||
		off <= (c.Tolerance.Rel+rounding)*max(math.Abs(have), math.Abs(want))
}

// asWords returns text or a list of it, when it is one.
func asWords(x any) ([]string, bool) {
	switch x := x.(type) {
	case string:
		return []string{x}, true
	case []string:
		return x, true
	case bool:
		return []string{fmt.Sprint(x)}, true
	case []any:
		var out []string
		for _, w := range x {
			s, ok := w.(string)
			if !ok {
				return nil, false
			}
			out = append(out, s)
		}
		return out, len(out) > 0
	}
	return nil, false
}
