package notebook

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"lehr/glass/unit"
)

const night = `# the big kiln, before the fair
date = "2026-11-25T22:15:00-05:00"
kiln = "big"
load = "loads/fair.toml"
load_sha256 = "0123"
program = "tonight.toml"
opened_at = "43 °C"
weather = "rain"   # a key of my own
words = "door stuck at two"

[[piece]]
what = "sphere 3in"
count = 6
color = ["cobalt", "clear"]
got = "76.5 mm"   # with the big gauge
mass = "515 g"
result = "cracked later"
days = 12
crack = "follows the cobalt"
reading = "60 ± 15 nm"
reading_in = "air"
predicted = "98 nm"
[[piece.rod]]
rod = "19mm clear"
before = "4000 g"
after = "655 g"

# the small ones
[[piece]]
what = "sphere 1 1/4 in"
result = "whole"
mood = "good"
`

func TestRead(t *testing.T) {
	r, err := Read([]byte(night), "2026-11-25-big.toml")
	if err != nil {
		t.Fatal(err)
	}
	want := Record{
		Name: "2026-11-25-big", Date: time.Date(2026, 11, 25, 22, 15, 0, 0, time.FixedZone("", -5*3600)), Kiln: "big",
		Load: File{"loads/fair.toml", "0123"}, Program: File{Path: "tonight.toml"}, At: unit.Celsius(43), Words: "door stuck at two",
		Unknown: []string{"piece 2: mood", "weather"},
		Pieces: []Piece{
			{What: "sphere 3in", Count: 6, Colors: []string{"cobalt", "clear"}, Got: 76.5 * unit.Millimeter, Mass: 515 * unit.Gram,
				Result: CrackedLater, Days: 12, Crack: "follows the cobalt", Reading: "60 ± 15 nm", In: "air", Predicted: Predicted{Nanometers: 98},
				Rods: []RodUse{{"19mm clear", 4000 * unit.Gram, 655 * unit.Gram}}},
			{What: "sphere 1 1/4 in", Count: 1, Result: Whole},
		},
	}
	same := cmp.Options{cmpopts.EquateApprox(1e-12, 0), cmp.Comparer(func(a, b time.Time) bool { return a.Equal(b) }),
		cmp.Comparer(func(a, b unit.Temp) bool { return a == b })}
	if d := cmp.Diff(want, r, same); d != "" {
		t.Error(d)
	}
	// 3345 g for six of 515 g: 7.62 % of it lost.
	if x, ok := r.Pieces[0].Loss(); !ok || x < 0.0762 || x > 0.0763 {
		t.Errorf("loss %g %v", x, ok)
	}
	if s := r.Pieces[1].Size(); s != 1.25*unit.Inch {
		t.Errorf("size %v", s)
	}
}

func TestRead_refuses(t *testing.T) {
	for want, text := range map[string]string{
		`x.toml:1: date yesterday: is no date`: `date = "yesterday"`,
		`x.toml:2: result broke: is no result`: "[[piece]]\nresult = \"broke\"",
		`x.toml:3: got 75: has no unit`:        "[[piece]]\nwhat = \"sphere 3in\"\ngot = \"75\"",
		`more than the 10 g before`:            "[[piece]]\n[[piece.rod]]\nbefore = \"10 g\"\nafter = \"12 g\"",
		`must be from 1 to 10000`:              "[[piece]]\ncount = 0",
		`must be text`:                         "kiln = 3",
		`must be a list of texts`:              "[[piece]]\ncolor = [1]",
		`must be air or liquid`:                "[[piece]]\nreading_in = \"oil\"",
		`must be a whole number`:               "[[piece]]\ncount = \"6\"",
		`is no retardation`:                    "[[piece]]\npredicted = \"98\"",
		`x.toml:1: `:                           "kiln = ",
	} {
		if r, err := Read([]byte(text+"\n"), "x.toml"); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, %v, want %q", text, r, err, want)
		}
	}
}

