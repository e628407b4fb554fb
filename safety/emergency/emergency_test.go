package emergency

import (
	"regexp"
	"strings"
	"testing"
)

func TestAll(t *testing.T) {
	rows := 0
	for i, l := range All() {
		if want := "W" + strings.TrimSpace(strings.Split("1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16", " ")[i]); l.ID != want {
			t.Errorf("%s, want %s", l.ID, want)
		}
		if l.Trigger != strings.ToUpper(l.Trigger) || len(l.Trigger) > 15 || l.Do == "" || len(l.Then) == 0 || len(l.Sources) == 0 || len(l.Defer) == 0 {
			t.Errorf("%+v", l)
		}
		for _, s := range append([]string{l.Do}, l.Then...) {
			if regexp.MustCompile(`(?i)\b(safe|safely|ok|okay|compliant|approved)\b|\b(911|112|999)\b`).MatchString(s) {
				t.Errorf("%s promises, or invents a number: %s", l.ID, s)
			}
		}
		rows += 1 + len(l.Do)/63
	}
	if rows > 22 {
		t.Errorf("%d rows do not stand on a screen of 24", rows)
	}
}

// TestWords: what the lines must say, and what they must not.
func TestWords(t *testing.T) {
	for id, c := range map[string]struct{ has, hasNot string }{
		"W3": {"hydrogen flame", ""}, "W9": {"clinician", "Care"}, "W10": {"15 min; call", "Care"},
		"W13": {"maker's order|still burning|warms by itself", ""}, "W14": {"30 min|at its source|frostbite|Lukewarm", ""},
		"W15": {"off at the disconnect|controller's switch does not count|display is dark, the last reading that is known and the hour of that", "its own switch"},
	} {
		l := Of(id)[0]
		text := strings.Join(append([]string{l.Do}, l.Then...), " ")
		for _, want := range strings.Split(c.has, "|") {
			if !strings.Contains(text, want) {
				t.Errorf("%s says nothing of %q: %s", id, want, text)
			}
		}
		if c.hasNot != "" && strings.Contains(text, c.hasNot) {
			t.Errorf("%s says %q: %s", id, c.hasNot, text)
		}
	}
}

func TestFind(t *testing.T) {
	for typed, want := range map[string]string{
		"gas": "W1", "gas smell": "W1", "carbon monoxide": "W2", "co": "W2", "fire": "W3 W4 W5", "fire at the bench": "W3", "fire in the room": "W4", "clothes on fire": "W5",
		"kiln": "W6", "kiln burning": "W6", "shock": "W7", "collapse": "W8", "Burn": "W9", "eye": "W10", "bleeding": "W11", "cannot breathe": "W12", "flashback": "W13", "oxygen": "W14",
		"W9": "W9", "clothes": "W5", "power failure": "W15", "outage": "W15", "kiln power failure": "W15", "glass cracked in the kiln": "W16", "burst": "W16", "glass": "W10 W16",
	} {
		found, ok := Find(typed)
		var ids []string
		for _, l := range found {
			ids = append(ids, l.ID)
		}
		if got := strings.Join(ids, " "); !ok || got != want {
			t.Errorf("%q: %s, want %s", typed, got, want)
		}
	}
	for _, typed := range []string{"", "   ", "xyzzyx", "tomorrow", "fier", "bleding", "fell", "outages"} {
		if found, ok := Find(typed); ok {
			t.Errorf("%q: %+v", typed, found)
		}
	}
}

func TestNear(t *testing.T) {
	for typed, want := range map[string]string{"fier": "fire", "bleding": "bleeding", "tomorrow": "", "": ""} {
		if got := Near(typed); got != want {
			t.Errorf("%q: %q, want %q", typed, got, want)
		}
	}
}
