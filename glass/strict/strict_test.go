package strict_test

import (
	"errors"
	"fmt"
	"io"
	"math/rand"
	"os"
	"strings"
	"testing"
	"testing/iotest"
	"unicode"

	"lehr/glass/strict"
)

// size is a stand-in for a quantity: text with a unit.
type size struct{ text string }

type needsUnit struct{ in string }

func (e needsUnit) Error() string { return e.in + ": has no unit" }
func (e needsUnit) Hint() string  { return `write "` + e.in + ` mm"` }

func (s *size) UnmarshalText(b []byte) error {
	if !strings.HasSuffix(string(b), "mm") {
		return needsUnit{string(b)}
	}
	s.text = string(b)
	return nil
}

// shape takes either text or a table.
type shape struct {
	Form  string  `toml:"form"`
	Size  size    `toml:"size"`
	Ratio float64 `toml:"ratio"`
}

func (s *shape) UnmarshalText(b []byte) error {
	form, rest, ok := strings.Cut(string(b), " ")
	if !ok {
		return errors.New("needs a size")
	}
	s.Form = form
	return s.Size.UnmarshalText([]byte(rest))
}

type load struct {
	Name  string            `toml:"name"`
	Kiln  kiln              `toml:"kiln"`
	Piece []piece           `toml:"piece"`
	Words map[string]string `toml:"words"`
	Extra any               `toml:"extra"`
	Hide  string            `toml:"-"`
}
type kiln struct {
	Inside size      `toml:"inside"`
	Curve  []float64 `toml:"curve"`
}
type piece struct {
	What  shape  `toml:"what"`
	Count *int   `toml:"count"`
	Glued bool   `toml:"glued"`
	Cuts  []size `toml:"cuts"`
}

func decode(text string) (*load, *strict.File, error) {
	var l load
	f, err := strict.Decode(strings.NewReader(text), "load.toml", &l)
	return &l, f, err
}

const good = `name = "night" # first
kiln = { inside = "400 mm", curve = [1, 2.5] }

[[piece]]
what  = "sphere 60 mm"
count = 6
[[piece]]
what.form = "rod"
what.size = "10 mm"
cuts = ["3 mm", "4 mm"]
[words]
"a.b" = "c"
`

