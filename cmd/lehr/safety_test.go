package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"lehr/anneal"
	"lehr/glass"
	"lehr/glass/unit"
	"lehr/safety/checklist"
)

// asked is an app that reads answers from in and keeps what it shows.
func asked(in io.Reader) (*app, *bytes.Buffer) {
	var out bytes.Buffer
	return &app{in: in, out: &output{w: &out}, term: terminal{width: maxWidth, utf8: true}}, &out
}

func TestAsk_interrupt(t *testing.T) {
	in, keys := io.Pipe()
	defer keys.Close()
	a, out := asked(in)
	ctx, interrupt := context.WithCancel(context.Background())
	done := make(chan error)
	go func() {
		done <- a.ask(ctx, checklist.Facts{ElementsExposed: checklist.No}, []checklist.Point{checklist.Reach}, "no.toml")
	}()
	io.WriteString(keys, "d\n")
	io.WriteString(keys, "?\n") // taken only after the first was answered
	interrupt()
	select {
	case err := <-done:
		a.out.Flush()
		if !errors.Is(err, errOverLimit) {
			t.Errorf("error %v", err)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("an interrupt does not end the run")
	}
	if !strings.Contains(out.String(), "Not finished: 3 lines are open.") || !strings.Contains(out.String(), "R4 R5 R6") {
		t.Errorf("shows:\n%s", out)
	}
	if _, err := os.Stat("no.toml"); err == nil {
		t.Error("a record was written")
	}
}

// TestAsk_lostRecord wants the answers printed when their file cannot be
// written.
func TestAsk_lostRecord(t *testing.T) {
	name := filepath.Join(t.TempDir(), "r.toml")
	if err := os.WriteFile(name, []byte("another\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	a, out := asked(strings.NewReader("d\nd\nd\nd\n"))
	err := a.ask(context.Background(), checklist.Facts{ElementsExposed: checklist.No}, []checklist.Point{checklist.Reach}, name)
	if err == nil || exitCode(err) != exitFail {
		t.Errorf("error %v", err)
	}
	if !strings.Contains(out.String(), `answer = "reported done"`) {
		t.Errorf("the record is lost:\n%s", out)
	}
	if text, _ := os.ReadFile(name); string(text) != "another\n" {
		t.Errorf("written over: %s", text)
	}
}

func TestRecordName(t *testing.T) {
	folder := t.TempDir()
	at := time.Date(2026, 11, 25, 22, 15, 7, 0, time.UTC)
	got, err := recordName(folder, at)
	want := filepath.Join(folder, "safety-2026-11-25-2215.toml")
	if err != nil || got != want {
		t.Fatalf("%s, %v, want %s", got, err, want)
	}
	if err := os.WriteFile(want, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err = recordName(folder, at); err == nil || !strings.Contains(hintOf(err), "safety-2026-11-25-221507.toml") {
		t.Errorf("error %v, hint %q", err, hintOf(err))
	}
	if _, err = recordName(filepath.Join(want, "x.toml"), at); err == nil {
		t.Error("a file counts as a folder")
	}
}

// TestSessionFacts checks who wins: the load over the studio, its own facts
// over what its pieces tell.
func TestSessionFacts(t *testing.T) {
	find := func(name string) *glass.Glass {
		g, err := glass.Find(name)
		if err != nil {
			t.Fatal(err)
		}
		return g
	}
	st := anneal.DefaultStudio()
	st.Units = unit.US
	st.Session = map[string]any{"largest_piece": "1 in", "oxygen": "cylinder", "vent": "fan"}
	load := &anneal.Load{Session: map[string]any{"vent": "booth"}, Pieces: []anneal.Piece{
		{Glass: find("soda-104"), Size: 10 * unit.Millimeter, Across: 45 * unit.Millimeter},
		{Glass: find("borosilicate-33"), Size: 30 * unit.Millimeter}}}
	f, err := sessionFacts(load, st)
	if err != nil {
		t.Fatal(err)
	}
	if f.LargestPiece != 45*unit.Millimeter || f.Glass != "borosilicate" || f.Vent != "booth" || f.Oxygen != "cylinder" || f.Units != unit.US {
		t.Errorf("%+v", f)
	}
	load.Session["largest_piece"] = "20 mm"
	if f, _ = sessionFacts(load, st); f.LargestPiece != 20*unit.Millimeter {
		t.Errorf("largest piece %v", f.LargestPiece)
	}
	load.Session["vent"] = "both"
	var fault *sessionError
	if _, err = sessionFacts(load, st); !errors.As(err, &fault) || !fault.ofLoad {
		t.Errorf("error %v", err)
	}
}

// TestBoundsRound checks that an upper bound is never rounded down, nor a
// greatest allowed share up.
func TestBoundsRound(t *testing.T) {
	for _, c := range []struct {
		x        float64
		up, down string
	}{{2101, "2200", "210000 %"}, {2200, "2200", "220000 %"}, {0.0469, "0.047", "4.6 %"}, {0.1, "0.1", "10 %"}, {1, "1", "100 %"}} {
		if got := sig2(c.x); got != c.up {
			t.Errorf("sig2(%v) = %s, want %s", c.x, got, c.up)
		}
		if got := percentDown(c.x); got != c.down {
			t.Errorf("percentDown(%v) = %s, want %s", c.x, got, c.down)
		}
	}
}

// TestPagesPrint wants every line that prints to name a source and
// to whom it defers, and no more than nine on a page.
func TestPagesPrint(t *testing.T) {
	for _, p := range checklist.Checklist(checklist.Facts{}) {
		if len(p.Lines) == 0 || len(p.Lines) > 9 {
			t.Errorf("%s: %d lines", p.Point, len(p.Lines))
		}
		if slices.ContainsFunc(p.Lines, func(l checklist.Line) bool { return len(l.Sources) == 0 || len(l.Defer) == 0 }) {
			t.Errorf("%s: a line without source or deferral", p.Point)
		}
		if !strings.Contains(strings.Join(p.Foot, " "), checklist.Version) {
			t.Errorf("%s: its foot does not name the list", p.Point)
		}
	}
}
