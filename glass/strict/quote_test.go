package strict

import (
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"pgregory.net/rapid"
)

// TestQuote_readsBack: what is written is what a reader of TOML reads.
func TestQuote_readsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := string(rapid.SliceOf(rapid.Byte()).Draw(t, "bytes")) + rapid.String().Draw(t, "text")
		var got struct{ X string }
		if _, err := toml.Decode("x = "+Quote(s)+"\n", &got); err != nil {
			t.Fatalf("%s: %v", Quote(s), err)
		}
		if want := strings.ToValidUTF8(s, "\ufffd"); got.X != want {
			t.Errorf("%q, want %q", got.X, want)
		}
	})
}
