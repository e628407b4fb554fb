package week

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"lehr/glass/unit"
)

var monday = time.Date(2026, 11, 23, 22, 0, 0, 0, time.UTC)

func nights(n int) (out []time.Time) {
	for i := range n {
		out = append(out, monday.AddDate(0, 0, i))
	}
	return out
}

func ball(d float64, count int) Kind {
	l := unit.Length(d) * mm
	return Kind{What: fmt.Sprintf("sphere %g mm", d), Count: count, Foot: Foot{l, l, true}, Height: l}
}

func shelf(name string, w, d float64, n int) Kiln {
	return Kiln{Name: name, Width: unit.Length(w) * mm, Depth: unit.Length(d) * mm, Height: 150 * mm, Nights: nights(n), Empty: time.Hour}
}

// alwaysShare takes ten hours and an hour for each kind.
func alwaysShare(_ int, kinds []int) (time.Duration, error, error) {
	return time.Duration(10+len(kinds)) * time.Hour, nil, nil
}

func TestMake(t *testing.T) {
	// 24 of 63.5 mm with a gap of 20 mm: 12 on 300 × 300, so two nights.
	p, err := Make(t.Context(), []Kind{ball(63.5, 24)}, []Kiln{shelf("big", 300, 300, 7)}, 20*mm, How{Share: alwaysShare})
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Firings) != 2 || !p.Fewest || p.Least != 2 || p.Because != "shelf" || p.Firings[0].Counts[0] != 12 || !p.Firings[1].Start.Equal(monday.AddDate(0, 0, 1)) {
		t.Errorf("%+v", p)
	}
	// Two kinds that cannot share need a night each, whatever they cover.
	never := func(_ int, kinds []int) (time.Duration, error, error) {
		if len(kinds) > 1 {
			return 0, errors.New("their soaks do not meet"), nil
		}
		return 10 * time.Hour, nil, nil
	}
	p, err = Make(t.Context(), []Kind{ball(60, 1), ball(30, 1)}, []Kiln{shelf("big", 300, 300, 7)}, 20*mm, How{Share: never})
	if err != nil || len(p.Firings) != 2 || !p.Fewest || p.Because != "conflict" || len(p.Conflicts) != 1 {
		t.Errorf("%+v, %v", p, err)
	}
	// A firing of 30 h takes the next night, too.
	long := func(int, []int) (time.Duration, error, error) { return 30 * time.Hour, nil, nil }
	p, err = Make(t.Context(), []Kind{ball(63.5, 24)}, []Kiln{shelf("big", 300, 300, 7)}, 20*mm, How{Share: long})
	if err != nil || !p.Firings[1].Start.Equal(monday.AddDate(0, 0, 2)) {
		t.Errorf("%+v, %v", p, err)
	}
	// Two kilns do it in one night.
	p, err = Make(t.Context(), []Kind{ball(63.5, 24)}, []Kiln{shelf("big", 300, 300, 7), shelf("small", 300, 300, 7)}, 20*mm, How{Share: alwaysShare})
	if err != nil || len(p.Firings) != 2 || !p.Firings[1].Start.Equal(monday) {
		t.Errorf("%+v, %v", p, err)
	}
}

func TestMake_due(t *testing.T) {
	// The small ones are due after the first night, the large ones never: the
	// order by hours alone would be late.
	a, b := ball(63.5, 12), ball(31.75, 42)
	b.Due = monday.Add(20 * time.Hour)
	share := func(_ int, kinds []int) (time.Duration, error, error) {
		if len(kinds) > 1 {
			return 0, errors.New("no"), nil
		}
		return time.Duration(14-2*kinds[0]) * time.Hour, nil, nil
	}
	p, err := Make(t.Context(), []Kind{a, b}, []Kiln{shelf("big", 300, 300, 7)}, 15*mm, How{Share: share})
	if err != nil || len(p.Late) > 0 || p.Firings[0].Counts[1] != 42 {
		t.Errorf("%+v, %v", p, err)
	}
	b.Due = monday.Add(5 * time.Hour)
	p, err = Make(t.Context(), []Kind{a, b}, []Kiln{shelf("big", 300, 300, 7)}, 15*mm, How{Share: share})
	if err != nil || len(p.Late) != 1 || p.Late[0].By != 7*time.Hour || !p.Fewest || len(p.Firings) != p.Least || p.Untried != NoneInTime || p.Tried != len(p.Firings)+2 {
		t.Errorf("%+v, %v", p, err)
	}
	// Not enough nights.
	p, err = Make(t.Context(), []Kind{a, b}, []Kiln{shelf("big", 300, 300, 1)}, 15*mm, How{Share: share})
	if err != nil || p.Left[0]+p.Left[1] == 0 || p.Fewest {
		t.Errorf("%+v, %v", p, err)
	}
}

