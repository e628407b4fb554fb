package plan

import (
	"context"
	"testing"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/spread"
	"lehr/glass/unit"
)

// TestQuestions_areKept: what an answer is said to save is what a load that gives
// it takes less, and no measured property makes a program longer.
func TestQuestions_areKept(t *testing.T) {
	load := func(what string) *piece.Load {
		return &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{pieceOf(t, what, "borosilicate-33")}}
	}
	st := kiln.DefaultStudio()
	o := Options{Limits: kiln.Limits{Residual: 11 * unit.Megapascal / 10}} // of the worst case, which decides then
	rep := mustPlan(t, load("sphere 4in"), st, o)
	list, err := Questions(context.Background(), rep, o)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[finding.Kind]bool{}
	for _, f := range list {
		seen[f.Kind] = true
		if f.Kind != finding.LightCosts {
			continue
		}
		for word, said := range map[string]float64{" clear": f.Time.Hours(), " dark": f.Bears.Hours()} {
			next := mustPlan(t, load("sphere 4in"+word), st, o)
			if saved := rep.Actual.Total().Hours() - next.Actual.Total().Hours(); saved < said-1.0/60 || saved > said+1.0/60 {
				t.Errorf("%s: said to save %.2f h, saves %.2f h", word, said, saved)
			}
		}
	}
	if !seen[finding.LightCosts] || !seen[finding.RangeCosts] {
		t.Errorf("asks %+v", list)
	}
	for i, r := range spread.Ranges(rep.Load.Pieces[0].Glass) {
		if i > 0 && !long() {
			break
		}
		l := load("sphere 4in")
		g, err := spread.Known(l.Pieces[0].Glass, r.Key)
		if err != nil {
			t.Fatal(err)
		}
		l.Pieces[0].Glass = g
		if next := mustPlan(t, l, st, o); next.Actual.Total() > rep.Actual.Total()*103/100 {
			t.Errorf("%s measured: %s, not measured %s", r.Key, next.Actual.Total(), rep.Actual.Total())
		}
	}
}
