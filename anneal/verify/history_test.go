package verify

import (
	"bytes"
	"context"
	"encoding/csv"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/glass"
	"lehr/glass/unit"
)

func TestStrainRange(t *testing.T) {
	for _, g := range glass.Builtin() {
		low, high, err := StrainRange(g)
		if err != nil {
			if strings.Contains(err.Error(), g.Name) {
				continue // a glass without the fixed points
			}
			t.Errorf("%s: %v", g.Name, err)
			continue
		}
		soak, _, err := piece.SoakRange(g)
		if err != nil || high != soak || !low.Less(high) {
			t.Errorf("%s: strain range %s to %s, soak range from %s (%v)", g.Name, low, high, soak, err)
		}
	}
}

// actualHistory is the history by the clock: of the kiln as the hours of the
// report take it to be, which may fall slower than programmed.
func actualHistory(rep *Report, piece int) ([]Sample, error) {
	f := newFiring(rep.Schedule, rep.Studio, rep.Load, rep.Limits)
	f.timeline = rep.Actual
	f.kinks = nil
	for _, span := range f.timeline.Spans {
		for _, t := range [2]float64{span.RampEnds, span.End} {
			if n := len(f.kinks); t > 0 && (n == 0 || t > f.kinks[n-1]) {
				f.kinks = append(f.kinks, t)
			}
		}
	}
	h, err := f.history(rep, piece)
	if err == nil && f.cools { // the clock ends with the program, not with the room
		h = h[:len(h)-1]
	}
	return h, err
}

// TestHistory_slowerKiln: a kiln that falls slower than programmed strains a piece no
// more than one that obeys, by which it is judged.
func TestHistory_slowerKiln(t *testing.T) {
	measured, off := kiln.DefaultStudio(), kiln.DefaultStudio()
	measured.Kiln.Measured, measured.Kiln.Fall.TimeConstant = true, 5*time.Hour
	off.Kiln.Spread, off.Kiln.ProbeError = 8, 4
	warm := loadOf(t, "borosilicate-33", "tube 38mm wall 4mm")
	warm.Into = piece.WarmOnly
	for name, c := range map[string]struct {
		load   *piece.Load
		studio kiln.Studio
	}{
		"sphere and pendant": {loadOf(t, "borosilicate-33", "sphere 2.5in", "pendant 45mm x 12mm"), kiln.DefaultStudio()},
		"disc":               {loadOf(t, "soda-104", "disc 75mm x 25mm"), kiln.DefaultStudio()},
		"kiln with an error": {loadOf(t, "borosilicate-33", "sphere 2in bedded"), off},
		"measured kiln":      {loadOf(t, "borosilicate-33", "sphere 2in"), measured},
		"tube warmed":        {warm, kiln.DefaultStudio()},
	} {
		rep, err := Program(context.Background(), usual(time.Hour, 100), c.load, c.studio, kiln.Limits{})
		if err != nil {
			t.Fatal(name, err)
		}
		if rep.Actual.Total() <= rep.Nominal.Total() {
			t.Errorf("%s: the kiln takes %s, as told: this row tests nothing", name, rep.Actual.Total())
		}
		h, err := actualHistory(rep, 0)
		if err != nil {
			t.Fatal(name, err)
		}
		last, most := h[len(h)-1], unit.Stress(0)
		for _, s := range h {
			most = max(most, s.Tension)
		}
		if end := rep.Actual.Total().Seconds(); math.Abs(last.Time-end) > 1 {
			t.Errorf("%s: ends at %g s, the clock at %g s", name, last.Time, end)
		}
		if most > rep.Pieces[0].Peak*1.01 {
			t.Errorf("%s: tension %s in the slower kiln, %s in the obeying one", name, most, rep.Pieces[0].Peak)
		}
	}
}

// TestWriteHistory_clock: a row with a time by the clock is what the piece is like
// then in the kiln of the clock, and no other row has one; what is left in it stands
// in a row of its own, which is no moment.
func TestWriteHistory_clock(t *testing.T) {
	measured := kiln.DefaultStudio()
	measured.Kiln.Measured, measured.Kiln.Fall.TimeConstant = true, 5*time.Hour
	for name, st := range map[string]kiln.Studio{"not measured": kiln.DefaultStudio(), "measured": measured} {
		rep, err := Program(context.Background(), usual(time.Hour, 100), loadOf(t, "borosilicate-33", "sphere 2.5in", "pendant 45mm x 12mm"), st, kiln.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		var buf bytes.Buffer
		if err := rep.WriteHistory(&buf); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&buf).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range rep.Pieces {
			really, err := actualHistory(rep, i)
			if err != nil {
				t.Fatal(err)
			}
			with, without, left := 0, 0, 0
			for _, row := range rows[1:] {
				if row[0] == p.Piece.What+residualRow {
					left++
					if most := number(t, row[8]); row[1]+row[2] != "" || math.Abs(most-float64(p.Residual)/1e6) > 0.001 {
						t.Errorf("%s: %v, left %s", name, row, p.Residual)
					}
				}
				if row[0] != p.Piece.What {
					continue
				}
				if row[2] == "" {
					without++
					continue
				}
				if with++; without > 0 {
					t.Errorf("%s: the clock goes on where it stopped: %v", name, row)
				}
				at := 3600 * number(t, row[2])
				n := 1
				for n < len(really)-1 && really[n].Time < at {
					n++
				}
				a, b := really[n-1], really[n]
				mix := func(x, y unit.Temp) float64 {
					return x.Celsius() + (at-a.Time)/(b.Time-a.Time)*float64(y.Sub(x))
				}
				for c, want := range map[int]float64{3: mix(a.Kiln, b.Kiln), 4: mix(a.Surface, b.Surface), 5: mix(a.Center, b.Center)} {
					if got := number(t, row[c]); math.Abs(got-want) > 0.5 {
						t.Errorf("%s, %s at %s h by the clock: %s %.2f °C, really %.2f", name, row[0], row[2], rows[0][c], got, want)
					}
				}
			}
			if with < 20 || without < 5 || left != 1 {
				t.Errorf("%s, %s: %d rows with a clock, %d without, %d of what is left", name, p.Piece.What, with, without, left)
			}
		}
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}
