package plan

import (
	"testing"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// TestPlan_splitSoak: a soak longer than one segment takes is one soak.
func TestPlan_splitSoak(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "sphere 3in")
	l.Pieces[0].HottestSoak = unit.Celsius(530)
	whole := mustPlan(t, l, kiln.DefaultStudio(), Options{})
	st := kiln.DefaultStudio()
	st.Controller.Longest, st.Controller.Segments = time.Hour, 20
	split := mustPlan(t, l, st, Options{})
	held := func(rep *verify.Report) (sum time.Duration) {
		for _, s := range rep.Schedule.Segments {
			sum += s.Hold
		}
		return sum
	}
	if held(whole) != held(split) || !split.Within {
		t.Errorf("whole holds %s, split %s, within %v", held(whole), held(split), split.Within)
	}
	if f, _ := split.Reasons[0].Find(finding.SoakNeeded); f.Time != held(split) {
		t.Errorf("the reason gives %s, not the whole soak", f.Time)
	}
}

// TestPlan_shorterThanTheHabit: the quarter hour of the rule gives way where a
// piece bears less and needs less.
func TestPlan_shorterThanTheHabit(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "sphere 15mm")
	l.Pieces[0].LongestSoak = 12 * time.Minute // 3 min of them for the slow cooling
	rep := mustPlan(t, l, kiln.DefaultStudio(), Options{})
	if !rep.Within || rep.Schedule.Segments[0].Hold > 10*time.Minute {
		t.Errorf("within %v, over %v, soak %s", rep.Within, rep.Pieces[0].Over, rep.Schedule.Segments[0].Hold)
	}
}
