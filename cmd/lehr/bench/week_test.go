package bench

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"time"

	"lehr/anneal/week"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
)

// A night whose program does not keep its limits by itself is named, and only
// that one.
func TestShowWeek_over(t *testing.T) {
	night := time.Date(2026, 11, 26, 22, 0, 0, 0, time.UTC)
	o := &order{kinds: []week.Kind{{What: "sphere 2in", Count: 2}, {What: "sphere 6in", Count: 1}}, kilns: []week.Kiln{{Name: "big"}},
		over: map[[2]int]bool{{0, 1}: true}}
	plan := &week.Plan{Least: 2, Because: "shelf", Fewest: true, Left: []int{0, 0}, Firings: []week.Firing{
		{Start: night, Hours: 10 * time.Hour, Counts: []int{2, 0}},
		{Start: night.AddDate(0, 0, 1), Hours: 30 * time.Hour, Counts: []int{0, 1}},
	}}
	if !o.anyOver(plan) || o.isOver(plan.Firings[0]) {
		t.Error("which night is over")
	}
	var out bytes.Buffer
	a := desk.New(nil, &out, nil, term.Terminal{Width: term.MaxWidth, UTF8: true})
	if err := showWeek(a, o, plan, unit.Metric); err != nil {
		t.Fatal(err)
	}
	if err := a.Flush(); err != nil {
		t.Fatal(err)
	}
	if text := out.String(); strings.Count(text, "NOT WITHIN LIMITS") != 1 || !strings.Contains(text, "1 × sphere 6in on Fri 2026-11-27 in big") {
		t.Error(text)
	}
}

// Beyond a number of kinds planned no set is asked about, but each kind alone is.
func TestOrder_mostPlanned(t *testing.T) {
	o := &order{planned: mostPlanned - 2}
	if _, apart, err := o.share(t.Context(), 0, []int{0, 1, 2}); err != nil || !errors.Is(apart, week.ErrUnasked) {
		t.Error(apart, err)
	}
	if got := weekProgress(week.Progress{Sets: 3}); got != "packing: 3 sets of kinds planned" {
		t.Error(got)
	}
	if got := weekProgress(week.Progress{Sets: 80, Firings: 17}); got != "packing: 80 sets of kinds planned, 17 firings so far (Ctrl-C takes it)" {
		t.Error(got)
	}
}

// What was not tried is said in one sentence, with the kinds nobody asked about.
func TestOrder_untried(t *testing.T) {
	o := &order{kinds: make([]week.Kind, 13)}
	for want, p := range map[string]week.Plan{
		"": {},
		"with 13 kinds no other way than longest first was tried; up to 12 are searched":                                {Untried: week.OneWay},
		"4 firings were searched for within a number of steps, not in every way":                                        {Untried: week.SomeWays, Tried: 4},
		"no plan of up to 5 firings is in time; of some kinds it was not asked whether they share a program":            {Untried: week.NoneInTime, Tried: 5, Unasked: true},
		"of some kinds it was not asked whether they share a program":                                                   {Unasked: true},
		"not all of it fits into the nights that are free; of some kinds it was not asked whether they share a program": {Untried: week.NoPlace, Unasked: true},
	} {
		if got := o.untried(&p); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
