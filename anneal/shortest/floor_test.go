package shortest

import (
	"testing"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/glass"
)

// TestFloor_random: no program that a search without shortcuts found is shorter than
// the floor. Three large discs from a cold kiln were, by up to 6 %: the tension of
// heating counted with the whole factor of the rim.
func TestFloor_random(t *testing.T) {
	known := thoroughHours(t)
	every := 25
	if long() {
		every = 5
	}
	for n, hours := range known {
		if hours == 0 || n%every != 0 && n != 145 && n != 235 && n != 358 {
			continue
		}
		sv := solverOf(t, n)
		if f := sv.floor(); f.Total.Hours() > hours {
			t.Errorf("load %d, %s: a program takes %.2f h, the floor is %.2f h", n, describe(sv.load, sv.st), hours, f.Total.Hours())
		}
	}
}

// TestFloor_none: of a piece about as thick as wide the closed forms say nothing that holds,
// and what is longer than the program that was found is not told as a floor.
func TestFloor_none(t *testing.T) {
	if !long() {
		t.Skip("takes seconds; LEHR_LONG=1 runs it")
	}
	g, err := glass.Find("borosilicate-33")
	if err != nil {
		t.Fatal(err)
	}
	p, err := piece.Parse("disc 60mm x 40mm")
	if err != nil {
		t.Fatal(err)
	}
	if err := p.Fill(g, glass.Find); err != nil {
		t.Fatal(err)
	}
	res, err := Shortest(t.Context(), &piece.Load{Into: piece.ColdKiln, Pieces: []piece.Piece{p}}, kiln.DefaultStudio(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if f := res.Report.Shortest.Floor; !res.Report.Within || f > res.Report.Actual.Total() {
		t.Errorf("found %s, none shorter than %s", res.Report.Actual.Total(), f)
	}
}
