package plan

import (
	"context"
	"testing"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/glass"
)

// TestLight_sayingItNeverFails: a program planned without a word on how clear a
// piece is keeps it within its limits whatever the answer turns out to be, and
// an answer costs no time.
func TestLight_sayingItNeverFails(t *testing.T) {
	for i, name := range []string{"borosilicate-33", "soda-104"} {
		g, err := glass.Find(name)
		if err != nil {
			t.Fatal(err)
		}
		for j, what := range []string{"sphere 2.5in", "sphere 5in", "disc 100mm x 12mm", "tube 40mm wall 6mm open"} {
			if !long() && (i != 1 || j != 2) || !campaign() && (i+j)%2 == 0 { // every shape in one of the glasses
				continue
			}
			load := func(word string) *piece.Load {
				p, err := piece.Parse(what + word)
				if err != nil {
					t.Fatal(err)
				}
				p.Glass = g
				return &piece.Load{Pieces: []piece.Piece{p}, Into: piece.HotKiln}
			}
			st := kiln.DefaultStudio()
			unsaid, err := Plan(context.Background(), load(""), st, hoursOnly)
			if err != nil {
				t.Fatal(err)
			}
			for _, word := range []string{" clear", " dark", " opaque"} {
				rep, err := verify.Program(context.Background(), unsaid.Schedule, load(word), st, kiln.Limits{})
				if err != nil {
					t.Fatal(err)
				}
				if v := rep.Verdict(); v != verify.WithinLimits {
					t.Errorf("%s, %s%s: %s", name, what, word, v)
				}
				if word != " clear" && !long() {
					continue
				}
				said, err := Plan(context.Background(), load(word), st, hoursOnly)
				if err != nil {
					t.Fatal(err)
				}
				if a, b := said.Actual.Total(), unsaid.Actual.Total(); a > b+b/100 {
					t.Errorf("%s, %s%s: takes %v, %v without the word", name, what, word, a, b)
				}
			}
		}
	}
}
