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
	Cases, OutsideCases        int
	Bias, Spread               float64
	OutsideBias, OutsideSpread float64
}

// Keep writes what is to be stored of a report, a quantity a line, as [Last]
// reads it. Only the test that runs every case stores it; it is here so that
// writer and reader are changed together.
func (r *Report) Keep() string {
	var b strings.Builder
	for _, l := range r.Lines {
		o := l.outside()
		fmt.Fprintf(&b, "%s\t%d\t%.4f\t%.4f\t%d\t%.4f\t%.4f\n", l.Name, l.All.Cases, l.All.Bias+0, l.All.Spread, o.Cases, o.Bias+0, o.Spread)
	}
	return b.String()
}

// Last returns, by the name of its quantity, what was stored last.
var Last = sync.OnceValue(func() map[string]Stored {
	out := map[string]Stored{}
	for lines := bufio.NewScanner(strings.NewReader(testdata.Stored)); lines.Scan(); {
		f := strings.Split(lines.Text(), "\t")
		if len(f) != 7 {
			continue
		}
		whole := func(i int) int { n, _ := strconv.Atoi(f[i]); return n }
		number := func(i int) float64 { x, _ := strconv.ParseFloat(f[i], 64); return x }
		out[f[0]] = Stored{whole(1), whole(4), number(2), number(3), number(5), number(6)}
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
