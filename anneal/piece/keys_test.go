package piece

import (
	"slices"
	"testing"
)

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
