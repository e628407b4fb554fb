package report

import (
	"slices"
	"strings"
	"testing"
	"time"

	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

// TestReadyBy_late: what the kiln reads at the hour is told where that is another
// number than the reading at which it is opened, as printed.
func TestReadyBy_late(t *testing.T) {
	rep := sampleReport(t, unit.Metric)
	open := rep.Studio.Opening
	for _, c := range []struct {
		then unit.Temp
		want string
	}{
		{open.Add(0.2), " late."},
		{open.Add(4), " late; at 08:00 the kiln still reads 47 °C, above the 43 °C at which it is opened."},
	} {
		rep.Ready = &verify.Ready{By: 8 * 60, Given: true, Spare: -2 * time.Minute, Then: c.then}
		if line := ReadyBy(rep, nil).Lines[0]; !strings.HasPrefix(line, "It is ready at ") || !strings.HasSuffix(line, c.want) {
			t.Errorf("%s: %q", c.then, line)
		}
	}
}

// TestVerdictText_opened: what opening the kiln warm does is said in one number, by
// the offer to do so and by the plan that does; one that stays below what cooling
// does is not.
func TestVerdictText_opened(t *testing.T) {
	rep := sampleReport(t, unit.Metric)
	st, load := rep.Studio, *rep.Load
	rep, err := plan.ReadyBy(t.Context(), &load, st, plan.Options{}, plan.ReadyHow{By: 8 * 60, Planner: plan.Plan})
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(rep.Ready.Ways, func(w verify.Way) bool { return w.By == verify.ByOpening })
	if i < 0 {
		t.Fatalf("ways %+v", rep.Ready.Ways)
	}
	w := rep.Ready.Ways[i]
	if st.Opening = w.Open; w.Opened.Use == 0 {
		t.Fatal("opening says nothing")
	}
	warm, err := plan.Plan(t.Context(), &load, st, plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	text := words.Tension(w.Opened, unit.Metric)
	if !strings.Contains(warmerText(rep, &w, nil), "computed "+text) {
		t.Errorf("offered: %q, no %q", warmerText(rep, &w, nil), text)
	}
	if _, numbers := VerdictText(warm); !strings.Contains(numbers, "), "+text+" when the kiln is opened, ") {
		t.Errorf("planned: %q, no %q", numbers, text)
	}
	for i := range warm.Pieces {
		warm.Pieces[i].Opening.Use = warm.Pieces[i].Tension.Use / 2
	}
	if _, numbers := VerdictText(warm); strings.Contains(numbers, "opened") {
		t.Errorf("less than while cooling: %q", numbers)
	}
}
