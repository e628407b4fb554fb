package report

import (
	"strings"
	"testing"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/words"
	"lehr/glass"
	"lehr/glass/unit"
)

// TestDecidingText: the judgment that uses most of its limit decides, what lies in a
// piece among them; where all keep theirs and something else is over, that is named
// and has no share.
func TestDecidingText(t *testing.T) {
	rep := sampleReport(t, unit.Metric)
	with := func(change func(p *verify.PieceReport)) *verify.Report {
		other := *rep
		other.Pieces = append([]verify.PieceReport(nil), rep.Pieces...)
		change(&other.Pieces[1])
		return &other
	}
	inside := verify.Inside{Limit: 7 * unit.Megapascal, Carrier: "white", Alone: verify.Pull{Expected: 12 * unit.Megapascal, Worst: 21 * unit.Megapascal}, Together: verify.Pull{Expected: 12 * unit.Megapascal, Worst: 21 * unit.Megapascal}}
	hot := finding.Of(finding.OverHottest).At(unit.Celsius(560)).Against(unit.Celsius(500))
	for _, c := range []struct {
		name   string
		change func(p *verify.PieceReport)
		piece  int
		use    float64
		want   string
	}{
		{"as planned", func(*verify.PieceReport) {}, 0, rep.Pieces[0].ResidualTension.Use, "Tension left in sphere 2.5in decides: "},
		{"opened", func(p *verify.PieceReport) { p.Opening.Use = 1.2 }, 1, 1.2, "Tension when the kiln is opened in sphere 1.25in decides: 120 % of its limit."},
		{"a skin", func(p *verify.PieceReport) { p.Inside = &inside }, 1, 3, "Tension with what lies inside in sphere 1.25in decides: 300 % of its limit."},
		{"too hot", func(p *verify.PieceReport) { p.Over.Add(hot) }, 1, 0, "sphere 1.25in decides: as hot as 560 °C, bears 500 °C."},
	} {
		r := with(c.change)
		if i, use := Deciding(r); i != c.piece || use != c.use {
			t.Errorf("%s: piece %d with %g, want %d with %g", c.name, i, use, c.piece, c.use)
		}
		if got := DecidingText(r); !strings.HasPrefix(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// TestMisfitOver: what lies in a piece has one number for average glass and one for
// the worst case, and the verdict names the latter.
func TestMisfitOver(t *testing.T) {
	load, err := piece.ReadLoad(strings.NewReader("glass = \"borosilicate-33\"\n[[piece]]\nwhat = \"sphere 38mm; inside opal 20mm\"\n"), "load", "", glass.Find)
	if err != nil {
		t.Fatal(err)
	}
	rep, err := plan.Plan(t.Context(), load, kiln.DefaultStudio(), plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	in := rep.Pieces[0].Inside
	_, numbers := VerdictText(rep)
	over := words.About(rep).List(rep.Pieces[0].Over)
	expected, worst := in.Alone.Expected.Text(unit.Metric), in.Alone.Worst.Text(unit.Metric)
	if len(over) == 0 || !strings.Contains(over[0], expected+" in average glass, "+worst+" at worst") || !strings.Contains(numbers, "at most "+worst+" at the surface") || expected == worst {
		t.Errorf("the verdict says %q, the piece %q", numbers, over)
	}
}

// TestVerdictText_published: a program that keeps a limit that a person gave says by
// how much average glass exceeds the published one, in the numbers that are read first.
func TestVerdictText_published(t *testing.T) {
	rep := *sampleReport(t, unit.Metric)
	rep.Pieces = append([]verify.PieceReport(nil), rep.Pieces...)
	rep.Pieces[1].ResidualTension.Expected = 1.2 * unit.Megapascal
	if _, numbers := VerdictText(&rep); strings.Contains(numbers, "published") {
		t.Errorf("with the published limits: %q", numbers)
	}
	rep.Limits.Residual = 1.7 * unit.Megapascal
	const want = "; by a limit of your own: locked in is 1.20 MPa in average glass, the published limit is 1.00 MPa"
	if _, numbers := VerdictText(&rep); !strings.HasSuffix(numbers, want) {
		t.Errorf("with a limit of 1.7 MPa: %q, want %q", numbers, want)
	}
}
