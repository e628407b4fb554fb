package plan

import (
	"errors"
	"testing"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/seal"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// A load of stones keeps the drying stages that the largest wet one asks for,
// never faster and never shorter, and ends where finished pieces may wait.
func TestPlan_dries(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "2 x stone 16mm of opal", "cabochon 8mm x 3mm of opal, dry", "tube 38mm wall 4mm", "stone 6mm of ruby")
	l.Into = piece.WarmOnly
	rep := mustPlan(t, l, kiln.DefaultStudio(), Options{})
	c, _ := seal.ColdOf(l.Pieces[0].Stone)
	w, err := seal.PlanWarmUp([]seal.Cold{c}, unit.Temp{})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range w.Stages {
		got := rep.Schedule.Segments[i]
		if d := got.To.Sub(want.To); d < -1 || d > 1 || got.Rate > want.Rate || got.Hold < want.Hold {
			t.Errorf("stage %d: %+v, wants %v at %v for %v", i+1, got, want.To, want.Rate, want.Hold)
		}
		if !rep.Reasons[i].Has(finding.DriesHere) {
			t.Errorf("stage %d has no reason: %v", i+1, rep.Reasons[i])
		}
	}
	if w.Stages[0].Hold != 614*time.Minute { // 4 h for 10 mm, as the square of the size
		t.Errorf("16 mm dries for %v", w.Stages[0].Hold)
	}
	ready, _ := rep.Notes.Find(finding.ReadyForFlame)
	own, ok := rep.Notes.Find(finding.NeedsOwnKiln)
	if ready.Time != unit.WholeMinutes(rep.Actual.Total()) || !ok || own.Piece != finding.None || own.Temp != unit.Celsius(500) || own.Time <= 0 || own.Time >= ready.Time {
		t.Errorf("ready %+v, beside %+v", ready, own)
	}
	if rep.Verdict() != verify.WithinLimits {
		t.Errorf("%v", rep.Verdict())
	}
	// The kiln reads what finished pieces are held at when it says so.
	at := rep.Actual.At(own.Time.Seconds())
	if d := unit.Kelvin(at).Sub(own.Temp); d < -2 || d > 2 {
		t.Errorf("%v after the start it reads %v", own.Time, unit.Kelvin(at))
	}
	st := kiln.DefaultStudio()
	st.Kiln.Holding = unit.Celsius(420)
	var cool *DryError
	if _, err := Plan(t.Context(), l, st, Options{}); !errors.As(err, &cool) {
		t.Errorf("a kiln at 420 °C: %v", err)
	}
}

// What is thin and dry can be laid into a kiln that is hot, by its own thermal
// tension: about E α/(1−ν) h (T−T₀) R/(4k) in a rod, h with the light of the kiln;
// what is thick cannot.
func TestPlan_laidInHot(t *testing.T) {
	for text, kind := range map[string]finding.Kind{"rod 3mm x 200mm raised": finding.CanLieBeside, "rod 25mm x 200mm raised": finding.NeedsOwnKiln} {
		l := loadOf(t, "borosilicate-33", text)
		l.Into = piece.WarmOnly
		rep := mustPlan(t, l, kiln.DefaultStudio(), Options{})
		f, ok := rep.Notes.Find(kind)
		if !ok || f.Piece != 0 || (f.Stress <= f.Most) != (kind == finding.CanLieBeside) {
			t.Errorf("%s: %v", text, rep.Notes)
		}
		if kind == finding.CanLieBeside {
			const hot, cold, k = 773.15, 293.15, 1.2
			h := 5 + 0.9*5.67e-8*(hot*hot*hot*hot-cold*cold*cold*cold)/(hot-cold)
			want := 63.5e9 * 3.3e-6 / 0.8 * h * (hot - cold) * 1.5e-3 / (4 * k)
			if got := float64(f.Stress); got < 0.5*want || got > 1.5*want { // the kiln takes a minute, the worst case is more
				t.Errorf("%s: %v, closed form %v", text, f.Stress, unit.Stress(want))
			}
		}
	}
}

// A thick stone is heated no faster than its thermal tension allows, by the
// simulation as by the closed form.
func TestPlan_thickStoneIsSlow(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "stone 40mm of cz")
	l.Into = piece.WarmOnly
	rep := mustPlan(t, l, kiln.DefaultStudio(), Options{})
	c, _ := seal.ColdOf(l.Pieces[0].Stone)
	bears := c.HeatingLimit(3.5 * unit.Megapascal)
	// The bed raises its tension one and a half times.
	if rate := rep.Schedule.Segments[0].Rate; rate > bears || rate < bears/4 || rep.Verdict() != verify.WithinLimits {
		t.Errorf("heated at %v, bears %v without a bed; %v", rate, bears, rep.Verdict())
	}
}
