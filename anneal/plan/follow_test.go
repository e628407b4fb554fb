package plan

import (
	"context"
	"testing"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/glass"
)

// verifyText verifies a schedule file for one piece.
func verifyText(t *testing.T, schedule, name, what string, into piece.Into, st kiln.Studio) (*verify.Report, error) {
	t.Helper()
	s, err := readSchedule(schedule)
	if err != nil {
		t.Fatal(err)
	}
	p, err := piece.Parse(what)
	if err != nil {
		t.Fatal(err)
	}
	if p.Glass, err = glass.Find(name); err != nil {
		t.Fatal(err)
	}
	return verify.Program(context.Background(), s, &piece.Load{Into: into, Pieces: []piece.Piece{p}}, st, kiln.Limits{})
}