func TestDecode(t *testing.T) {
	l, _, err := decode(good)
	if err != nil {
		t.Fatal(err)
	}
	got := fmt.Sprint(l.Name, l.Kiln, l.Piece[0].What, *l.Piece[0].Count, l.Piece[1].What, l.Piece[1].Cuts, l.Words)
	want := "night{{400 mm} [1 2.5]} {sphere {60 mm} 0} 6 {rod {10 mm} 0} [{3 mm} {4 mm}] map[a.b:c]"
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// TestDecode_refuses gives for each fault the words, and the context with its
// caret, that a reader sees.
func TestDecode_refuses(t *testing.T) {
	for _, c := range []struct{ name, text, want, context, hint string }{
		{"unknown key", "nam = \"x\"\n", `load.toml:1: nam: is not a key of this file`,
			"1 | nam = \"x\"\n  | ^^^", "did you mean name?"},
		{"unknown key, second element", "[[piece]]\ncount = 1\n[[piece]]\n  cuont = 2\n", `load.toml:4: piece 2: cuont: is not a key of this file`,
			"4 |   cuont = 2\n  |   ^^^^^", "did you mean count?"},
		{"unknown key, inline table", "[[piece]]\nwhat = { form = \"rod\", sise = \"2 mm\" }\n", `load.toml:2: what: sise: is not a key of this file`,
			"2 | what = { form = \"rod\", sise = \"2 mm\" }\n  |                        ^^^^", "did you mean size?"},
		{"unknown key, nothing near", "kiln.volume = 3\n", `load.toml:1: kiln: volume: is not a key of this file`,
			"1 | kiln.volume = 3\n  |      ^^^^^^", "known here: curve, inside"},
		{"case matters", "Name = \"x\"\n", `load.toml:1: Name: is not a key of this file`, "1 | Name = \"x\"\n  | ^^^^", "did you mean name?"},
		{"hidden field", "Hide = \"x\"\n", `load.toml:1: Hide: is not a key of this file`, "1 | Hide = \"x\"\n  | ^^^^", "known here: extra, kiln, name, piece, words"},
		{"bare number", "[kiln]\ninside = 510\n", `load.toml:2: kiln: inside 510: has no unit`,
			"2 | inside = 510\n  |          ^^^", `write "510 mm"`},
		{"bare number keeps its spelling", "kiln.inside = 9.2e-6 # m\n", `load.toml:1: kiln: inside 9.2e-6: has no unit`,
			"1 | kiln.inside = 9.2e-6 # m\n  |               ^^^^^^", `write "9.2e-6 mm"`},
		{"text error", "[[piece]]\nwhat = \"sphere\"\n[[piece]]\n", `load.toml:2: piece 1: what: needs a size`,
			"2 | what = \"sphere\"\n  |        ^^^^^^^^", ""},
		{"text for number", "[[piece]]\ncount = \"six\"\n", `load.toml:2: count six: is text, and must be a whole number`,
			"2 | count = \"six\"\n  |         ^^^^^", ""},
		{"number for text", "name = 5\n", `load.toml:1: name 5: is a whole number, and must be text in quotes`, "1 | name = 5\n  |        ^", ""},
		{"fraction for whole", "[[piece]]\ncount = 1.5\n", `load.toml:2: count 1.5: is a number, and must be a whole number`, "2 | count = 1.5\n  |         ^^^", ""},
		{"table for list", "[piece]\n", `load.toml:1: piece: is a single table, and there may be several`, "1 | [piece]\n  | ^^^^^^^", "write [[piece]] before each one"},
		{"number in quotes", "[[piece]]\ncount = \"6\"\n", `load.toml:2: count 6: is text, and must be a whole number`, "", "leave the quotes out: count = 6"},
		{"time without quotes", "name = 22:15\n", `load.toml:1: name 22:15: is a date or time without quotes`, "", `put it in quotes: name = "22:15"`},
		{"the first fault in the file", "[[piece]]\ncount = \"6\"\n[kiln]\nvolume = 3\n", `load.toml:2: count 6`, "", ""},
		{"a fault before a list", "name = 5\n[[piece]]\ncount = \"6\"\n", `load.toml:1: name 5`, "", ""},
		{"line break in a key", "\"a\\nb\" = 1\n", `load.toml:1: a\nb: is not a key of this file`, "", ""},
		{"escaped line break", "name = \"a\\\n\"\n", `load.toml:`, "", ""},
		{"escaped control character", "name = \"a\\\x1b[31m\"\n", `load.toml:1: `, "", ""},
		{"list for text or table", "[[piece]]\nwhat = [1]\n", `load.toml:2: what: is a list, and must be text in quotes or a table of keys`, "2 | what = [1]\n  |        ^^^", ""},
		{"text for truth", "[[piece]]\nglued = \"yes\"\n", `load.toml:2: glued yes: is text, and must be true or false`, "2 | glued = \"yes\"\n  |         ^^^^^", ""},
		{"date for text", "name = 2026-11-25\n", `load.toml:1: name 2026-11-25: is a date or time without quotes, and must be text in quotes`, "1 | name = 2026-11-25\n  |        ^^^^^^^^^^", ""},
		{"NaN", "[kiln]\ncurve = [1, nan]\n", `load.toml:2: kiln: curve 2: must be a finite number`, "2 | curve = [1, nan]\n  |             ^^^", ""},
		{"infinity where anything goes", "extra = { deep = [[-inf]] }\n", `load.toml:1: extra: deep: must be a finite number`, "", ""},
		{"syntax", "name = \n", `load.toml:1: `, "1 | name =\n  |        ^", ""},
		{"unquoted text", "name = night # of stars\n", `load.toml:1: is text without quotes`, "1 | name = night # of stars\n  |        ^", `put it in quotes: name = "night"`},
		{"open string", "a = 1\nname = \"x\nb = 2", `load.toml:2: a text is not closed before the line ends`, "2 | name = \"x\n", `put a quote mark at its end: name = "x"`},
		{"inch mark in a text", "[[piece]]\nwhat = \"disc 2 1/2\" x 1\"\"\n", `load.toml:2: a quote mark inside a text ends it`, "", `write inches as in: what = "disc 2 1/2in x 1in"`},
		{"prose", "Six spheres, and a pendant.\n", `load.toml:1: is no key = value`, "1 | Six spheres", `write one on each line, such as name = "rock pools", and # before words of your own`},
		{"two keys on a line", "a = \"b\", c = 1\n", `load.toml:1: goes on after the value; one line holds one key`, "", ""},
		{"one bracket missing", "[[piece]\n", `load.toml:1: the name of a table is not closed`, "", ""},
		{"twice", "name = \"a\"\nname = \"b\"\n", `load.toml:2: `, "2 | name = \"b\"\n  |", ""},
		{"NUL", "name = \"a\x00\"", `load.toml:1: is not a text file: byte 0x00`, "", "check that this is the file you meant, and save it as UTF-8 text"},
		{"Latin-1", "a = 1\nname = \"510 \xb0C\"", `load.toml:2: is not a text file: byte 0xb0`, "", "check that this is the file you meant, and save it as UTF-8 text"},
		{"UTF-16", "\xff\xfen\x00", `load.toml: is text in UTF-16, and must be UTF-8`, "", "save it again as UTF-8"},
		{"deep lists", "extra = " + strings.Repeat("[", 500_000), `load.toml:1: nests deeper than 24 levels`, "", ""},
		{"deep key", strings.Repeat("a.", 500_000) + "a = 1", `load.toml:1: nests deeper than 24 levels`, "", ""},
		{"large number", "[[piece]]\ncount = 99999999999999999999\n", `load.toml:2: `, "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, _, err := decode(c.text)
			var e *strict.Error
			if !errors.As(err, &e) {
				t.Fatalf("got %v, want an *Error", err)
			}
			if !strings.HasPrefix(e.Error(), c.want) || strings.ContainsFunc(e.Error(), unicode.IsControl) {
				t.Errorf("got  %q\nwant %s", e, c.want)
			}
			if c.context != "" && !strings.HasPrefix(e.Context(), c.context) {
				t.Errorf("context:\n%s\nwant:\n%s", e.Context(), c.context)
			}
			if c.hint != "" && e.Hint() != c.hint {
				t.Errorf("hint %q, want %q", e.Hint(), c.hint)
			}
		})
	}
}

