package checklist

import (
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"lehr/glass/unit"
)

func TestFactsFrom_refuses(t *testing.T) {
	for _, c := range []struct {
		key   string
		value any
		want  string // start of the error
		hint  string // part of the hint
	}{
		{"eye_distanc", "3 mm", "eye_distanc: unknown session fact", `"eye_distance"`},
		{"xyzzy", 1, "xyzzy: unknown", "lehr safety"},
		{"eye_distance", 300.0, "eye_distance 300: has no unit", `"300 mm"`},
		{"eye_distance", "300", `eye_distance "300": has no unit`, `"300 mm"`},
		{"eye_distance", "0 mm", "eye_distance", ""},
		{"kiln_temperature", "560", "kiln_temperature", `"560 °C"`},
		{"kiln_temperature", "9000 °C", "kiln_temperature", ""},
		{"fuel", "propan", `fuel "propan": is none of`, `"propane"`},
		{"fuel", 3, "fuel 3: must be text", ""},
		{"alone", "maybe", `alone "maybe": is neither yes nor no`, `alone = "yes"`},
		{"alone", 0, "alone 0: is neither", ""},
		{"room", "20 ft x 15 ft", "room", "20 ft x 15 ft x 9 ft"},
		{"room", "0 m3", "room", ""},
		{"noise", "88", "noise", `"88 dBA"`},
		{"exhaust", "500", "exhaust", `"500 cfm"`},
		{"exhaust", "-5 cfm", "exhaust", ""},
		{"exhaust", "NaN cfm", "exhaust", ""},
		{"exhaust", "1e400 cfm", "exhaust", ""},
		{"exhaust", "5 gallons", "exhaust", "cfm"},
		{"capture_speed", "0,5 m/s", "capture_speed", "0.5 m/s"}, // not 5 m/s
		{"breaker", "2,5 A", "breaker", "24 A"},
		{"breaker", "1,50 A", "breaker", ""},
		{"lens_infrared", 5.0, "lens_infrared 5: must be from 0 to 1", ""},
		{"lens_infrared", "0 %", `lens_infrared "0 %": is no lens's value`, "maker"},
		{"lens_infrared", "0%", "lens_infrared", ""}, {"lens_infrared", 0, "lens_infrared 0", ""}, {"lens_infrared", "0.0 %", "lens_infrared", ""},
		{"lens_infrared", "-1 %", "lens_infrared", ""}, {"lens_infrared", "0.00001 %", "lens_infrared", ""}, {"lens_infrared", true, "lens_infrared", ""},
		{"lens_infrared", math.NaN(), "lens_infrared NaN", ""},
		{"lens_to", "2500 nm", "lens_to", "2000 nm"},
		{"color_metals", "cadmiun", "color_metals", `"cadmium"`},
		{"fuming", []any{"none", "silver"}, "fuming", `"none" alone`},
		{"fuming", []any{1}, "fuming", ""}, {"fuming", []any{}, "fuming", ""}, {"fuming", "", "fuming", ""},
		{"cut_off_tested", "yesterday", "cut_off_tested", "2026-11-15"},
		{"cut_off_tested", "2026-11-26", `cut_off_tested "2026-11-26": lies in the future`, "last test"},
		{"leak_tested", time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC), "leak_tested", "last test"},
		{"leak_tested", "0001-01-01", "leak_tested", ""},
		{"workers", 0, "workers 0", ""}, {"workers", 1.5, "workers", ""},
		{"phone", "\x01", "phone", ""}, {"phone", "\u202e911", "phone", ""},
		{"phone", strings.Repeat("9", 81), "phone", ""},
		{"emergency_number", "the fire brigade", "emergency_number", "digits"}, {"emergency_number", "-", "emergency_number", ""},
		{"lens", "", "lens", "leave the key out"},
	} {
		_, err := FactsFrom(map[string]any{c.key: c.value}, Typed, today)
		e, ok := err.(*FactError)
		if !ok || !strings.HasPrefix(e.Error(), c.want) || !strings.Contains(e.Hint(), c.hint) {
			t.Errorf("%s = %v: %v", c.key, c.value, err)
			if ok {
				t.Errorf("    hint: %s", e.Hint())
			}
		}
	}
}

