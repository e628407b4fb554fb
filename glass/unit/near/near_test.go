package near_test

import (
	"testing"

	"lehr/glass/unit/near"
)

func TestWord(t *testing.T) {
	names := []string{"borosilicate-33", "soda-104", "fusible-96", "float"}
	for word, want := range map[string]string{
		"borosilicat-33": "borosilicate-33", "borosilicate33": "borosilicate-33", "flaot": "float",
		"soda-140": "soda-104", "fusable-96": "fusible-96", "window": "", "": "", "x": "",
	} {
		if got := near.Word(word, names); got != want {
			t.Errorf("Word(%q) = %q, want %q", word, got, want)
		}
	}
}
