package main

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lehr/anneal/piece"
	"lehr/cmd/lehr/topics"
)

// keysOf lists the keys of a TOML text by their tables: "piece.what".
func keysOf(text string) (keys []string) {
	table := ""
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if m := regexp.MustCompile(`^\[\[?(\w+)\]`).FindStringSubmatch(line); m != nil {
			if table = m[1] + "."; m[1] == "session" {
				keys = append(keys, "session")
			}
		} else if m := regexp.MustCompile(`^(\w+) *= `).FindStringSubmatch(line); m != nil && table != "session." && !slices.Contains(keys, table+m[1]) {
			keys = append(keys, table+m[1])
		}
	}
	return keys
}

// TestHelpLoad_everyKey: the load that help shows has the keys that a load file
// takes, all of them and no other, and can be planned as it stands.
func TestHelpLoad_everyKey(t *testing.T) {
	shown, taken := keysOf(topics.LoadExample), piece.LoadKeys()
	for _, k := range taken {
		if !slices.Contains(shown, k) {
			t.Errorf("help load does not show the key %s", k)
		}
	}
	for _, k := range shown {
		if !slices.Contains(taken, k) {
			t.Errorf("help load shows the key %s, which no load file takes", k)
		}
	}
	if len(taken) < 20 || !slices.Contains(taken, "piece.light") || !slices.Contains(taken, "into") {
		t.Errorf("keys of a load file: %v", taken)
	}
	stdout, stderr, code := runHere("plan", exampleOf(t, "load.toml", "load"))
	if code != 0 || !strings.HasPrefix(stdout, "Within limits") || !strings.Contains(stdout, "All 8 pieces of 5 kinds") {
		t.Errorf("exit status %d, stderr %q\n%s", code, stderr, stdout)
	}
	for _, w := range piece.Wears() {
		if !strings.Contains(topics.LoadExample, `"`+w+`"`) || !strings.Contains(topics.PiecesHelp, w) {
			t.Errorf("help does not name the wear %q", w)
		}
	}
}

// TestHelpPieces_everyWord: help names every word that a piece takes, and every
// piece that it shows is one.
func TestHelpPieces_everyWord(t *testing.T) {
	for _, w := range piece.Words() {
		if !regexp.MustCompile(`\b(` + w + `|` + strings.TrimSuffix(w, "s") + `)\b`).MatchString(topics.PiecesHelp) {
			t.Errorf("help pieces does not name %q", w)
		}
	}
	shapes := 0
	for line := range strings.Lines(topics.PiecesHelp) {
		m := regexp.MustCompile(`^  (\w+ [0-9][^ ]*(?: (?:x|wall) [0-9][^ ]*)*)  `).FindStringSubmatch(line)
		if m == nil {
			continue
		}
		shapes++
		for _, word := range []string{"", " raised", " bedded", " shelf", " clear", " dark", " opaque", " textbook", " opaque raised"} {
			if _, err := piece.Parse("3 x " + m[1] + word); err != nil {
				t.Error(err)
			}
		}
	}
	if shapes != 9 {
		t.Errorf("help pieces shows %d shapes, want 9", shapes)
	}
}

// TestSampleLoad_keys: what init writes names every key but those for shapes,
// which help load has, and the textbook.
func TestSampleLoad_keys(t *testing.T) {
	dir := t.TempDir()
	if _, stderr, code := runHere("init", dir); code != 0 {
		t.Fatal(stderr)
	}
	text, err := os.ReadFile(dir + "/" + topics.LoadName)
	if err != nil {
		t.Fatal(err)
	}
	have := keysOf(regexp.MustCompile(`(?m)^#(\w+ *= )`).ReplaceAllString(string(text), "$1"))
	for _, k := range []string{"name", "glass", "start", "into", "piece.what", "piece.count", "piece.glass", "piece.resting", "piece.longest_soak",
		"piece.hottest_soak", "piece.core", "piece.in", "piece.light", "piece.wear", "piece.note"} {
		if !slices.Contains(have, k) {
			t.Errorf("the sample load does not name %s", k)
		}
	}
	for _, k := range have {
		if !slices.Contains(piece.LoadKeys(), k) {
			t.Errorf("the sample load names %s, which no load file takes", k)
		}
	}
}
