package term

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func TestWrapText(t *testing.T) {
	for _, c := range []struct {
		text               string
		width, first, rest int
		want               string
	}{
		{"a b c", 80, 2, 4, "  a b c\n"},
		{"one two three", 9, 2, 2, "  one two\n  three\n"},
		{"one two three", 9, 0, 2, "one two\n  three\n"},
		{"extraordinarily long", 8, 0, 0, "extraordinarily\nlong\n"},
		{"one\ntwo\n\nthree", 80, 0, 0, "one two\n\nthree\n"},
		{"hold at 510 °C for 75 min now", 15, 0, 0, "hold at 510 °C\nfor 75 min now\n"},
		{"hold at 510 °C", 12, 0, 0, "hold at\n510 °C\n"}, // Number and unit stay together
		{"from 950 ± 18 °F up", 14, 0, 0, "from\n950 ± 18 °F up\n"},
		{"text\n  x = 1\ntext", 80, 1, 1, " text\n   x = 1\n text\n"},
	} {
		if got := Wrap(c.text, c.width, c.first, c.rest); got != c.want {
			t.Errorf("wrapText(%q, %d):\n%q, want\n%q", c.text, c.width, got, c.want)
		}
	}
}

// TestWrapText_keepsWords checks that wrapping only moves line ends.
func TestWrapText_keepsWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOf(rapid.StringMatching(`[a-z°0-9]{1,12}`)).Draw(t, "words")
		width := rapid.IntRange(20, 80).Draw(t, "width")
		indent := rapid.IntRange(0, 8).Draw(t, "indent")
		got := Wrap(strings.Join(words, " "), width, indent, indent)
		if strings.Join(strings.Fields(got), " ") != strings.Join(words, " ") {
			t.Fatalf("words changed: %q", got)
		}
		for line := range strings.SplitSeq(got, "\n") {
			if n := utf8.RuneCountInString(line); n > width && len(strings.Fields(line)) > 2 {
				t.Fatalf("%d columns, want %d: %q", n, width, line)
			}
		}
	})
}

// tableApp is an app that writes into buf.
func tableScreen(buf *bytes.Buffer, tty, plain bool) *Screen {
	return &Screen{Out: buf, Plain: plain, Term: Terminal{TTY: tty, Width: MaxWidth, UTF8: true}}
}

func TestTable(t *testing.T) {
	cols := []Column{TextColumn("purpose"), NumberColumn("rate °C/h"), NumberColumn("hold (min)")}
	rows := [][]string{{"heat", "300", ""}, {"soak", "–", "75"}, {"cool slowly", "12.5", "0"}}
	for _, c := range []struct {
		name       string
		tty, plain bool
		want       string
	}{
		{"pipe", false, false, `
purpose      rate °C/h  hold (min)
──────────────────────────────────
heat               300
soak                 –          75
cool slowly       12.5           0
`}, {"plain", true, true, `
purpose      rate C/h  hold (min)
---------------------------------
heat              300
soak                -          75
cool slowly      12.5           0
`}, {"terminal", true, false, `
┌─────────────┬───────────┬────────────┐
│ purpose     │ rate °C/h │ hold (min) │
├─────────────┼───────────┼────────────┤
│ heat        │       300 │            │
│ soak        │         – │         75 │
│ cool slowly │      12.5 │          0 │
└─────────────┴───────────┴────────────┘
`}} {
		t.Run(c.name, func(t *testing.T) {
			// These must not change the layout.
			t.Setenv("LANG", "ja_JP.UTF-8")
			t.Setenv("LC_ALL", "ja_JP.UTF-8")
			var buf bytes.Buffer
			s := tableScreen(&buf, c.tty, c.plain)
			if err := s.Table(cols, rows); err != nil {
				t.Fatal(err)
			}
			if got := "\n" + buf.String(); got != c.want {
				t.Errorf("got:%s\nwant:%s", got, c.want)
			}
		})
	}
}