func TestDecode_tenMegabytes(t *testing.T) {
	endless := io.LimitReader(rand.New(rand.NewSource(1)), 10<<20)
	var l load
	_, err := strict.Decode(io.MultiReader(strings.NewReader("name = \"x\"\n#"), endless), "big.toml", &l)
	if err == nil || err.Error() != "big.toml: is larger than 1 MiB, the most that is read" {
		t.Error(err)
	}
}

func TestDecode_readError(t *testing.T) {
	var l load
	_, err := strict.Decode(iotest.ErrReader(os.ErrPermission), "load.toml", &l)
	if !errors.Is(err, os.ErrPermission) || !strings.HasPrefix(err.Error(), "load.toml: ") {
		t.Error(err)
	}
}

func TestDecode_byteOrderMarkAndCRLF(t *testing.T) {
	l, f, err := decode("\ufeff" + strings.ReplaceAll(good, "\n", "\r\n"))
	if err != nil || l.Name != "night" {
		t.Fatal(err)
	}
	if got := f.Line("piece", "1", "cuts"); got != 10 {
		t.Errorf("line %d, want 10", got)
	}
}

// TestErrorf finds keys in every way in which TOML lets them be written.
func TestErrorf(t *testing.T) {
	_, f, err := decode(good)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		key           []string
		want, context string
	}{
		{[]string{"name"}, `load.toml:1: name: wrong`, "1 | name = \"night\" # first\n  |        ^^^^^^^"},
		{[]string{"kiln", "inside"}, `load.toml:2: kiln: inside: wrong`, "2 | kiln = { inside = \"400 mm\", curve = [1, 2.5] }\n  |                   ^^^^^^^^"},
		{[]string{"kiln", "curve", "1"}, `load.toml:2: kiln: curve 2: wrong`, "2 | kiln = { inside = \"400 mm\", curve = [1, 2.5] }\n  |                                         ^^^"},
		{[]string{"piece", "0", "count"}, `load.toml:6: piece 1: count: wrong`, "6 | count = 6\n  |         ^"},
		{[]string{"piece", "1", "what", "size"}, `load.toml:9: piece 2: what: size: wrong`, "9 | what.size = \"10 mm\"\n  |             ^^^^^^^"},
		{[]string{"piece", "1", "cuts", "1"}, `load.toml:10: piece 2: cuts 2: wrong`, "10 | cuts = [\"3 mm\", \"4 mm\"]\n   |                 ^^^^^^"},
		{[]string{"piece", "1"}, `load.toml:7: piece 2: wrong`, "7 | [[piece]]\n  | ^^^^^^^^^"},
		{[]string{"piece", "1", "glued"}, `load.toml:7: piece 2: glued: wrong`, "7 | [[piece]]\n  | ^^^^^^^^^"},
		{[]string{"words", "a.b"}, `load.toml:12: words: a.b: wrong`, "12 | \"a.b\" = \"c\"\n   |         ^^^"},
		{[]string{"nothing"}, `load.toml: nothing: wrong`, ""},
		{nil, `load.toml: wrong`, ""},
	} {
		err := f.Errorf(c.key, "wrong")
		if err.Error() != c.want {
			t.Errorf("got  %s\nwant %s", err, c.want)
		}
		var e *strict.Error
		if errors.As(err, &e); e.Context() != c.context {
			t.Errorf("%v:\n%s\nwant:\n%s", c.key, e.Context(), c.context)
		}
	}
}

