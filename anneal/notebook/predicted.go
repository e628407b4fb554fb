package notebook

import (
	"strconv"
	"strings"
)

// Predicted is the retardation that was computed for a piece in average glass, by
// straight rays: in a liquid of its index.
type Predicted struct {
	Nanometers float64
	Worst      float64 // the same in the worst case of the glass [nm], 0 in records before
	// At is the place that it is of, as "through its edge". Records had none before:
	// "" is the brightest place of the whole piece, which of a sphere is its bright
	// ring, and of a flat piece its faces. Flat pieces had "in the middle plane", with
	// what the rim adds.
	At string
}

// String writes it so that it reads back: "379 nm through its edge".
func (p *Predicted) String() string {
	return strings.TrimSpace(strconv.FormatFloat(p.Nanometers, 'g', 4, 64) + " nm " + p.At)
}

// nanometers reads "98 nm at the bright ring", or "98 nm".
func (r reader) nanometers(key string) (x float64, at string) {
	s := r.text(key)
	if s == "" {
		return 0, ""
	}
	number, at, ok := strings.Cut(s, "nm")
	x, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	if !ok || err != nil || !(x >= 0 && x <= 1e6) {
		r.fail(key, "", "%w", &ValueError{s, "is no retardation", `write "98 nm at the bright ring"`})
	}
	return x, strings.TrimSpace(at)
}
