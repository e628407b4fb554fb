package week

import (
	"context"
	"errors"
	"slices"
	"testing"
	"time"
)

// large is an order whose search goes on for minutes if nothing ends it.
func large() (kinds []Kind, kilns []Kiln) {
	for i := range 12 {
		kinds = append(kinds, ball(float64(20+25*i/12), 200))
		kinds[i].Due = monday.AddDate(0, 0, 12)
	}
	return kinds, []Kiln{shelf("a", 600, 600, 12), shelf("b", 450, 430, 12), shelf("c", 500, 460, 12)}
}

// The work of a search has an end, whatever the order, and what it found by then
// holds all of it and is not called proved.
func TestMake_bounded(t *testing.T) {
	kinds, kilns := large()
	var plans [2]*Plan
	for i := range plans {
		p := newPlanner(t.Context(), kinds, kilns, 20*mm, alwaysShare)
		p.limit = 50_000_000
		var err error
		if plans[i], err = p.make(How{}); err != nil {
			t.Fatal(err)
		}
		if p.done < p.limit/10 || p.done > p.limit+1_000_000 {
			t.Errorf("%d done of at most %d", p.done, p.limit)
		}
	}
	p := plans[0]
	if p.Fewest || p.Untried != SomeWays || p.Least >= len(p.Firings) || slices.Max(p.Left) > 0 || len(p.Late) > 0 {
		t.Errorf("%d firings, least %d, fewest %v, untried %v, left %v", len(p.Firings), p.Least, p.Fewest, p.Untried, p.Left)
	}
	for i, f := range p.Firings {
		if g := plans[1].Firings[i]; !slices.Equal(f.Counts, g.Counts) || f.Kiln != g.Kiln {
			t.Errorf("firing %d: %v, then %v", i, f, g)
		}
	}
}

// An interrupt is heard at once, and takes the best plan if there is one.
func TestMake_interrupted(t *testing.T) {
	kinds, kilns := large()
	ctx, cancel := context.WithCancel(t.Context())
	var at time.Time
	p, err := Make(ctx, kinds, kilns, 20*mm, How{Share: alwaysShare, Progress: func(p Progress) {
		if p.Firings > 0 && p.Sets > 78 && at.IsZero() { // after all pairs
			cancel()
			at = time.Now()
		}
	}})
	if took := time.Since(at); err != nil || at.IsZero() || took > 2*time.Second {
		t.Fatalf("%v after the interrupt: %v", took, err)
	}
	if p.Fewest || p.Untried != Interrupted || slices.Max(p.Left) > 0 {
		t.Errorf("fewest %v, untried %v, left %v", p.Fewest, p.Untried, p.Left)
	}
	if _, err := Make(ctx, kinds, kilns, 20*mm, How{Share: alwaysShare}); !errors.Is(err, context.Canceled) {
		t.Errorf("interrupted before: %v", err)
	}
}

// Kinds of which nobody asked are kept apart; that proves nothing, and is no
// conflict.
func TestMake_unasked(t *testing.T) {
	share := func(_ int, kinds []int) (time.Duration, error, error) {
		if len(kinds) > 1 {
			return 0, ErrUnasked, nil
		}
		return 10 * time.Hour, nil, nil
	}
	p, err := Make(t.Context(), []Kind{ball(60, 1), ball(30, 1)}, []Kiln{shelf("big", 300, 300, 7)}, 20*mm, How{Share: share})
	if err != nil || len(p.Firings) != 2 || p.Least != 1 || p.Fewest || !p.Unasked || len(p.Conflicts) > 0 {
		t.Errorf("%+v, %v", p, err)
	}
}

// mute is a reason without words.
type mute struct{}

func (mute) Error() string { return "" }

// Kinds stay apart for a reason, whatever it says; it is handed on as it is.
func TestMake_reason(t *testing.T) {
	share := func(_ int, kinds []int) (time.Duration, error, error) {
		if len(kinds) > 1 {
			return 0, mute{}, nil
		}
		return 10 * time.Hour, nil, nil
	}
	kinds, kilns := []Kind{ball(60, 1), ball(30, 1)}, []Kiln{shelf("big", 300, 300, 7)}
	p, err := Make(t.Context(), kinds, kilns, 20*mm, How{Share: share})
	if err != nil || len(p.Firings) != 2 || p.Least != 2 || len(p.Conflicts) != 1 || p.Conflicts[0].Why != (mute{}) {
		t.Errorf("%+v, %v", p, err)
	}
	never := func(int, []int) (time.Duration, error, error) { return 0, mute{}, nil }
	_, err = Make(t.Context(), kinds, kilns, 20*mm, How{Share: never})
	var alone *AloneError
	if !errors.As(err, &alone) || alone.What != kinds[0].What || !errors.Is(err, mute{}) {
		t.Errorf("%v", err)
	}
}

// Of kilns that heat alike one is asked about.
func TestMake_alike(t *testing.T) {
	kilns := []Kiln{shelf("a", 300, 300, 7), shelf("b", 300, 300, 7), shelf("c", 300, 300, 7)}
	for _, c := range []struct{ heat, pairs int }{{0, 1}, {1, 3}} {
		pairs := 0
		share := func(_ int, kinds []int) (time.Duration, error, error) {
			if len(kinds) > 1 {
				pairs++
				return 0, errors.New("no"), nil
			}
			return 10 * time.Hour, nil, nil
		}
		for i := range kilns {
			kilns[i].Heat = i * c.heat
		}
		p, err := Make(t.Context(), []Kind{ball(60, 1), ball(30, 1)}, kilns, 20*mm, How{Share: share})
		if err != nil || len(p.Conflicts) != 1 || !p.Fewest || pairs != c.pairs {
			t.Errorf("heat %d: asked %d times, %+v, %v", c.heat, pairs, p, err)
		}
	}
}

// Kinds beyond the thirty-second are asked about as what they are, on machines of
// 32 bits too.
func TestMake_kinds(t *testing.T) {
	var kinds []Kind
	for i := range 40 {
		kinds = append(kinds, ball(float64(20+i), 1))
	}
	share := func(_ int, set []int) (time.Duration, error, error) {
		if len(set) == 0 || len(set) > 1 && set[len(set)-1] >= 30 {
			return 0, errors.New("no"), nil
		}
		return 10 * time.Hour, nil, nil
	}
	p, err := Make(t.Context(), kinds, []Kiln{shelf("big", 600, 600, 30)}, 20*mm, How{Share: share})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range p.Firings {
		if slices.Max(f.Counts[30:]) > 0 && f.Pieces() > 1 {
			t.Errorf("%v lie together", f.Counts)
		}
	}
	if slices.Max(p.Left) > 0 || len(p.Firings) < 11 {
		t.Errorf("%d firings, left %v", len(p.Firings), p.Left)
	}
}
