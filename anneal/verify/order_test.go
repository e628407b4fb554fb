package verify

import (
	"context"
	"flag"
	"os"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/glass"
	"lehr/glass/unit"
)

// TestVerify_orderOfPieces: pieces that behave the same may bear different
// things, and the order in which a load lists them changes no verdict.
func TestVerify_orderOfPieces(t *testing.T) {
	if f := flag.Lookup("rapid.checks"); os.Getenv("LEHR_CAMPAIGN") != "1" && f.Value.String() == f.DefValue {
		n := "4"
		if os.Getenv("LEHR_LONG") == "1" {
			n = "40"
		}
		if err := f.Value.Set(n); err != nil { // 100 otherwise
			t.Fatal(err)
		}
		defer f.Value.Set(f.DefValue)
	}
	s := usual(2*time.Hour, 30)
	rapid.Check(t, func(t *rapid.T) {
		l := &piece.Load{Into: piece.HotKiln}
		for range rapid.IntRange(2, 4).Draw(t, "pieces") {
			p, err := piece.Parse(rapid.SampledFrom([]string{"sphere 1.25in", "sphere 1.5in"}).Draw(t, "what"))
			if err != nil {
				t.Fatal(err)
			}
			p.Glass = find(t, "borosilicate-33")
			p.LongestSoak = rapid.SampledFrom([]time.Duration{0, 10 * time.Minute, 5 * time.Hour}).Draw(t, "longest")
			if rapid.Bool().Draw(t, "tender") {
				p.HottestSoak = unit.Celsius(530)
			}
			l.Pieces = append(l.Pieces, p)
		}
		order := rapid.Permutation([]int{0, 1, 2, 3}[:len(l.Pieces)]).Draw(t, "order")
		turned := &piece.Load{Into: piece.HotKiln}
		for _, i := range order {
			turned.Pieces = append(turned.Pieces, l.Pieces[i])
		}
		a, err := Program(context.Background(), s, l, kiln.DefaultStudio(), kiln.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		b, err := Program(context.Background(), s, turned, kiln.DefaultStudio(), kiln.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		if a.Verdict() != b.Verdict() {
			t.Errorf("%v, and %v in another order", a.Verdict(), b.Verdict())
		}
		for j, i := range order {
			p := a.Pieces[i]
			if tender := !p.Piece.HottestSoak.IsZero() || p.Piece.LongestSoak == 10*time.Minute; tender == p.Within {
				t.Errorf("%s, longest soak %s, hottest %s: within %v", p.Piece.What, p.Piece.LongestSoak, p.Piece.HottestSoak, p.Within)
			}
			if q := b.Pieces[j]; q.Within != p.Within || !slices.Equal(q.Over, p.Over) {
				t.Errorf("piece %d over %v, and %v in another order", i, p.Over, q.Over)
			}
		}
	})
}

// TestVerdict_lowStrainPoint: a program that ends where a glass still sets is
// not judged, whatever the thermometer says. The glass is one of a person's own
// that sets below 300 °C.
func TestVerdict_lowStrainPoint(t *testing.T) {
	l := loadOf(t, "lead-crystal", "sphere 1in")
	g := *l.Pieces[0].Glass
	g.Name = "low"
	for _, v := range []*glass.Value{&g.Strain, &g.Anneal, &g.Soften, &g.Work} {
		if v.Number > 0 {
			v.Number -= 120
		}
	}
	l.Pieces[0].Glass = &g
	set := piece.SetPoint(&g)
	if !set.Less(unit.Celsius(290)) {
		t.Fatalf("sets at %s: the test shows nothing", set)
	}
	for _, c := range []struct {
		above unit.Delta
		want  Verdict
	}{{5, NotJudged}, {-5, WithinLimits}} {
		s := program.Schedule{From: unit.Celsius(320), Segments: []program.Segment{
			{Purpose: program.PurposeHold, To: unit.Celsius(320), Hold: time.Hour},
			{Purpose: program.PurposeSlow, Rate: unit.KelvinPerHour(-10), To: set.Add(c.above)}}}
		if got := mustVerify(t, s, l, kiln.Limits{}).Verdict(); got != c.want {
			t.Errorf("ends %v from where the glass sets: %v, want %v", c.above, got, c.want)
		}
	}
}

func find(t interface{ Fatal(...any) }, name string) *glass.Glass {
	g, err := glass.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return g
}
