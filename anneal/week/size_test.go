package week

import (
	"errors"
	"math/rand/v2"
	"os"
	"testing"
	"time"
)

// TestMake_size: an order of up to twelve kinds over seven nights of three kilns,
// full of conflicts, is proved to need the firings that it gets, which hold all of
// it; and a search of another kind, piece by piece and without prices, finds no
// plan with fewer.
func TestMake_size(t *testing.T) {
	orders := 8
	if os.Getenv("LEHR_LONG") == "1" {
		orders = 40
	}
	r := rand.New(rand.NewPCG(1, 2))
	searched, longest := 0, time.Duration(0)
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
		share := func(_ int, set []int) (time.Duration, error, error) {
			h := 10 * time.Hour
			for _, i := range set {
				for _, j := range set {
					if never[[2]int{i, j}] {
						return 0, errors.New("no"), nil
					}
				}
				h = max(h, time.Duration(8+i)*time.Hour)
			}
			return h, nil, nil
		}
		start := time.Now()
		kilns := []Kiln{shelf("a", 300, 300, 7), shelf("b", 400, 300, 7), shelf("c", 200, 200, 7)}
		p, err := Make(t.Context(), kinds, kilns, 15*mm, How{Share: share})
		if err != nil {
			t.Fatal(err)
		}
		longest = max(longest, time.Since(start))
		other := newPlanner(t.Context(), kinds, kilns, 15*mm, share)
		if found, all := other.search(len(p.Firings)-1, other.conflicts(&Plan{})); found != nil {
			t.Errorf("order %d: %d firings, a search finds %d", trial, len(p.Firings), len(found))
		} else if all {
			searched++
		}
		if !p.Fewest || p.Untried != Nothing || len(p.Firings) != p.Least || len(p.Late) > 0 {
			t.Errorf("order %d: %d firings, least %d, fewest %v, untried %v", trial, len(p.Firings), p.Least, p.Fewest, p.Untried)
		}
		for i, k := range kinds {
			for _, f := range p.Firings {
				k.Count -= f.Counts[i]
			}
			if k.Count != 0 {
				t.Errorf("order %d: %d of %s left", trial, k.Count, k.What)
			}
		}
		t.Logf("%d kinds: %d firings, least %d, fewest %v, %v %s", n, len(p.Firings), p.Least, p.Fewest, p.Untried, time.Since(start).Round(time.Millisecond))
	}
	if 2*searched < orders {
		t.Errorf("%d of %d searched through otherwise: the check says little", searched, orders)
	}
	t.Logf("%d of %d searched through otherwise, at most %s", searched, orders, longest.Round(time.Millisecond))
}