func TestErrorf_valueAsTyped(t *testing.T) {
	_, f, err := decode(good)
	if err != nil {
		t.Fatal(err)
	}
	err = f.Errorf([]string{"kiln", "inside"}, "%w", needsUnit{"400 mm"})
	if got, want := err.Error(), "load.toml:2: kiln: inside 400 mm: has no unit"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	var h interface{ Hint() string }
	if !errors.As(err, &h) || h.Hint() != `write "400 mm mm"` {
		t.Error("the hint of a wrapped error is lost")
	}
	if !errors.As(err, new(needsUnit)) {
		t.Error("the wrapped error is lost")
	}
	err = f.HintErrorf([]string{"name"}, "do this", "wrong")
	if !errors.As(err, &h) || h.Hint() != "do this" {
		t.Error("HintErrorf has no hint")
	}
}

func TestContext_longLine(t *testing.T) {
	_, f, err := decode("words = { a = \"" + strings.Repeat("é", 200) + "\", b = \"here\", c = \"" + strings.Repeat("x", 200) + "\" }\n")
	if err != nil {
		t.Fatal(err)
	}
	var e *strict.Error
	errors.As(f.Errorf([]string{"words", "b"}, "wrong"), &e)
	line, caret, _ := strings.Cut(e.Context(), "\n")
	at := len([]rune(caret[:strings.Index(caret, "^")]))
	if got := string([]rune(line)[at : at+6]); got != `"here"` || len([]rune(line)) > 80 {
		t.Errorf("the caret is under %s:\n%s", got, e.Context())
	}
}

type sizes []size

func (sizes) OneOrMany() {}

func TestOneOrMany(t *testing.T) {
	for text, want := range map[string]int{"cut = \"3 mm\"": 1, "cut = [\"3 mm\"]": 1, "cut = [\"3 mm\", \"4 mm\"]": 2, "cut = []": 0} {
		var v struct {
			Cut sizes `toml:"cut"`
		}
		if _, err := strict.Decode(strings.NewReader(text), "x", &v); err != nil || len(v.Cut) != want || v.Cut == nil {
			t.Errorf("%s: %v, %v", text, v.Cut, err)
		}
	}
}

func TestAt(t *testing.T) {
	_, f, err := decode(good)
	if err != nil {
		t.Fatal(err)
	}
	var e *strict.Error
	if errors.As(f.At([]string{"piece", "0", "count"}, "six is too many", "take five", nil), &e); e.Error() != "load.toml:6: six is too many" || e.Hint() != "take five" {
		t.Error(e, e.Hint())
	}
	if !f.Has("piece", "0", "count") || f.Has("piece", "0", "cuts") {
		t.Error("Has is wrong")
	}
}

// FuzzDecode: no input makes Decode panic or hang, and in what it accepts every
// key that was set can be found again.
func FuzzDecode(f *testing.F) {
	f.Add(good)
	f.Add("a = '''\n'''\n[[piece]]\n[[piece]]\nwhat = {form='x'}\n[words]\nx = \"\"\"a\"\"\"\"\"\n")
	f.Add("extra = [[1, 2], {a = [ # c\n 1,\n ]}]\n[piece]\n")
	f.Add("\"\" = 1\n'' = 2\na.\"b\\u0041\".c = 1979-05-27 07:32:00\n")
	f.Fuzz(func(t *testing.T, text string) {
		l, file, err := decode(text)
		var e *strict.Error
		if errors.As(err, &e) {
			if strings.ContainsFunc(e.Error(), unicode.IsControl) {
				t.Errorf("message %q", e.Error())
			}
			_ = e.Context()
			_ = e.Hint()
			return
		}
		if err != nil {
			t.Fatalf("not an *Error: %v", err)
		}
		if l.Name != "" && file.Line("name") == 0 {
			t.Error("name is not found")
		}
		for i := range l.Piece {
			if file.Line("piece", fmt.Sprint(i)) == 0 {
				t.Errorf("piece %d is not found", i)
			}
		}
	})
}
