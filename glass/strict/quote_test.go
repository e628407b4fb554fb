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

// TestCell: OWASP names these six beginnings under "CSV Injection".
func TestCell(t *testing.T) {
	for text, want := range map[string]string{
		"": "", "sphere 3in": "sphere 3in", "2 x": "2 x", "a=b": "a=b", "'": "'", " =1": " =1",
		"=1+1": "'=1+1", "+1": "'+1", "-1": "'-1", "@SUM(A1)": "'@SUM(A1)", "\t=1": "'\t=1", "\r=1": "'\r=1",
	} {
		if got := Cell(text); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
}
