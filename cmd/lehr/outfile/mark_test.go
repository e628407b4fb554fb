package outfile

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"path/filepath"
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
		CSV:  "piece,time_h,kiln_C\n\"a, b\",0.00000,560.00\nsphere,0.25000,550.12\n",
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
		if why := kind.foreign("curve", name, 1); (why == "") != (kind == CSV) {
			t.Errorf("kind %d without a mark: %q", kind, why)
		}
		if kind == CSV {
			continue
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
		if why := kind.foreign("program", name, 1); why != "is a curve, not a program" {
			t.Errorf("kind %d: %s", kind, why)
		}
	}
	if _, err := png.Decode(bytes.NewReader(PNG.mark("curve", []byte(samples(t)[PNG])))); err != nil {
		t.Errorf("the marked PNG: %v", err)
	}
}

func TestHeaded(t *testing.T) {
	for text, want := range map[string]bool{
		"piece,time_h,kiln_C\na,0.00000,560.00\n":                                                    true,
		"piece,time_h,kiln_F\na,0.00000,560.00\nb,1.5,2.00\n":                                        false,
		"piece,told_h,clock_h,kiln_C\na,0.00000,0.00000,560.00\na,1.00000,,99.10\na: left,,,20.00\n": true,
		"piece,time_h,kiln_C\na,0.00000,560.00\na,1.00000,\n":                                        false,
		"piece,time_h,kiln_C\na,0,560\n":                                                             false, // saved by a spreadsheet
		"piece,time_h,kiln_C\r\na,0.00000,560.00\r\n":                                                false,
		"piece;time_h;kiln_C\na;0.00000;560.00\n":                                                    false,
		"piece,time_h,kiln_C,my note\na,0.00000,560.00,good\n":                                       false,
		"piece,time_h,kiln_C\na,0.00000,560.00":                                                      false,
		"time,temperature\n0.00000,560.00\n":                                                         false,
		"piece,time_h,kiln_C\n":                                                                      false,
		"":                                                                                           false,
		"piece,time_h,kiln_C\na,0.00000,560.00\n# mine\n":                                            false,
		"piece,time_h,kiln_C\na,0.00000,560.00\nb,0.00000,99.10\n":                                   true,
	} {
		if got := headed([]byte(text)); got != want {
			t.Errorf("%q: %v", text, got)
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
