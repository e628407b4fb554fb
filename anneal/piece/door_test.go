package piece

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"lehr/anneal/evening"
	"lehr/anneal/kiln"
	"lehr/glass"
	"lehr/glass/unit"
)

const doorHead = "glass = \"borosilicate-33\"\nstart = \"22:00\"\n[door]\n"
const doorPieces = "\n[[piece]]\nwhat = \"sphere 40mm\"\nin = \"2 h before\"\n[[piece]]\nwhat = \"sphere 64mm\"\n"

// TestLoad_door: when the kiln is opened, with the openings that put pieces in.
func TestLoad_door(t *testing.T) {
	before := func(hours ...float64) (out []time.Duration) {
		for _, h := range hours {
			out = append(out, unit.Seconds(-3600*h))
		}
		return out
	}
	for text, want := range map[string][]time.Duration{
		`dip = "40 °C"`:                                before(2, 0),
		`at = ["21:00", "90 min before"]`:              before(2, 1.5, 1, 0),
		`every = "30 min"`:                             before(2, 1.5, 1, 0.5, 0),
		`every = "30 min"` + "\n" + `since = "21:00"`:  before(2, 1, 0.5, 0),
		`at = ["2 h before"]` + "\n" + `every = "1 h"`: before(2, 1, 0),
	} {
		l, err := ReadLoad(strings.NewReader(doorHead+text+doorPieces), "load.toml", "", glass.Find)
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		o, ok := l.Openings(kiln.Door{})
		var got []time.Duration
		for _, x := range o {
			got = append(got, x.At)
		}
		if !ok || !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", text, got, want)
		}
	}
	// The load's word counts before the studio's, that before the usual.
	l, err := ReadLoad(strings.NewReader(doorHead+`dip = "72 °F"`+doorPieces), "load.toml", "", glass.Find)
	if err != nil {
		t.Fatal(err)
	}
	o, _ := l.Openings(kiln.Door{Dip: 10, Open: 40 * time.Second})
	if x := o[0]; x.Dip < 39.99 || x.Dip > 40.01 || x.Open != 40*time.Second || x.View != evening.Usual.View {
		t.Errorf("%+v", x)
	}
	l.Door = Door{}
	if _, ok := l.Openings(kiln.Door{}); ok {
		t.Error("nobody said anything of a door")
	}
}

// TestLoad_doorRefused: what cannot be is refused at its line.
func TestLoad_doorRefused(t *testing.T) {
	for text, want := range map[string]string{
		`at = ["22:30"]`:       "load.toml:4: door: at",
		`at = ["20 h before"]`: "load.toml:4: door: at",
		`at = ["soon"]`:        "load.toml:4: door: at",
		`every = "1 min"`:      "load.toml:4: door",
		`every = 30`:           "load.toml:4: door",
		`since = "21:00"`:      "load.toml:4: door: since",
		`dip = "-5 K"`:         "load.toml:4: door: dip",
		`dip = 40`:             "load.toml:4: door: dip",
		`open = "20 min"`:      "load.toml:4: door: open",
		`view = "0.15"`:        "load.toml:4: door: view",
		`width = "3 in"`:       "load.toml:4: ",
	} {
		_, err := ReadLoad(strings.NewReader(doorHead+text+doorPieces), "load.toml", "", glass.Find)
		if err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s: %v", text, err)
		}
	}
	// No piece lies in the kiln by then, or the kiln is cold.
	for _, change := range []func(*Load){func(l *Load) { l.Pieces[0].InText, l.Pieces[0].In = "", 0 }, func(l *Load) { l.Into, l.Pieces[0].InText = ColdKiln, "" }} {
		l, err := ReadLoad(strings.NewReader(doorHead+`every = "30 min"`+doorPieces), "load.toml", "", glass.Find)
		if err != nil {
			t.Fatal(err)
		}
		change(l)
		var bad *evening.InError
		if err := l.ResolveTimes(); !errors.As(err, &bad) {
			t.Errorf("%v", err)
		}
	}
}