func TestTable_wrapsInto80Columns(t *testing.T) {
	long := strings.Repeat("a rather long remark ", 8)
	for _, tty := range []bool{false, true} {
		var buf bytes.Buffer
		s := tableScreen(&buf, tty, false)
		err := s.Table([]Column{TextColumn("what"), LongColumn("source"), LongColumn("note")},
			[][]string{{"annealing point", long, long}, {"x", "short", ""}})
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.SplitSeq(buf.String(), "\n") {
			if Columns(line) > 80 {
				t.Errorf("%d columns: %s", Columns(line), line)
			}
		}
		if got := strings.Count(buf.String(), "remark"); got != 16 {
			t.Errorf("%d remarks, want 16:\n%s", got, buf.String())
		}
	}
}

type pointed struct{}

func (pointed) Error() string   { return "load.toml:3: piece 1: what: is \x1b[31mred" }
func (pointed) Context() string { return "what = \"x\"\n       ^" }
func (pointed) Hint() string    { return `write "510 °C"` }

func TestPrintError(t *testing.T) {
	var b bytes.Buffer
	PrintError(&b, fmt.Errorf("plan: %w", pointed{}), false, 0)
	want := "lehr: error: plan: load.toml:3: piece 1: what: is <U+001B>[31mred\n" +
		"  what = \"x\"\n         ^\nlehr: hint: write \"510 °C\"\n"
	if b.String() != want {
		t.Errorf("got:\n%s\nwant:\n%s", b.String(), want)
	}
}

// TestPrintError_wraps checks that a terminal gets no line beyond its width,
// and a pipe one line.
func TestPrintError_wraps(t *testing.T) {
	err := WithHint(errors.New(strings.Repeat("sphere 2in (float) must be soaked at 522 °C; ", 6)), strings.Repeat("give holding ", 12))
	for _, width := range []int{40, 60, 80} {
		var b bytes.Buffer
		PrintError(&b, err, false, width)
		for line := range strings.Lines(b.String()) {
			if n := Columns(strings.TrimSuffix(line, "\n")); n > width {
				t.Errorf("%d columns, want %d: %s", n, width, line)
			}
		}
	}
	var b bytes.Buffer
	PrintError(&b, err, false, 0)
	if n := strings.Count(b.String(), "\n"); n != 2 {
		t.Errorf("%d lines in a pipe, want 2", n)
	}
}

func TestHintOf(t *testing.T) {
	inner := WithHint(errors.New("x"), "do this")
	for _, c := range []struct {
		err  error
		want string
	}{
		{nil, ""}, {errors.New("x"), ""}, {inner, "do this"}, {fmt.Errorf("a: %w", inner), "do this"},
		{WithHint(inner, ""), "do this"},
	} {
		if got := HintOf(c.err); got != c.want {
			t.Errorf("hintOf(%v) = %q, want %q", c.err, got, c.want)
		}
	}
}

// TestCapital: a clause gets its capital; a name of other letters is not taken apart.
func TestCapital(t *testing.T) {
	for s, want := range map[string]string{"": "", "a row": "A row", "émail 2in": "émail 2in", "ß": "ß", "6 x sphere": "6 x sphere", "Z": "Z", "\xff": "\xff"} {
		if got := Capital(s); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
}

func TestSpeaksUTF8(t *testing.T) {
	for _, c := range []struct {
		env  map[string]string
		want bool
	}{
		{map[string]string{"LANG": "en_US.UTF-8"}, true},
		{map[string]string{"LANG": "C.utf8"}, true},
		{map[string]string{"LANG": "C"}, false},
		{map[string]string{"LANG": "en_US.UTF-8", "LC_ALL": "POSIX"}, false},
		{map[string]string{"LANG": "C", "LC_CTYPE": "C.UTF-8"}, true},
	} {
		if got := speaksUTF8(func(name string) string { return c.env[name] }); got != c.want {
			t.Errorf("%v: %v, want %v", c.env, got, c.want)
		}
	}
}

// TestToASCII checks that nothing but ASCII comes out, whatever goes in.
func TestToASCII(t *testing.T) {
	if got, want := ToASCII("2½ in × 64 mm: ≤ 510 °C ± 5 K, 1.0 Pa·s, 33×10⁻⁷/K, cm³"), "2 1/2 in x 64 mm: <= 510 C +/- 5 K, 1.0 Pa.s, 33x10^-7/K, cm^3"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	rapid.Check(t, func(t *rapid.T) {
		for _, r := range ToASCII(rapid.String().Draw(t, "s")) {
			if r > 126 {
				t.Fatalf("%q came through", r)
			}
		}
	})
}
