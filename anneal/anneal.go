// Package anneal is the small front of the rooms beside it: it plans, verifies,
// shares and shortens kiln programs for pieces of glass.
//
//	formula ← piece, kiln ← program ← rule ← verify ← plan ← shortest
//
// A load of pieces (package piece) and a studio (package kiln) go in, a report
// (package verify) comes out, whose program is exactly the one that was
// simulated. The long work stops soon after its context ends. The package reads
// no files and prints nothing.
package anneal

import (
	"context"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/program"
	"lehr/anneal/shortest"
	"lehr/anneal/verify"
)

// What goes in and comes out, under the names of the rooms that hold it.
type (
	Load     = piece.Load
	Studio   = kiln.Studio
	Limits   = kiln.Limits
	Schedule = program.Schedule
	Options  = plan.Options
	Report   = verify.Report
	Sharing  = plan.Sharing
)

// Plan proposes a program for the load and proves it. See [plan.Plan].
func Plan(ctx context.Context, l *Load, st Studio, o Options) (*Report, error) {
	return plan.Plan(ctx, l, st, o)
}

// Verify judges a program as it is. See [verify.Program].
func Verify(ctx context.Context, s Schedule, l *Load, st Studio, limits Limits) (*Report, error) {
	return verify.Program(ctx, s, l, st, limits)
}

// Share says whether the load can share one program, and if not, how few do it.
// See [plan.Share].
func Share(ctx context.Context, l *Load, st Studio, o Options) (*Sharing, error) {
	return plan.Share(ctx, l, st, o, plan.ShareHow{})
}

// Shortest searches for the shortest program that keeps the limits. See
// [shortest.Shortest].
func Shortest(ctx context.Context, l *Load, st Studio, o Options) (*Report, error) {
	res, err := shortest.Shortest(ctx, l, st, shortest.Options{Options: o})
	if err != nil {
		return nil, err
	}
	return res.Report, nil
}
