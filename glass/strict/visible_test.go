package strict

import (
	"errors"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

func TestVisible(t *testing.T) {
	for in, want := range map[string]string{
		"":                           "",
		"two words\n\t½ × µ é":       "two words\n\t½ × µ é",
		"a\x1b[31mred\x07":           "a<U+001B>[31mred<U+0007>",
		"a\u202eb\u2066c":            "a<U+202E>b<U+2066>c",
		"\u200b\ufeff\u2028":         "<U+200B><U+FEFF><U+2028>",
		"nul\x00 del\x7f":            "nul<U+0000> del<U+007F>",
		"\u0085\r":                   "<U+0085><U+000D>",
		"no \xff utf8":               "no <U+FFFD> utf8",
		"\U0001f469\u200d\U0001f3a8": "\U0001f469\u200d\U0001f3a8",
	} {
		if got := Visible(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
		if again := Visible(Visible(in)); again != want {
			t.Errorf("%q twice: %q", in, again)
		}
	}
}

// TestDecode_visible: no text of a file is handed on with hidden characters,
// wherever it stands.
func TestDecode_visible(t *testing.T) {
	var v struct {
		Name    string
		List    []string
		Of      map[string]string
		Any     map[string]any
		Written textual
	}
	text := `Name = "a\u001bb"
List = ["\u202e"]
Of = {k = "\u0007"}
Any = {deep = {er = ["\u2066", {x = "\u200b"}]}}
Written = "\u061c"
`
	if _, err := Decode(strings.NewReader(text), "x.toml", &v); err != nil {
		t.Fatal(err)
	}
	deep := v.Any["deep"].(map[string]any)["er"].([]any)
	got := v.Name + v.List[0] + v.Of["k"] + deep[0].(string) + deep[1].(map[string]any)["x"].(string) + string(v.Written)
	if want := "a<U+001B>b<U+202E><U+0007><U+2066><U+200B><U+061C>"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

type textual string

func (t *textual) UnmarshalText(text []byte) error { *t = textual(text); return nil }

func TestBrief(t *testing.T) {
	long := strings.Repeat("g", 900_000)
	for _, m := range []string{long, "0=" + long + ": is no size", `"` + strings.Repeat("a b ", 5000) + `": no such shape`,
		strings.Repeat("word ", 9000) + "end", `"unclosed ` + long, strings.Repeat("é", 500), strings.Repeat(`"x" `, 800)} {
		got := Brief(m)
		if n := utf8.RuneCountInString(got); n > longestMessage || !utf8.ValidString(got) || !strings.Contains(got, "…") {
			t.Errorf("%.20q: %d characters: %.100q", m, n, got)
		}
		if i := strings.LastIndex(m, ": "); i >= 0 && !strings.HasSuffix(got, m[i:]) {
			t.Errorf("%.20q: the reason is lost: %q", m, got)
		}
	}
	for _, m := range []string{"", "short", strings.Repeat("word ", 100), `size "` + strings.Repeat("é", 60) + `": no`} {
		if got := Brief(m); got != m {
			t.Errorf("%q became %q", m, got)
		}
	}
}

// TestDecode_brief: no fault of a file makes a message longer than that, hints
// and context included.
func TestDecode_brief(t *testing.T) {
	long := strings.Repeat("g", 500_000)
	var v struct {
		Name string
		N    int
	}
	for _, text := range []string{"N = \"" + long + "\"", long, long + " = 1", "N = " + long, "Name = 1" + long, "Name = \"\\q" + long + "\"", "[" + long + "]", "Name = 1" + strings.Repeat("0", 200_000)} {
		_, err := Decode(strings.NewReader(text), "x.toml", &v)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%.20q: %v", text, err)
			continue
		}
		if n := len(e.Error()); n > 4*longestMessage {
			t.Errorf("%.20q: a message of %d bytes", text, n)
		}
		if n := len(e.Hint()); n > 4*longestMessage {
			t.Errorf("%.20q: a hint of %d bytes", text, n)
		}
		if n := len(e.Context()); n > 4*longestMessage {
			t.Errorf("%.20q: a context of %d bytes", text, n)
		}
	}
}

// TestDecode_bounded: odd text of the largest size is refused, or read, within
// a second, and more values than any file of ours holds are refused.
func TestDecode_bounded(t *testing.T) {
	for name, part := range map[string]string{"lists": "1,", "tables": "[a.b.c]\n", "keys": "a.b.c=1\n", "blanks": "\n", "comments": "#\n", "inline": "{a=1},"} {
		text := strings.Repeat(part, MaxBytes/len(part))
		if name == "lists" || name == "inline" {
			text = "x = [" + text[:len(text)-8*len(part)] + "]"
		}
		var v struct{ X any }
		began := time.Now()
		_, err := Decode(strings.NewReader(text), "x.toml", &v)
		if took := time.Since(began); took > 2*time.Second {
			t.Errorf("%s: took %v", name, took)
		}
		if many := name != "blanks" && name != "comments"; many && (err == nil || !strings.Contains(err.Error(), "more than 40000 values")) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
