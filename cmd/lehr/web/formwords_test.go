package web

import (
	"errors"
	"fmt"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/program"
	"lehr/glass"
	"lehr/glass/unit"
)

// ofFiles matches what only who reads files and command lines knows.
var ofFiles = regexp.MustCompile(`[a-z]_[a-z]|\[[a-z]+\]|studio|= "|--[a-z]|lehr (glass|share)`)

// TestForm_hints: a hint names what the form has for a setting by its field, and no
// key, table or flag.
func TestForm_hints(t *testing.T) {
	f := newForm(kiln.DefaultStudio(), goodForm())
	slow := kiln.SlowError{Wanted: -unit.KelvinPerHour(1), Slowest: unit.KelvinPerHour(5), Units: unit.Metric}
	tried := slow
	tried.Tried, tried.Takes, tried.Minutes, tried.Segments = true, unit.KelvinPerHour(2), true, 12
	for _, c := range []struct {
		err  error
		want string
	}{
		{&slow, `"Slowest rate it takes", "A ramp is keyed in as", "Segments in a program"`},
		{&tried, `say so in the form: "2.0 °C/h" under "Slowest rate it takes", or minutes per ramp under "A ramp is keyed in as", or "12" under "Segments in a program"; if not, say what lets the piece cool faster: "; resting raised" if it lies so`},
		{&plan.SegmentsError{Needs: 12, Has: 8, Tried: true}, `give "12" under "Segments in a program" if it has as many`},
		{&plan.SegmentsError{Needs: 12, Has: 8}, `give more "Segments in a program" if it has them`},
		{&plan.DryError{What: "stone", Soak: unit.Celsius(90)}, `give a higher "Holding temperature", or`},
		{&plan.ConflictError{}, "plan them in two firings"},
		{&plan.ConflictError{Alone: true}, "raise longest soak, or hottest soak if"},
		{&program.UnmeasuredError{Segment: 1}, `give "Measured cooling" or "Cooling time constant", or`},
		{&piece.StoneError{What: "stone"}, `choose warm only under "Into", or`},
		{&glass.NotFoundError{Name: "x", Nearest: "soda-104"}, "did you mean soda-104? choose one from the list"},
		{&glass.NotFoundError{Name: "x"}, "choose one from the list"},
	} {
		for _, err := range []error{c.err, fmt.Errorf("sphere 2in: %w", c.err)} {
			got := f.hint(err)
			if !strings.Contains(got, c.want) || ofFiles.MatchString(got) {
				t.Errorf("%T: %q, want %q", c.err, got, c.want)
			}
		}
	}
	if _, err := kiln.FitFall([]kiln.Reading{{At: unit.Celsius(500)}, {At: unit.Celsius(200), Time: time.Hour}, {At: unit.Celsius(21), Time: 9 * time.Hour}}, unit.Celsius(20)); f.hint(err) != `leave it out, or give "Room temperature"` {
		t.Errorf("%v: %q", err, f.hint(err))
	}
	// What has no field keeps its file.
	if got := f.hint(&plan.SegmentsError{Has: 8, Longest: 5 * time.Hour}); got != `give longest_hold = "5 h" in [controller] of the studio file if it takes as long` {
		t.Errorf("%q", got)
	}
}

// TestForm_faultHints: the same for what the form itself refuses.
func TestForm_faultHints(t *testing.T) {
	for _, c := range []struct {
		change []string
		field  string
		want   string
	}{
		{[]string{"door-every", ""}, "door-since", `give "30 min" under "Was opened every", too`},
		{[]string{"door-at", strings.Repeat("21:00,", 400) + "21:01", "door-every", "", "door-since", ""}, "door-at", `fill in "10 min" under "Was opened every"`},
		{[]string{"into", "cold kiln", "pieces", "sphere 2in"}, "door-at", `leave the openings empty, or choose hot kiln under "Into"`},
		{[]string{"into", "cold kiln", "pieces", "sphere 2in; in 21:00"}, "pieces", `leave in out, or choose hot kiln under "Into"`},
		{[]string{"pieces", "sphere 2in"}, "door-at", `say when each piece went in: "; in 3 h before"`},
		{[]string{"start", "", "pieces", "sphere 2in; in 21:00"}, "pieces", `give "Start", or write "2h before"`},
		{[]string{"pieces", "sphere 2in; light shiny"}, "pieces", `write "; light clear", "dark" or "opaque"`},
		{[]string{"pieces", "sphere 2in; resting upright"}, "pieces", `write "; resting shelf", "raised" or "bedded"`},
		{[]string{"pieces", "sphere 2in; wear out"}, "pieces", `write "; wear worked later" for`},
		{[]string{"glass", "borosilicat-33"}, "glass", "did you mean borosilicate-33? choose one from the list"},
	} {
		f := newForm(kiln.DefaultStudio(), eveningForm(c.change...))
		f.read()
		at := slices.IndexFunc(f.faults(), func(x *field) bool { return x.Name == c.field })
		if at < 0 {
			t.Errorf("%v: no fault at %s: %+v", c.change, c.field, f.faults())
			continue
		}
		if got := f.faults()[at].Faults[0]; !strings.Contains(got.Hint, c.want) || ofFiles.MatchString(got.Error+" "+got.Hint) {
			t.Errorf("%v: %q, %q, want %q", c.change, got.Error, got.Hint, c.want)
		}
	}
}

// TestForm_typedStays: what a person typed comes back as it was typed, also where it
// is called like a key of a file or like advice.
func TestForm_typedStays(t *testing.T) {
	for _, odd := range []string{"cooling_time_constant", "probe_error", "give a lower opening", "list them with: lehr glass", "holding in [kiln]", "what: longest_soak"} {
		for name, value := range map[string]string{"glass": odd, "pieces": "sphere 2in; note x\n" + odd + " 2in", "start": odd, "holding": odd, "facts": odd, "now": odd, "search": odd} {
			f := newForm(kiln.DefaultStudio(), with(name, value))
			f.read()
			at := slices.IndexFunc(f.faults(), func(x *field) bool { return x.Name == name })
			if at < 0 {
				t.Errorf("%s=%q: no fault", name, value)
			} else if got := f.faults()[at].Faults[0].Error; !strings.Contains(got, odd) {
				t.Errorf("%s=%q: %q", name, value, got)
			}
		}
		f := newForm(kiln.DefaultStudio(), url.Values{})
		f.fail(errors.New(odd + ": cannot be"))
		if f.Wrong != odd+": cannot be" {
			t.Errorf("%q", f.Wrong)
		}
	}
}
