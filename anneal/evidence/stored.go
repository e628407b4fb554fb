package evidence

import (
	"bufio"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"lehr/testdata"
)

// Stored is what a quantity came out as when the page of the evidence was last
// written: bias and spread over all origins, and over those outside this
// project.
type Stored struct {
	OutsideCases               int
	Bias, Spread               float64
	OutsideBias, OutsideSpread float64
}

// Last returns, by the name of its quantity, what was stored last: name, cases, bias
// and spread, and the same of those outside this project.
var Last = sync.OnceValue(func() map[string]Stored {
	out := map[string]Stored{}
	for lines := bufio.NewScanner(strings.NewReader(testdata.Stored)); lines.Scan(); {
		f := strings.Split(lines.Text(), "\t")
		if len(f) != 7 {
			continue
		}
		cases, _ := strconv.Atoi(f[4])
		number := func(i int) float64 { x, _ := strconv.ParseFloat(f[i], 64); return x }
		out[f[0]] = Stored{cases, number(2), number(3), number(5), number(6)}
	}
	return out
})

// Grown returns the quantities whose bias or spread is farther from zero than
// what was stored, by more than the rounding of what is printed. Bounds are
// held by their cases alone.
func (r *Report) Grown() (out []string) {
	last := Last()
	for _, l := range r.Lines {
		s, known := last[l.Name]
		if !known || l.Bounds {
			continue
		}
		const hair = 0.005
		if more := math.Abs(l.All.Bias); more > math.Abs(s.Bias)*1.02+hair {
			out = append(out, fmt.Sprintf("%s: bias %.3f %s, was %.3f", l.Name, l.All.Bias, l.Unit, s.Bias))
		}
		if l.All.Spread > s.Spread*1.02+hair {
			out = append(out, fmt.Sprintf("%s: spread %.3f %s, was %.3f", l.Name, l.All.Spread, l.Unit, s.Spread))
		}
	}
	return out
}
