package plan

import (
	"context"
	"strings"
	"testing"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// TestMend_opensCooler: of a program whose only fault is the opening the smallest
// change is a cooler one, which passes where it is given as the opening of the studio,
// for the program planned to it and for the kiln left closed; a step hotter neither
// does.
func TestMend_opensCooler(t *testing.T) {
	ctx := context.Background()
	st, err := kiln.ReadStudio(strings.NewReader("[kiln]\nopening = \"195 °C\"\ncooling_points = \"560 °C 0 min, 480 °C 35 min, 300 °C 2.5 h, 100 °C 9 h\"\n"), "studio.toml")
	if err != nil {
		t.Fatal(err)
	}
	l := &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{pieceOf(t, "sphere 3in", "borosilicate-33")}}
	rep, err := Plan(ctx, l, st, Options{})
	if err != nil {
		t.Fatal(err)
	}
	closed, ok := rep.Notes.Find(finding.KeepClosed)
	if !ok || !closed.Temp.Less(st.Opening) || !closed.Yes || closed.Time <= 0 || rep.Verdict() != verify.OverLimit {
		t.Fatalf("%s, %+v", rep.Verdict(), closed)
	}
	f, ok, err := Mend(ctx, rep, st)
	if want := finding.Of(finding.MendOpening).At(closed.Temp).Lasting(closed.Time, 0); err != nil || !ok || f != want {
		t.Errorf("%+v, %v, %v, want %+v", f, ok, err, want)
	}
	for _, hotter := range []unit.Delta{0, 5} {
		to := closed.Temp.Add(hotter)
		as := st
		as.Opening = to
		planned, err := Plan(ctx, l, as, Options{})
		if err != nil {
			t.Fatal(err)
		}
		left, err := verify.Program(ctx, rep.Closed(to), l, as, kiln.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		for what, next := range map[string]*verify.Report{"planned": planned, "left closed": left} {
			if within := next.Verdict() == verify.WithinLimits; within != (hotter == 0) || within == next.Notes.Has(finding.KeepClosed) {
				t.Errorf("opened at %s, %s: %s, %v", to, what, next.Verdict(), next.Pieces[0].Over)
			}
		}
	}
}
