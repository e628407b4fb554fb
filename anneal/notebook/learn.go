package notebook

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"time"

	"lehr/glass/unit"
)

// FewestWeighed is how many pieces of a size must be weighed before their loss
// is used, and mostWeighed how many of the last are.
const (
	FewestWeighed = 3
	mostWeighed   = 9
)

// Loss is what a person loses at the torch with pieces of one size.
type Loss struct {
	Share  float64 // median
	Pieces int     // kinds of piece that it is the median of
}

// Enough reports whether there were enough to use it.
func (l Loss) Enough() bool { return l.Pieces >= FewestWeighed }

// LossOf returns the median loss of the last pieces of a size. records are in
// any order. Pieces with a loss below −10 % or above 50 % were not weighed
// right and are left out.
func LossOf(records []Record, size unit.Length) Loss {
	records = slices.Clone(records)
	sort.SliceStable(records, func(i, j int) bool { return records[i].Date.After(records[j].Date) })
	var shares []float64
	for _, r := range records {
		for _, p := range r.Pieces {
			if x, ok := p.Loss(); ok && p.sized(size) && x > -0.1 && x < 0.5 && len(shares) < mostWeighed {
				shares = append(shares, x)
			}
		}
	}
	if len(shares) == 0 {
		return Loss{}
	}
	return Loss{max(0, median(shares)), len(shares)}
}

func median(x []float64) float64 {
	x = slices.Clone(x)
	slices.Sort(x)
	n := len(x)
	return (x[(n-1)/2] + x[n/2]) / 2
}

// Pair is what was computed for a piece and what was measured in it, in any one
// unit.
type Pair struct{ Predicted, Measured, Error float64 }

// Factor returns how much more a kiln leaves in its pieces than is computed,
// with its standard error: weighted least squares through the origin.
//
//	f = Σ(p m/s²)/Σ(p²/s²), se = 1/√Σ(p²/s²)
//
// The error is that of the readings. When the pieces scatter more than their
// readings allow, it is widened by √(χ²/(n−1)).
//
// Errors: no pair, and a value that is not above zero.
//
// Source: least squares of m = f p [derived in learn_test.go].
//
// Checked: testdata/cases/notebook.toml
func Factor(pairs []Pair) (f, se float64, err error) {
	if len(pairs) == 0 {
		return 0, 0, fmt.Errorf("no piece has both a reading and what was computed for it")
	}
	var pm, pp float64
	for _, x := range pairs {
		if !(x.Predicted > 0) || !(x.Error > 0) || !(x.Measured >= 0) {
			return 0, 0, fmt.Errorf("predicted %g, measured %g ± %g: must be above 0", x.Predicted, x.Measured, x.Error)
		}
		w := 1 / (x.Error * x.Error)
		pm += w * x.Predicted * x.Measured
		pp += w * x.Predicted * x.Predicted
	}
	f, se = pm/pp, 1/math.Sqrt(pp)
	if n := len(pairs); n > 1 {
		var χ2 float64
		for _, x := range pairs {
			d := (x.Measured - f*x.Predicted) / x.Error
			χ2 += d * d
		}
		se *= math.Sqrt(max(1, χ2/float64(n-1)))
	}
	return f, se, nil
}

// ManyPieces is the number of pieces from which a factor below one is used.
const ManyPieces = 10

// Divisor returns what the limit of the stress left is to be divided by: the
// factor and its error, and not less than 1 before there are many pieces.
func Divisor(f, se float64, pieces int) float64 {
	if pieces < ManyPieces {
		return max(1, f+se)
	}
	return f + se
}

// Middle is a median and how far the values lie from it, in the median.
type Middle struct {
	Value, Spread float64
	Count         int
}

// MiddleOf returns the median of values and the median of their distances.
func MiddleOf(x []float64) Middle {
	if len(x) == 0 {
		return Middle{}
	}
	m := median(x)
	var off []float64
	for _, v := range x {
		off = append(off, math.Abs(v-m))
	}
	return Middle{m, median(off), len(x)}
}

// Same names a piece that stands twice in a firing, or "".
func Same(pieces []Piece) string {
	seen := map[string]bool{}
	for _, p := range pieces {
		key := p.What + "\x00" + p.Glass + "\x00" + fmt.Sprint(p.Colors) + "\x00" + p.Note
		if seen[key] {
			return p.What
		}
		seen[key] = true
	}
	return ""
}

// CheckDate refuses a firing in the future, beyond a day of clocks that differ.
func CheckDate(date, now time.Time) error {
	if date.After(now.Add(24 * time.Hour)) {
		return &ValueError{date.Format(time.RFC3339), "lies in the future", "write the day on which the program started"}
	}
	return nil
}
