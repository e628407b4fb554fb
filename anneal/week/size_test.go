package week

import (
	"math/rand/v2"
	"os"
	"testing"
	"time"
)

// TestMake_size: an order of up to twelve kinds over seven nights of three kilns,
// full of conflicts, is in at least half of the cases proved to need the firings
// that it gets; where it is not, the plan says what was not tried.
func TestMake_size(t *testing.T) {
	orders := 12
	if os.Getenv("LEHR_CAMPAIGN") == "1" {
		orders = 40
	}
	r := rand.New(rand.NewPCG(1, 2))
	proved, longest := 0, time.Duration(0)
	for trial := range orders {
		n := 6 + trial%7
		var kinds []Kind
		for range n {
			kinds = append(kinds, ball(float64(20+r.IntN(80)), 1+r.IntN(12)))
		}
		never := map[[2]int]bool{}
		for i := range n {
			for j := range i {
				never[[2]int{j, i}] = r.IntN(5) == 0
			}
		}
		share := func(_ int, set []int) (time.Duration, string, error) {
			h := 10 * time.Hour
			for _, i := range set {
				for _, j := range set {
					if never[[2]int{i, j}] {
						return 0, "no", nil
					}
				}
				h = max(h, time.Duration(8+i)*time.Hour)
			}
			return h, "", nil
		}
		start := time.Now()
		p, err := Make(kinds, []Kiln{shelf("a", 300, 300, 7), shelf("b", 400, 300, 7), shelf("c", 200, 200, 7)}, 15*mm, share)
		if err != nil {
			t.Fatal(err)
		}
		longest = max(longest, time.Since(start))
		if p.Fewest {
			proved++
		}
		if p.Fewest == (p.Untried != "") || len(p.Firings) < p.Least {
			t.Errorf("order %d: %d firings, least %d, fewest %v, untried %q", trial, len(p.Firings), p.Least, p.Fewest, p.Untried)
		}
		t.Logf("%d kinds: %d firings, least %d, fewest %v, %s %s", n, len(p.Firings), p.Least, p.Fewest, p.Untried, time.Since(start).Round(time.Millisecond))
	}
	if 2*proved < orders {
		t.Errorf("%d of %d proved", proved, orders)
	}
	t.Logf("%d of %d proved, at most %s", proved, orders, longest.Round(time.Millisecond))
}
