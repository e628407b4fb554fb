package verify

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"lehr/anneal/finding"
	"lehr/glass"
)

// TestVerify_everyPointsRange: the range of each fixed point raises the worst
// case, the wider the more, and leaves average glass as it is. That of the strain
// point, near which stress goes, raises it most.
func TestVerify_everyPointsRange(t *testing.T) {
	const like = "[[glass]]\nname = \"mine\"\nlike = \"borosilicate-33\"\n%s = \"%s °C\"\n"
	judged := func(key, value string) (average, worst float64) {
		table, err := glass.Load(strings.NewReader(fmt.Sprintf(like, key, value)), "mine.toml")
		if err != nil {
			t.Fatal(err)
		}
		rep := verifyOwn(t, table.Glasses[0])
		if !rep.Assumptions.Has(finding.WorstVariants) {
			t.Errorf("%s = %s: nothing of the worst case in %+v", key, value, rep.Assumptions)
		}
		r := rep.Pieces[0]
		return r.ResidualTension.Expected.Megapascals(), r.ResidualTension.Worst.Megapascals()
	}
	for key, ranges := range map[string][3]string{
		"strain_point":    {"510", "510 ± 8", "510 ± 20"},
		"softening_point": {"821", "821 ± 20", "821 ± 55"},
		"annealing_point": {"560 ± 2", "560 ± 8", "560 ± 20"},
	} {
		average, last := judged(key, ranges[0])
		first := last
		for _, value := range ranges[1:] {
			a, worst := judged(key, value)
			if math.Abs(a-average) > 1e-4*average || worst <= last {
				t.Errorf("%s = %s: average %.4f MPa, was %.4f; at worst %.6f MPa, with a narrower range %.6f", key, value, a, average, worst, last)
			}
			last = worst
		}
		if key == "strain_point" && last < 1.015*first {
			t.Errorf("a strain point ± 20 K: at worst %.4f MPa, without %.4f", last, first)
		}
	}
}