// TestFactsFrom_scope: what is so now comes from no file, and of a night a
// studio may only say the worse.
func TestFactsFrom_scope(t *testing.T) {
	count := map[Scope]int{}
	for _, f := range Names() {
		count[f.Scope]++
		v := f.Example
		if f.Scope == OfNight {
			v = "no"
		}
		for from, want := range map[Origin]bool{Typed: true, FromLoad: f.Scope != OfNow, FromStudio: f.Scope == OfStudio} {
			_, err := FactsFrom(map[string]any{f.Name: v}, from, today)
			if (err == nil) != want {
				t.Errorf("%s = %s from %d: %v", f.Name, v, from, err)
			}
		}
		if _, err := FactsFrom(map[string]any{f.Name: true}, FromStudio, today); f.Scope == OfNight && err != nil {
			t.Errorf("%s = true of a studio: %v", f.Name, err)
		}
	}
	for _, name := range []string{"gas_smell", "co_alarm", "oxygen_spill", "fire", "gas_fire", "kiln_temperature", "torch_used"} {
		if row, ok := lookup(name); !ok || row.Scope != OfNow {
			t.Errorf("%s is not of now", name)
		}
	}
	if count[OfNow] != 7 || count[OfNight] != 3 {
		t.Errorf("scopes: %v", count)
	}
}

func TestFactsFrom_reads(t *testing.T) {
	f, err := FactsFrom(map[string]any{
		"alone": true, "glass": "borosilicate-33", "room": "20 ft x 15 x 9 ft", "hood_size": "300 x 200 mm", "exhaust": "1,500 cfm", "capture_speed": "100 ft/min",
		"lens_infrared": "5 %", "lens_to": "3000nm", "color_metals": []any{"cadmium", "lead"}, "leak_tested": time.Date(2026, 11, 20, 0, 0, 0, 0, time.UTC), "kiln_power": "5.76 kW", "kiln_voltage": "240 V", "workers": int64(2),
	}, FromStudio, today)
	if err != nil {
		t.Fatal(err)
	}
	near := func(name string, got, want float64) {
		t.Helper()
		if math.Abs(got/want-1) > 1e-9 {
			t.Errorf("%s = %g, want %g", name, got, want)
		}
	}
	near("room", float64(f.Room), 2700*math.Pow(0.3048, 3))
	near("hood", float64(f.HoodSize), 0.06)
	near("exhaust", f.Exhaust.CFM(), 1500)
	near("capture", float64(f.CaptureSpeed), 0.508)
	near("lens", float64(f.LensInfrared), 0.05)
	near("lens end", f.WornLens().To, 3000e-9)
	if amps, ok := f.KilnRating(); !ok || amps != 24 {
		t.Error("rated current", amps, ok)
	}
	if f.Alone != Yes || f.Glass != "borosilicate" || f.LeakTested != "2026-11-20" || f.Workers != 2 || strings.Join(f.ColorMetals, "+") != "cadmium+lead" {
		t.Errorf("%+v", f)
	}
	if n := len(f.Given()); n != 13 {
		t.Errorf("%d facts given: %v", n, f.Given())
	}
}

// Every example of the help text is read, and every fact has one.
func TestNames_examples(t *testing.T) {
	for _, f := range Names() {
		got, err := FactsFrom(map[string]any{f.Name: f.Example}, Typed, today)
		if err != nil || !got.has(f.Name) || f.Meaning == "" {
			t.Errorf("%s = %q: %v", f.Name, f.Example, err)
		}
		if forbidden.MatchString(f.Meaning) {
			t.Errorf("%s: %s", f.Name, f.Meaning)
		}
	}
}

// Laying facts over others keeps what the upper ones do not give.
func TestOver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		under, over := drawFacts(t), drawFacts(t)
		got := under.Over(over)
		for _, f := range Names() {
			want := under
			if over.has(f.Name) {
				want = over
			}
			row, _ := lookup(f.Name)
			if a, b := row.in(&got).text(unit.US), row.in(&want).text(unit.US); a != b {
				t.Fatalf("%s = %q, want %q", f.Name, a, b)
			}
		}
	})
}

func TestLensClaimsInfrared(t *testing.T) {
	for marking, want := range map[string]Answer{
		"R3": Yes, "Z87+ R1.3": Yes, "W5": Yes, "4-5": Yes, "w4 u6": Yes,
		"U6": No, "L3": No, "Z87": No, "S": No, "didymium": No, "2-1.2": No, "3-5": No, "5-2.5": No, "none": No,
		"": NotGiven, "5": NotGiven, "R": NotGiven, "R99": NotGiven, "4-99": NotGiven, "ruby": NotGiven, "W1e1": NotGiven, "W3.5.7": NotGiven,
	} {
		if got := lensClaimsInfrared(marking); got != want {
			t.Errorf("%q: %d, want %d", marking, got, want)
		}
	}
}

func FuzzFacts(f *testing.F) {
	for _, n := range Names() {
		f.Add(n.Name, n.Example)
	}
	f.Fuzz(func(t *testing.T, key, value string) {
		got, err := FactsFrom(map[string]any{key: value}, Typed, today)
		if err != nil {
			return
		}
		if !got.has(key) {
			t.Fatalf("%s = %q was taken and lost", key, value)
		}
		for _, pg := range got.Pages() {
			if len(pg.Lines) > maxLines {
				t.Fatalf("%s: %d lines", pg.Point, len(pg.Lines))
			}
		}
	})
}
