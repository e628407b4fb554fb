package shortest

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"
)

// compared is how many random loads TestShortcuts searches, which takes some three
// seconds of processor time each:
//
//	go test ./anneal/shortest -run TestShortcuts -shortcuts 500 -timeout 1h
//
// -first is the number of the first. With -thorough each is searched without
// shortcuts, too, which takes a quarter of a minute, and not looked up.
var (
	compared   = flag.Int("shortcuts", 0, "random loads that TestShortcuts compares with a search without shortcuts")
	thoroughly = flag.Bool("thorough", false, "TestShortcuts searches without shortcuts instead of looking up what that found")
)

// thoroughHours are the hours of what a search without shortcuts found, 0 for nothing.
func thoroughHours(t *testing.T) []float64 {
	t.Helper()
	text, err := os.ReadFile("testdata/thorough.txt")
	if err != nil {
		t.Fatal(err)
	}
	var out []float64
	for line := range strings.Lines(string(text)) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		var n int
		var hours float64
		if _, err := fmt.Sscanf(strings.ReplaceAll(line, "-", "0"), "%d %g", &n, &hours); err != nil || n != len(out) {
			t.Fatalf("load %d: %q, %v", len(out), line, err)
		}
		out = append(out, hours)
	}
	return out
}

// TestShortcuts: what the search leaves out, coarse simulations, variants and groups
// that hardly decide, finer starts, seldom costs more than 0.5 % of the hours: the bounds
// are one load in forty, and 1 %.
func TestShortcuts(t *testing.T) {
	known := thoroughHours(t)
	var loads []int
	switch {
	case *compared > 0:
		for n := *firstLoad; n < min(*firstLoad+*compared, len(known)); n++ {
			loads = append(loads, n)
		}
	case campaign(): // some that were 0.5 to 3.2 % longer
		loads = []int{2, 3, 4, 5, 21, 24, 79, 107, 124, 133, 142, 143, 144, 186, 195, 211, 216, 335, 342, 376, 386, 394, 438, 446, 498, 499}
	case long():
		loads = []int{21}
	default:
		t.Skip("takes seconds; LEHR_LONG=1 runs it")
	}
	longer, worst, judged, sum, thorough := 0, 0.0, 0, 0.0, 0.0
	for _, n := range loads {
		l, st, o := randomCase(t, n)
		quick, err := Shortest(t.Context(), l, st, Options{Options: o})
		b := known[n]
		if *thoroughly {
			if slow, err := Shortest(t.Context(), l, st, Options{Options: o, thorough: true}); err == nil {
				b = slow.Report.Actual.Total().Hours()
			}
		}
		if (err == nil) != (b > 0) {
			t.Errorf("load %d: %v, without shortcuts %.4f h", n, err, b)
		}
		if err != nil || b == 0 {
			continue
		}
		judged++
		a := quick.Report.Actual.Total().Hours()
		by := a/b - 1
		worst, sum, thorough = max(worst, by), sum+a, thorough+b
		t.Logf("load %d: %.4f h, without shortcuts %.4f h, %+.2f %%, %d simulations", n, a, b, 100*by, quick.Simulations)
		if by > 0.005 {
			longer++
			t.Logf("load %d: longer, %s", n, describe(l, st))
		}
		if by > 0.01 {
			t.Errorf("load %d: %.2f %% longer than without shortcuts", n, 100*by)
		}
	}
	if longer > max(0, (judged+20)/40) {
		t.Errorf("%d of %d loads are more than 0.5 %% longer than without shortcuts", longer, judged)
	}
	t.Logf("%d loads compared, %d more than 0.5 %% longer, at most %.2f %%; %.1f h together, without shortcuts %.1f h", judged, longer, 100*worst, sum, thorough)
}