func TestMake_refuses(t *testing.T) {
	ok := []Kiln{shelf("big", 300, 300, 7)}
	no := func(int, []int) (time.Duration, error, error) { return 0, errors.New("no program"), nil }
	bad := func(int, []int) (time.Duration, error, error) { return 0, nil, fmt.Errorf("broken") }
	tall := ball(60, 1)
	tall.Height = unit.Meter
	for want, f := range map[string]func() (*Plan, error){
		"nothing is ordered": func() (*Plan, error) { return Make(t.Context(), nil, ok, 0, How{Share: alwaysShare}) },
		"no kiln":            func() (*Plan, error) { return Make(t.Context(), []Kind{ball(60, 1)}, nil, 0, How{Share: alwaysShare}) },
		"two kilns have the name": func() (*Plan, error) {
			return Make(t.Context(), []Kind{ball(60, 1)}, append(ok, shelf("BIG", 1, 1, 1)), 0, How{Share: alwaysShare})
		},
		"count 0":              func() (*Plan, error) { return Make(t.Context(), []Kind{ball(60, 0)}, ok, 0, How{Share: alwaysShare}) },
		"higher than any kiln": func() (*Plan, error) { return Make(t.Context(), []Kind{tall}, ok, 0, How{Share: alwaysShare}) },
		"fits on no shelf": func() (*Plan, error) {
			return Make(t.Context(), []Kind{ball(140, 1)}, []Kiln{shelf("x", 100, 100, 1)}, 0, How{Share: alwaysShare})
		},
		"even alone: no program": func() (*Plan, error) { return Make(t.Context(), []Kind{ball(60, 1)}, ok, 0, How{Share: no}) },
		"broken":                 func() (*Plan, error) { return Make(t.Context(), []Kind{ball(60, 1)}, ok, 0, How{Share: bad}) },
	} {
		if p, err := f(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %+v, %v, want %q", p, err, want)
		}
	}
	var many []Kind
	for i := range MostKinds + 1 {
		many = append(many, ball(20+float64(i), 1))
	}
	alone := func(_ int, set []int) (time.Duration, error, error) {
		if len(set) > 1 {
			return 0, errors.New("no"), nil
		}
		return time.Hour, nil, nil
	}
	p, err := Make(t.Context(), many, []Kiln{shelf("big", 300, 300, 20)}, 5*mm, How{Share: alone})
	if err != nil || p.Fewest || p.Untried != OneWay {
		t.Errorf("%+v, %v", p, err)
	}
}

// A plan holds every piece once, on shelves that hold it, in kinds that share,
// on nights of its own; it has no fewer firings than the bound, and no more
// than a search of every way, piece by piece, finds.
func TestMake_everyWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 3).Draw(t, "kinds")
		var kinds []Kind
		total := 0
		for range n {
			k := ball(float64(rapid.IntRange(20, 90).Draw(t, "d")), rapid.IntRange(1, 3).Draw(t, "count"))
			total += k.Count
			kinds = append(kinds, k)
		}
		kilns := []Kiln{shelf("a", 150, 120, 9)}
		if rapid.Bool().Draw(t, "two") {
			kilns = append(kilns, shelf("b", 100, 100, 9))
		}
		forbidden := rapid.IntRange(0, 7).Draw(t, "pairs")
		share := func(_ int, set []int) (time.Duration, error, error) {
			for _, i := range set {
				for _, j := range set {
					if i < j && forbidden>>(i+j-1)&1 == 1 {
						return 0, errors.New("no"), nil
					}
				}
			}
			return 10 * time.Hour, nil, nil
		}
		p, err := Make(t.Context(), kinds, kilns, 10*mm, How{Share: share})
		if err != nil {
			t.Fatal(err)
		}
		sum := make([]int, n)
		at := map[string]bool{}
		for _, f := range p.Firings {
			if _, ok := fits(kinds, f.Counts, kilns[f.Kiln], 10*mm); !ok {
				t.Fatalf("does not fit: %+v", f)
			}
			var set []int
			for i, c := range f.Counts {
				sum[i] += c
				if c > 0 {
					set = append(set, i)
				}
			}
			if _, why, _ := share(0, set); why != nil {
				t.Fatalf("cannot share: %+v", f)
			}
			key := fmt.Sprint(f.Kiln, f.Start)
			if at[key] {
				t.Fatalf("a night is taken twice: %+v", p)
			}
			at[key] = true
		}
		for i, k := range kinds {
			if sum[i] != k.Count {
				t.Fatalf("%d of %d", sum[i], k.Count)
			}
		}
		if len(p.Firings) < p.Least {
			t.Fatalf("fewer than the bound: %+v", p)
		}
		if !p.Fewest {
			t.Fatalf("not proved: %+v", p)
		}
		if best := everyWay(kinds, kilns, share, total); best != len(p.Firings) {
			t.Fatalf("every way finds %d, the plan %d", best, len(p.Firings))
		}
	})
}

// everyWay opens firings and puts each piece into each, one by one.
func everyWay(kinds []Kind, kilns []Kiln, share Share, total int) int {
	best := total + 1
	var slots []slot
	var put func(kind, left int)
	put = func(kind, left int) {
		if len(slots) >= best {
			return
		}
		if left == 0 {
			if kind++; kind == len(kinds) {
				best = len(slots)
				return
			}
			left = kinds[kind].Count
		}
		try := func(i int) {
			slots[i].counts[kind]++
			var set []int
			for j, c := range slots[i].counts {
				if c > 0 {
					set = append(set, j)
				}
			}
			_, why, _ := share(0, set)
			if _, ok := fits(kinds, slots[i].counts, kilns[slots[i].kiln], 10*mm); ok && why == nil {
				put(kind, left-1)
			}
			slots[i].counts[kind]--
		}
		for i := range slots {
			try(i)
		}
		for c := range kilns {
			slots = append(slots, slot{kiln: c, counts: make([]int, len(kinds))})
			try(len(slots) - 1)
			slots = slots[:len(slots)-1]
		}
	}
	put(0, kinds[0].Count)
	return best
}
