package main

import (
	"slices"
	"testing"

	"lehr/anneal/piece"
)

func TestMergeAssumed(t *testing.T) {
	l := &piece.Load{Pieces: []piece.Piece{{What: "sphere 2in"}, {What: "sphere 2in raised"}, {What: "sphere 1in"}}}
	for _, c := range []struct{ in, want []string }{
		{nil, nil},
		{[]string{"the kiln obeys; so far"}, []string{"the kiln obeys; so far"}},
		// What is said of several stands once; what is said of one stays with it.
		{[]string{"sphere 2in: 50.8 mm; shelf", "sphere 1in: 25.4 mm; shelf", "sphere 2in raised: 50.8 mm"},
			[]string{"sphere 2in, sphere 2in raised: 50.8 mm", "sphere 2in, sphere 1in: shelf", "sphere 1in: 25.4 mm"}},
		{[]string{"sphere 2in: a", "sphere 1in: a", "sphere 2in raised: a"}, []string{"every piece: a"}},
		// A rule has one line; numbers that alone differ make a range.
		{[]string{"rule x: slow at 0.997 of it", "rule x: steady", "rule x: slow at 0.984 of it", "rule x: slow at 0.99 of it"},
			[]string{"rule x: slow at 0.984 to 0.997 of it; steady"}},
		// Nothing is lost where more than one number differs.
		{[]string{"rule x: 0.5 by 1.5", "rule x: 0.6 by 1.6"}, []string{"rule x: 0.5 by 1.5; 0.6 by 1.6"}},
		{[]string{"soda-104: annealing point 512 °C"}, []string{"soda-104: annealing point 512 °C"}},
	} {
		if got := mergeAssumed(l, c.in); !slices.Equal(got, c.want) {
			t.Errorf("%q:\ngot  %q\nwant %q", c.in, got, c.want)
		}
	}
}
