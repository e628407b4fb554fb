package plan

import (
	"context"
	"testing"
	"time"

	"gonum.org/v1/gonum/floats/scalar"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/glass"
	"lehr/glass/unit"
)

var histories map[string]*verify.Report

// historyLoads are loads of different shape, way in, bed and kiln, planned once
// for all tests.
func historyLoads(t *testing.T) map[string]*verify.Report {
	t.Helper()
	if histories == nil {
		histories = planHistories(t)
	}
	return histories
}

func planHistories(t *testing.T) map[string]*verify.Report {
	t.Helper()
	pieceOf := func(text, name string) piece.Piece {
		p, err := piece.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		if p.Glass, err = glass.Find(name); err != nil {
			t.Fatal(err)
		}
		return p
	}
	off := kiln.DefaultStudio()
	off.Kiln.Spread, off.Kiln.ProbeError = 8, 4
	measured := kiln.DefaultStudio()
	measured.Kiln.Measured, measured.Kiln.Fall.TimeConstant = true, 5*time.Hour
	hot := pieceOf("sphere 2in", "borosilicate-33")
	hot.Core = unit.Celsius(700)
	warmEnd, err := verifyText(t, "from = \"530 °C\"\n[[segment]]\nhold = \"30 min\"\n[[segment]]\nrate = \"60 °C/h\"\nto = \"290 °C\"\n",
		"soda-104", "sphere 50mm raised", piece.HotKiln, kiln.DefaultStudio())
	if err != nil {
		t.Fatal(err)
	}
	reports := map[string]*verify.Report{"peak is what is left": warmEnd}
	for _, c := range []struct {
		name   string
		load   piece.Load
		studio kiln.Studio
	}{
		{"sphere", piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{pieceOf("sphere 2.5in", "borosilicate-33"), pieceOf("pendant 45mm x 12mm", "borosilicate-33")}}, kiln.DefaultStudio()},
		{"disc reheated", piece.Load{Into: piece.ColdKiln, Pieces: []piece.Piece{pieceOf("disc 75mm x 25mm", "soda-104")}}, kiln.DefaultStudio()},
		{"kiln with an error", piece.Load{Into: piece.ColdKiln, Pieces: []piece.Piece{pieceOf("sphere 2in bedded", "borosilicate-33")}}, off},
		{"measured kiln", piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{hot}}, measured},
		{"tube warmed", piece.Load{Into: piece.WarmOnly, Pieces: []piece.Piece{pieceOf("tube 38mm wall 4mm", "borosilicate-33")}}, kiln.DefaultStudio()},
	} {
		o := Options{}
		if !long() {
			o = hoursOnly
		}
		rep, err := Plan(context.Background(), &c.load, c.studio, o)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		reports[c.name] = rep
	}
	return reports
}

// TestHistory_peakIsTheReports wants the curve and the report to be one
// simulation: the same greatest tension, at the same time.
func TestHistory_peakIsTheReports(t *testing.T) {
	needLong(t)
	if p := historyLoads(t)["peak is what is left"].Pieces[0]; p.Peak != p.Residual {
		t.Errorf("peak %s is not the tension left, %s: this row tests nothing", p.Peak, p.Residual)
	}
	for name, rep := range historyLoads(t) {
		for i, p := range rep.Pieces {
			h, err := rep.History(i)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			peak, at, last := unit.Stress(-1), 0.0, -1.0
			for j, s := range h {
				evened := j == len(h)-1 && p.ResidualJudged
				if s.Time < last || s.Time == last && !evened {
					t.Fatalf("%s: %s: time %g s comes after %g s", name, p.Piece.What, s.Time, last)
				}
				last = s.Time
				// What is left may be more at worst than the tension that is nearer to its
				// limits in average glass.
				if s.Tension > peak && !(evened && p.Residual > p.Peak) {
					peak, at = s.Tension, s.Time
				}
			}
			if s := h[len(h)-1]; p.ResidualJudged && (s.Surface != rep.Studio.Kiln.Fall.Room || s.Center != s.Surface || s.Kiln != s.Surface || s.Tension > p.Residual*(1+1e-9)) {
				t.Errorf("%s: %s: ends with %+v, tension left %s", name, p.Piece.What, s, p.Residual)
			}
			if p.Fall > 0 && peak <= p.Peak { // the report's is of another kiln, which pulls harder
				continue
			}
			// The variants are summed in another order, nothing else differs.
			if !scalar.EqualWithinRel(float64(peak), float64(p.Peak), 1e-9) || !scalar.EqualWithinAbs(at, p.PeakTime, 1e-6) && p.Basis == 0 && !p.PeakPlace.Flat {
				t.Errorf("%s: %s: history peaks with %s at %g s, the report with %s at %g s", name, p.Piece.What, peak, at, p.Peak, p.PeakTime)
			}
			if end := rep.Nominal.Total().Seconds(); !rep.Studio.Kiln.Measured && !scalar.EqualWithinAbs(last, end, 1) {
				t.Errorf("%s: history ends at %g s, the program at %g s", name, last, end)
			}
		}
	}
}
