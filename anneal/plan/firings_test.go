package plan

import (
	"context"
	"errors"
	"testing"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// TestShare_bounded: twelve kinds of which the planner refuses every two together
// are the worst case for a split. The planner is asked about no more than the
// bound, the answer is said not to be proved, and progress counts what was asked.
func TestShare_bounded(t *testing.T) {
	l := &piece.Load{Into: piece.HotKiln}
	for i := range MostExact {
		p := pieceOf(t, "sphere 20mm", "borosilicate-33")
		p.Size += unit.Length(i) * unit.Millimeter
		l.Pieces = append(l.Pieces, p)
	}
	for _, c := range []struct {
		name    string
		refuses func(l *piece.Load) bool
		firings int
		exact   bool
	}{
		{"no two go together", func(l *piece.Load) bool { return len(l.Pieces) > 1 }, MostExact, false},
		{"one goes with none", func(l *piece.Load) bool {
			return len(l.Pieces) > 1 && l.Pieces[0].Size == 20*unit.Millimeter
		}, 2, true},
	} {
		together, planned, most := 0, 0, 0
		s, err := Share(t.Context(), l, kiln.DefaultStudio(), Options{}, ShareHow{
			Planner: func(_ context.Context, l *piece.Load, _ kiln.Studio, _ Options) (*verify.Report, error) {
				if len(l.Pieces) > 1 {
					together += len(l.Pieces)
				}
				rep := &verify.Report{Within: true, Actual: program.Timeline{Points: make([]program.Point, 1)}}
				for i, p := range l.Pieces {
					over := c.refuses(l) && i == 0
					rep.Pieces = append(rep.Pieces, verify.PieceReport{Piece: p, Within: !over})
				}
				return rep, nil
			},
			Progress: func(n, m int) { planned, most = n, m },
		})
		if err != nil {
			t.Fatal(err)
		}
		covers(t, l, s)
		if len(s.Firings) != c.firings || s.Exact != c.exact {
			t.Errorf("%s: %d firings, proved %v", c.name, len(s.Firings), s.Exact)
		}
		if together > mostWork+MostExact || planned < together || most < planned {
			t.Errorf("%s: %d pieces planned together, the bound is %d; progress %d of %d", c.name, together, mostWork, planned, most)
		}
	}
}

// TestShare_interrupted: a split that is stopped ends at once with the error of
// the context, not with a piece to blame.
func TestShare_interrupted(t *testing.T) {
	needLong(t)
	l := loadOf(t, "borosilicate-33", "sphere 1in", "sphere 1.25in", "sphere 1.5in")
	for stop := range 4 {
		ctx, cancel := context.WithCancel(t.Context())
		asked := 0
		how := ShareHow{Planner: func(ctx context.Context, l *piece.Load, st kiln.Studio, o Options) (*verify.Report, error) {
			if asked++; asked > stop {
				cancel()
			}
			return Plan(ctx, l, st, o)
		}}
		_, err := Share(ctx, l, kiln.DefaultStudio(), Options{}, how)
		if !errors.Is(err, context.Canceled) || asked != stop+1 {
			t.Errorf("stopped in plan %d: %v after %d", stop+1, err, asked)
		}
		cancel()
	}
}
