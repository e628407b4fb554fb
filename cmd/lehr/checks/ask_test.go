package checks

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

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/term"
	"lehr/glass"
	"lehr/glass/unit"
	"lehr/safety/checklist"
)

// asked is an app that reads answers from in and keeps what it shows.
func asked(in io.Reader) (*desk.App, *bytes.Buffer) {
	var out bytes.Buffer
	return desk.New(in, &out, nil, term.Terminal{Width: term.MaxWidth, UTF8: true}), &out
}

// askedRun is a run of an app that reads answers from in.
func askedRun(t *testing.T, in io.Reader, s *Flags, points ...checklist.Point) (*asking, *bytes.Buffer) {
	t.Helper()
	a, out := asked(in)
	k, err := newAsking(a, s, checklist.Facts{ElementsExposed: checklist.No, Today: session.Now()}, points)
	if err != nil {
		t.Fatal(err)
	}
	return k, out
}

// TestAsk_interrupt: an interrupt keeps what was answered, and the run goes on
// from there.
func TestAsk_interrupt(t *testing.T) {
	in, keys := io.Pipe()
	defer keys.Close()
	name := filepath.Join(t.TempDir(), "r.toml")
	k, out := askedRun(t, in, &Flags{Record: name}, checklist.Reach)
	ctx, interrupt := context.WithCancel(context.Background())
	done := make(chan error)
	go func() { done <- k.ask(ctx) }()
	io.WriteString(keys, "d\n")
	io.WriteString(keys, "?\n") // taken only after the first was answered
	interrupt()
	select {
	case err := <-done:
		k.app.Flush()
		if !errors.Is(err, desk.ErrOverLimit) {
			t.Errorf("error %v", err)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("an interrupt does not end the run")
	}
	if !strings.Contains(out.String(), "Not finished: 3 lines are open.") || !strings.Contains(out.String(), "R4 R5 R6") {
		t.Errorf("shows:\n%s", out)
	}
	k, out = askedRun(t, strings.NewReader("d\nd\nd\n"), &Flags{Resume: name})
	if err := k.ask(context.Background()); err != nil {
		t.Errorf("resumed: %v", err)
	}
	k.app.Flush()
	if !strings.Contains(out.String(), "1 of 1 answers still count, 3 lines are asked") || !strings.Contains(out.String(), "4 reported done, 0 NOT DONE") {
		t.Errorf("shows:\n%s", out)
	}
	// An hour later nothing of it counts.
	was := session.Now
	defer func() { session.Now = was }()
	session.Now = func() time.Time { return was().Add(61 * time.Minute) }
	k, _ = askedRun(t, strings.NewReader(""), &Flags{Resume: name})
	if n := len(k.session.Open()); n != 4 {
		t.Errorf("an hour later %d lines are asked", n)
	}
}

// TestAsk_lostRecord wants the answers printed when their file cannot be
// written.
func TestAsk_lostRecord(t *testing.T) {
	name := filepath.Join(t.TempDir(), "r.toml")
	k, out := askedRun(t, strings.NewReader("d\nd\nd\nd\n"), &Flags{Record: name}, checklist.Reach)
	if err := os.WriteFile(name, []byte("another\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	err := k.ask(context.Background())
	if usage := (*desk.UsageError)(nil); err == nil || errors.Is(err, desk.ErrOverLimit) || errors.As(err, &usage) {
		t.Errorf("error %v", err)
	}
	k.app.Flush()
	if !strings.Contains(out.String(), `answer = "reported done"`) {
		t.Errorf("the record is lost:\n%s", out)
	}
	if text, _ := os.ReadFile(name); string(text) != "another\n" {
		t.Errorf("written over: %s", text)
	}
}

// TestAsk_words: what is typed at the line about gas, and whether it counts as
// clear or ends the run with what to do.
func TestAsk_words(t *testing.T) {
	for typed, want := range map[string]string{
		"clear": "done", "y": "asked", "yes": "asked", "d": "asked", "done": "asked", "": "asked", "ok": "asked",
		"gas": "danger", "smell": "danger", "I smell gas": "danger", "hiss": "danger", "alarm": "danger", "wrong": "danger", "w gas": "danger", "leak": "danger",
		"no I smell gas": "danger", "no\nI smell gas": "danger", "no\nwrong": "danger", "na\nno nose": "not done", "no\nhave a cold": "not done",
	} {
		k, out := askedRun(t, strings.NewReader(typed+"\n"), &Flags{}, checklist.Gas)
		err := k.ask(context.Background())
		k.app.Flush()
		got := "asked"
		switch r := k.session.Record(session.Now()); {
		case strings.Contains(out.String(), "The list ends here."):
			got = "danger"
		case len(r.Answers) > 0 && r.Answers[0].Done:
			got = "done"
		case len(r.Answers) > 0:
			got = "not done"
		}
		if got != want || !errors.Is(err, desk.ErrOverLimit) {
			t.Errorf("%q: %s, want %s (%v)", typed, got, want, err)
		}
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
	if _, err = recordName(folder, at); err == nil || !strings.Contains(term.HintOf(err), "safety-2026-11-25-221507.toml") {
		t.Errorf("error %v, hint %q", err, term.HintOf(err))
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
	st := kiln.DefaultStudio()
	st.Units = unit.US
	st.Session = map[string]any{"largest_piece": "1 in", "oxygen": "cylinder", "vent": "fan"}
	load := &piece.Load{Session: map[string]any{"vent": "booth"}, Pieces: []piece.Piece{
		{Glass: find("soda-104"), Size: 10 * unit.Millimeter, Across: 45 * unit.Millimeter},
		{Glass: find("borosilicate-33"), Size: 30 * unit.Millimeter}}}
	f, err := session.Facts(load, st)
	if err != nil {
		t.Fatal(err)
	}
	if f.LargestPiece != 45*unit.Millimeter || f.Glass != "borosilicate" || f.Vent != "booth" || f.Oxygen != "cylinder" || f.Units != unit.US {
		t.Errorf("%+v", f)
	}
	load.Session["largest_piece"] = "20 mm"
	if f, _ = session.Facts(load, st); f.LargestPiece != 20*unit.Millimeter {
		t.Errorf("largest piece %v", f.LargestPiece)
	}
	load.Session["vent"] = "both"
	var fault *session.Error
	if _, err = session.Facts(load, st); !errors.As(err, &fault) || !fault.OfLoad {
		t.Errorf("error %v", err)
	}
}

// TestLarge: every digit is five rows high, and no other sign breaks it.
func TestLarge(t *testing.T) {
	for _, number := range []string{"0123456789", "+1 (555) 0199", "555-0100"} {
		text := large(number)
		if n := strings.Count(text, "\n"); n != 5 {
			t.Errorf("%s: %d rows", number, n)
		}
		for line := range strings.Lines(text) {
			if term.Columns(line) > 80 || strings.Trim(line, "# \n") != "" {
				t.Errorf("%s: %q", number, line)
			}
		}
	}
	if text := large(""); text != "" {
		t.Errorf("no number: %q", text)
	}
}

// TestPagesPrint wants every line that prints to name a source and
// to whom it defers, and no more than nine on a page.
func TestPagesPrint(t *testing.T) {
	for _, p := range (checklist.Facts{}).Pages() {
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
