package notebook

import (
	"errors"
	"strings"
	"testing"

	"lehr/glass/strict"

	"pgregory.net/rapid"
)

func TestEdit_leavesTheRest(t *testing.T) {
	out, err := Edit([]byte(night), "n.toml", []Change{
		{0, "words", strict.Quote("opened by hand")},
		{0, "log", strict.Quote("night.csv")},
		{1, "got", strict.Quote("76.2 mm")},
		{1, "note", strict.Quote("sold")},
		{1, "rod", "rod = \"6mm cobalt\"\nbefore = \"200 g\"\nafter = \"150 g\"\n"},
		{2, "result", strict.Quote("cracked later")},
		{2, "days", "40"},
		{0, "piece", "what = \"sphere 2in\"\nresult = \"whole\"\n"},
	})
	if err != nil {
		t.Fatal(err)
	}
	want := strings.NewReplacer(
		`words = "door stuck at two"`+"\n", `words = "opened by hand"`+"\n"+`log = "night.csv"`+"\n",
		`got = "76.5 mm"   # with`, `got = "76.2 mm" # with`,
		`predicted = "98 nm"`+"\n", `predicted = "98 nm"`+"\n"+`note = "sold"`+"\n",
		"after = \"655 g\"\n", "after = \"655 g\"\n[[piece.rod]]\nrod = \"6mm cobalt\"\nbefore = \"200 g\"\nafter = \"150 g\"\n",
		`result = "whole"`, `result = "cracked later"`,
		"mood = \"good\"\n", "mood = \"good\"\ndays = 40\n\n[[piece]]\nwhat = \"sphere 2in\"\nresult = \"whole\"\n",
	).Replace(night)
	if string(out) != want {
		t.Errorf("got\n%s\nwant\n%s", out, want)
	}
	r, err := Read(out, "n.toml")
	if err != nil || len(r.Pieces) != 3 || r.Pieces[1].Days != 40 || len(r.Pieces[0].Rods) != 2 {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestEdit_refuses(t *testing.T) {
	for _, c := range []struct {
		name, text string
		change     Change
		want       string
	}{
		{"no piece", night, Change{3, "note", `"x"`}, "piece 3: is not there; the record has 2"},
		{"bad value", night, Change{1, "result", `"broke"`}, "is no result"},
		{"not TOML", night, Change{1, "note", `x y`}, "value"},
		{"inline pieces", `piece = [{what = "sphere 3in"}]` + "\n", Change{1, "note", `"x"`}, ErrByHand.Error()},
		{"long text", "words = \"\"\"\nkiln = 3\n\"\"\"\n", Change{0, "kiln", `"big"`}, ErrByHand.Error()},
		{"list over lines", "[[piece]]\ncolor = [\n\"a\",\n]\n", Change{1, "color", `["b"]`}, ErrByHand.Error()},
	} {
		out, err := Edit([]byte(c.text), "n.toml", []Change{c.change})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %q, %v, want %q", c.name, out, err, c.want)
		}
	}
	if _, err := Edit([]byte("words = \"\"\"\nkiln = 3\n\"\"\"\n"), "n.toml", []Change{{0, "kiln", `"big"`}}); !errors.Is(err, ErrByHand) {
		t.Errorf("got %v", err)
	}
}

// An edit says what was meant, or nothing is changed: never something else.
func TestEdit_meansWhatItSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := night
		if rapid.Bool().Draw(t, "crlf") {
			text = strings.ReplaceAll(text, "\n", "\r\n")
		}
		if rapid.Bool().Draw(t, "open end") {
			text = strings.TrimRight(text, "\r\n")
		}
		c := Change{Piece: rapid.IntRange(0, 2).Draw(t, "piece"), Key: rapid.SampledFrom([]string{"note", "words", "kiln", "crack", "own-key"}).Draw(t, "key"),
			Value: strict.Quote(rapid.String().Draw(t, "value"))}
		out, err := Edit([]byte(text), "n.toml", []Change{c})
		if err != nil {
			t.Fatalf("%v: %v", c, err)
		}
		again, err := Edit(out, "n.toml", []Change{c})
		if err != nil || string(again) != string(out) {
			t.Fatalf("a second time: %v\n%s\n%s", err, out, again)
		}
	})
}

// FuzzEdit: no record makes a change panic, and what comes out is read again.
func FuzzEdit(f *testing.F) {
	f.Add(night, 1, "note", "x")
	f.Add("piece = [{what = \"a\"}]", 1, "note", "x")
	f.Add("[piece]\n[[piece]]\n", 0, "piece", "what = \"a\"\n")
	f.Add("a.b = 1\n[x]\ny=\"\"\"\n[[piece]]\n\"\"\"", 1, "rod", "rod = \"a\"\n")
	f.Fuzz(func(t *testing.T, text string, piece int, key, value string) {
		if piece < 0 || !bare(key) {
			return
		}
		if key != "piece" && key != "rod" {
			value = strict.Quote(value)
		}
		out, err := Edit([]byte(text), "n.toml", []Change{{piece, key, value}})
		if err != nil {
			return
		}
		if _, err := Read(out, "n.toml"); err != nil {
			t.Errorf("%q: %v", out, err)
		}
	})
}
