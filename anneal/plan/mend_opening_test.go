package plan

import (
	"context"
	"strings"
	"testing"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
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
	if want := finding.Of(finding.MendOpening).At(closed.Temp).Lasting(closed.Time, 0).Which(true); err != nil || !ok || f != want {
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

// TestMend_opensAtTheRoom: where no reading does, the kiln stays closed until the room
// is reached; a program with another fault is not mended so.
func TestMend_opensAtTheRoom(t *testing.T) {
	ctx := context.Background()
	st := kiln.DefaultStudio()
	st.Opening = unit.Celsius(150)
	for _, c := range []struct {
		rate float64 // °F/h
		kind finding.Kind
	}{{18, finding.MendOpening}, {108, finding.MendNone}} {
		l := &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{pieceOf(t, "sphere 2in", "soda-104")}}
		s := program.Schedule{From: unit.Celsius(512), Segments: []program.Segment{
			{To: unit.Celsius(512), Hold: 3 * time.Hour},
			{Rate: unit.FahrenheitPerHour(-c.rate), To: unit.Celsius(380)},
			{Rate: unit.FahrenheitPerHour(-36), To: st.Opening},
		}}
		rep, err := verify.Program(ctx, s, l, st, kiln.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		if closed, ok := rep.Notes.Find(finding.KeepClosed); !ok || !closed.Temp.IsZero() {
			t.Errorf("%v °F/h: %+v", c.rate, closed)
		}
		if f, ok, err := Mend(ctx, rep, st); err != nil || !ok || f.Kind != c.kind || !f.Temp.IsZero() {
			t.Errorf("%v °F/h: %+v, %v, %v; over %v", c.rate, f, ok, err, rep.Pieces[0].Over)
		}
	}
}