// What is written reads back, by either reader.
func TestText_readsBack(t *testing.T) {
	word := rapid.StringMatching(`[a-z"\\ #\[\]éµ=\n']{0,12}`)
	rapid.Check(t, func(t *rapid.T) {
		r := Record{Name: "n", Kiln: word.Draw(t, "kiln"), Words: word.Draw(t, "words"),
			Date: time.Unix(rapid.Int64Range(0, 4e9).Draw(t, "date"), 0).UTC(),
			Load: File{word.Draw(t, "load"), "12ab"}, Falls: time.Duration(rapid.IntRange(0, 900).Draw(t, "falls")) * time.Minute}
		for range rapid.IntRange(0, 3).Draw(t, "pieces") {
			p := Piece{What: word.Draw(t, "what"), Count: rapid.IntRange(1, 20).Draw(t, "count"), Result: rapid.SampledFrom(results()).Draw(t, "result"),
				Predicted: rapid.SampledFrom([]Predicted{{}, {98, 0, ""}, {379.2, 480.1, "through its edge"}}).Draw(t, "predicted"),
				Note:      word.Draw(t, "note"), Days: rapid.IntRange(0, 99).Draw(t, "days"), Mass: unit.Mass(rapid.IntRange(0, 5000).Draw(t, "mass")) * unit.Gram}
			p.Of = rapid.IntRange(0, p.Count).Draw(t, "result_of")
			for range rapid.IntRange(0, 2).Draw(t, "colors") {
				p.Colors = append(p.Colors, word.Draw(t, "color"))
			}
			for range rapid.IntRange(0, 2).Draw(t, "rods") {
				p.Rods = append(p.Rods, RodUse{word.Draw(t, "rod"), 100 * unit.Gram, 20 * unit.Gram})
			}
			r.Pieces = append(r.Pieces, p)
		}
		text := r.Text()
		for _, fast := range []bool{true, false} {
			back, err := read(text, "n.toml", fast)
			if err != nil {
				t.Fatalf("%v in\n%s", err, text)
			}
			if d := cmp.Diff(r, back, cmpopts.EquateEmpty(), cmpopts.EquateApprox(1e-9, 0), cmp.Comparer(func(a, b unit.Temp) bool { return a == b })); d != "" {
				t.Fatalf("%s\n%s", d, text)
			}
		}
	})
}

// FuzzScan: whatever the quick reader takes, the TOML library reads alike.
func FuzzScan(f *testing.F) {
	f.Add(night)
	f.Add("a = [\"b\", 'c',]\n[[piece]]\nx = 12 # y\n[[piece.rod]]\nz = true")
	f.Add("a = 0\nb=\"\"\n[[piece]]#\n")
	f.Add("piece = 3\n[[piece]]\n")
	f.Add("x = truey")
	f.Add("kiln = \"bi\u202eg\"\r\nwords = \"\u200b\"")
	f.Add("x = 1.5\ny = 01")
	f.Fuzz(func(t *testing.T, text string) {
		quick, ok := scan([]byte(text))
		if !ok {
			return
		}
		full, err := decode([]byte(text), "x")
		if err != nil {
			t.Fatalf("the library refuses %q: %v", text, err)
		}
		if full == nil {
			full = tree{}
		}
		if !reflect.DeepEqual(quick, full) {
			t.Fatalf("%q: quick %v, full %v", text, quick, full)
		}
	})
}

func TestScan_takesOurs(t *testing.T) {
	if _, ok := scan([]byte(night)); !ok {
		t.Error("a record as it is written is not read the quick way")
	}
	if r, err := Read([]byte("date = \"2026-11-25T22:15:00Z\"\nkiln = \"bi\u202eg\"\n"), "n.toml"); err != nil || r.Kiln != "bi<U+202E>g" {
		t.Errorf("kiln %q, %v", r.Kiln, err)
	}
}

func TestFileName(t *testing.T) {
	day := time.Date(2026, 11, 25, 22, 15, 0, 0, time.UTC)
	for want, got := range map[string]string{
		"2026-11-25-big.toml":           FileName(day, "big", 1),
		"2026-11-25-the-big-one-2.toml": FileName(day, "The  big/one!", 2),
		"2026-11-25.toml":               FileName(day, "..", 1),
	} {
		if got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}
