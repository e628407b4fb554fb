package report

import (
	"context"
	"math"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"

	"lehr/cmd/lehr/picture"
	"lehr/glass"
	"lehr/glass/unit"
)

// TestNewNightCurve: the picture of a night holds what was read, point by point,
// and what was told, moved to where it began and cut at both ends of the log.
func TestNewNightCurve(t *testing.T) {
	p, err := piece.Parse("sphere 40mm dark")
	if err != nil {
		t.Fatal(err)
	}
	if p.Glass, err = glass.Find("borosilicate-33"); err != nil {
		t.Fatal(err)
	}
	at := func(hours, celsius float64) kiln.Reading {
		return kiln.Reading{At: unit.Celsius(celsius), Time: unit.Seconds(hours * 3600)}
	}
	done := []kiln.Reading{at(0, 560), at(1, 560), at(3, 470), at(8, 40)}
	c, err := kiln.NewCurve(done)
	if err != nil {
		t.Fatal(err)
	}
	rep, err := verify.Replay(context.Background(), c, &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{p}}, kiln.DefaultStudio(), kiln.Limits{}, true)
	if err != nil {
		t.Fatal(err)
	}
	clock := unit.Clock(22 * 60)
	curve, err := NewNightCurve(rep, Nominal{As: []kiln.Reading{at(0, 560), at(2, 560), at(4, 460), at(12, 40)}, Begins: -time.Hour, Clock: &clock})
	if err != nil {
		t.Fatal(err)
	}
	near := func(what string, got picture.Point, hours, celsius float64) {
		if math.Abs(got.Time-hours*3600) > 1 || math.Abs(got.Value-celsius) > 0.1 {
			t.Errorf("%s: %.2f h, %.1f °C, want %.2f h, %.1f °C", what, got.Time/3600, got.Value, hours, celsius)
		}
	}
	for i, r := range done {
		near("read", curve.Kiln[i], r.Time.Hours(), r.At.Celsius())
	}
	nominal := curve.Nominal
	if len(nominal) != 4 || *curve.Start != clock || rep.Load.Start != nil {
		t.Fatalf("%+v from %v", nominal, curve.Start)
	}
	for i, want := range [][2]float64{{0, 560}, {1, 560}, {3, 460}, {8, 460 - 420*5/8.0}} {
		near("told", nominal[i], want[0], want[1])
	}
	most := greatest(curve.Pieces[0].Share) * rep.Pieces[0].Tension.Limit().Megapascals()
	if want := rep.Pieces[0].Peak.Megapascals(); math.Abs(most/want-1) > 0.02 || curve.Length != 8*3600 {
		t.Errorf("greatest tension %.3f MPa in %g s, the report has %.3f", most, curve.Length, want)
	}
	// Without a program nothing is told.
	if curve, err = NewNightCurve(rep, Nominal{}); err != nil || len(curve.Nominal) > 0 || curve.Start != nil {
		t.Errorf("%v, %+v", err, curve)
	}
}
