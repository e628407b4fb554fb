package outfile

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"image"
	"image/png"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// samples are one file of each kind.
func samples(t *testing.T) map[Kind]string {
	var picture bytes.Buffer
	if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 4, 4))); err != nil {
		t.Fatal(err)
	}
	return map[Kind]string{
		TOML: "from = \"560 °C\"\n",
		HTML: "<!DOCTYPE html>\n<html></html>",
		SVG:  "<?xml version=\"1.0\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\"/>",
		PNG:  picture.String(),
		PDF:  "%PDF-1.3\n1 0 obj\nendobj\nxref\n0 1\ntrailer\n<<\n>>\nstartxref\n26\n%%EOF\n",
		CSV:  "piece,a,b,c,d,e,f,g,h\n\"a, b\",0.00000,560.00,1.0,1.0,1.0,1.0,1.0,1.0\n\"x,2.50,sphere 2.5\",0.25000,550.12,43.00,-0.0000,1.5,10.0,100.0,2.0\n",
	}
}

// TestMark checks for each kind that a file of ours is known, that any one byte
// changed makes it somebody else's, and that of another what it is.
func TestMark(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "x")
	for kind, text := range samples(t) {
		data := kind.mark("curve", []byte(text))
		if kind != CSV && !strings.Contains(string(data), "lehr wrote this curve") {
			t.Errorf("kind %d: no mark in %q", kind, data)
		}
		write(t, name, string(data), 0o644)
		if why := kind.foreign("curve", name, 1); why != "" {
			t.Errorf("kind %d: %s", kind, why)
		}
		write(t, name, text, 0o644)
		if why := kind.foreign("curve", name, 1); why == "" {
			t.Errorf("kind %d without a mark", kind)
		}
		for i := range data {
			changed := bytes.Clone(data)
			changed[i] ^= 1
			write(t, name, string(changed), 0o644)
			if why := kind.foreign("curve", name, 1); why == "" {
				t.Errorf("kind %d: byte %d changed, and taken as ours: %q", kind, i, changed)
			}
		}
		write(t, name, string(data)+"\n", 0o644)
		if why := kind.foreign("curve", name, 1); why == "" {
			t.Errorf("kind %d: a line added, and taken as ours", kind)
		}
		write(t, name, string(data), 0o644)
		if why := kind.foreign("program", name, 1); why != "is a curve, not a program" && (kind != CSV || why == "") {
			t.Errorf("kind %d: %s", kind, why)
		}
	}
	if _, err := png.Decode(bytes.NewReader(PNG.mark("curve", []byte(samples(t)[PNG])))); err != nil {
		t.Errorf("the marked PNG: %v", err)
	}
}

// TestSpell: the mark of a CSV changes no value of it, and nothing of a row in which
// it finds no numbers; a row too short to hold it is nobody's.
func TestSpell(t *testing.T) {
	text := samples(t)[CSV]
	spelt, digits := spell("history", []byte(text))
	again, _ := spell("history", spelt)
	if digits != 8 || !bytes.Equal(again, spelt) || len(spelt) > len(text)+8*16 {
		t.Errorf("%d digits, %q, again %q", digits, spelt, again)
	}
	rows := func(text string) [][]string {
		all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		return all
	}
	was, is := rows(text), rows(string(spelt))
	for i := range was {
		for j := range was[i] {
			a, errA := strconv.ParseFloat(was[i][j], 64)
			b, errB := strconv.ParseFloat(is[i][j], 64)
			if a != b || (errA == nil) != (errB == nil) || errA != nil && was[i][j] != is[i][j] {
				t.Errorf("row %d, cell %d: %q became %q", i, j, was[i][j], is[i][j])
			}
		}
	}
	name := filepath.Join(t.TempDir(), "x.csv")
	for _, text := range []string{"", "\n", "a\n", "a,1.0\nb,2.0\n", "time,temperature\n1.0,2.0\n", "a,b\n1.0,2.0,3.0,4.0,5.0\n"} {
		data := CSV.mark("history", []byte(text))
		write(t, name, string(data), 0o644)
		if why := CSV.foreign("history", name, 1); why == "" {
			t.Errorf("%q is taken as ours", data)
		}
	}
}

func TestKind_unknownTexts(t *testing.T) {
	for kind := TOML; kind <= CSV; kind++ {
		for _, text := range []string{"", "\n", "x", "\x89PNG\r\n\x1a\n", "startxref", strings.Repeat("\xff", 45), "# " + fmt.Sprintf("%x", 1)} {
			if _, _, ok := kind.unmark([]byte(text)); ok {
				t.Errorf("kind %d: %q has a mark", kind, text)
			}
			kind.mark("curve", []byte(text)) // does not panic
		}
	}
}
