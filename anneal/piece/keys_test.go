package piece

import (
	"slices"
	"testing"
)

// TestWears_areTheWords: the words that are listed are those that are read.
func TestWears_areTheWords(t *testing.T) {
	if len(Wears()) != len(wears)-1 {
		t.Errorf("%d words listed, %d read", len(Wears()), len(wears)-1)
	}
	for _, w := range Wears() {
		if _, ok := wears[w]; !ok {
			t.Errorf("%q is not read", w)
		}
	}
}

// TestWords_tail: each word behind the sizes does what it says.
func TestWords_tail(t *testing.T) {
	for _, w := range tailWords {
		p, err := Parse("tube 38mm wall 4mm " + w)
		if err != nil {
			t.Error(err)
			continue
		}
		open := w == "open" || w == "open-ended"
		said := string(p.Resting) == w || string(p.Light) == w || p.OpenEnded == open && (open || w == "closed") || p.Textbook && w == "textbook"
		if !said || p.OpenEnded != open {
			t.Errorf("%s: %+v", w, p)
		}
	}
	if !slices.Contains(Words(), "paperweight") || !slices.Contains(Words(), "wall") {
		t.Error(Words())
	}
}
