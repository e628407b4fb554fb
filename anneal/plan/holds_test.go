package plan

import (
	"context"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/glass"
)

// TestPlan_keepsTheHoldsOfARule: the soak chart for torch-worked borosilicate
// asks, for 2.5 in, 10 h at 1050 °F, 10 h at 925 °F and 2.5 h at each of three
// lower temperatures (reference row borosilicate-soak, worked by a user).
func TestPlan_keepsTheHoldsOfARule(t *testing.T) {
	p, err := piece.Parse("sphere 2.5in")
	if err != nil {
		t.Fatal(err)
	}
	if p.Glass, err = glass.Find("borosilicate-33"); err != nil {
		t.Fatal(err)
	}
	rep, err := Plan(context.Background(), &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{p}}, kiln.DefaultStudio(), Options{Rule: "borosilicate-soak"})
	if err != nil {
		t.Fatal(err)
	}
	want := []time.Duration{10 * time.Hour, 10 * time.Hour, 150 * time.Minute, 150 * time.Minute, 150 * time.Minute, 0}
	if len(rep.Schedule.Segments) != len(want) {
		t.Fatalf("%d segments, want %d: %v", len(rep.Schedule.Segments), len(want), rep.Schedule.Segments)
	}
	for i, s := range rep.Schedule.Segments {
		if s.Hold != want[i] {
			t.Errorf("segment %d holds %s, want %s", i+1, s.Hold, want[i])
		}
	}
}
