package main

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"lehr/anneal/shortest"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
)

// TestProgress: one line drawn again where that can be, lines elsewhere, nothing
// into a pipe.
func TestProgress(t *testing.T) {
	for _, c := range []struct {
		name               string
		tty, redraw, plain bool
		want               string
	}{
		{"terminal", true, true, false, "\rsearching: 10 %\rsearching: 50 %, best so far 9:10 h (Ctrl-C takes it)"},
		{"plain", true, true, true, "lehr: searching: 50 %, best so far 9:10 h (Ctrl-C takes it)\n"},
		{"dumb", true, false, false, "lehr: searching: 50 %, best so far 9:10 h (Ctrl-C takes it)\n"},
		{"pipe", false, false, false, ""},
	} {
		var words bytes.Buffer
		a := newApp(nil, nil, &words, term.Terminal{UTF8: true})
		a.errTerm, a.Plain = term.Terminal{TTY: c.tty, Redraw: c.redraw}, c.plain
		l := &progressLine{app: a}
		l.show(shortest.Progress{Share: 0.1})
		if !l.told.IsZero() {
			l.told = l.told.Add(-progressEvery)
		}
		p := shortest.Progress{Share: 0.5, Best: 9*time.Hour + 10*time.Minute}
		l.show(p)
		l.show(p) // too soon for another line
		got := words.String()
		if c.redraw && !c.plain {
			got = strings.TrimSuffix(got, "\rsearching: 50 %, best so far 9:10 h (Ctrl-C takes it)")
		}
		if strings.TrimRight(got, " ") != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		words.Reset()
		l.end()
		if (words.Len() > 0) != (c.redraw && !c.plain) {
			t.Errorf("%s: at the end %q", c.name, &words)
		}
	}
}

func TestTopics(t *testing.T) {
	if topic, ok := topicNamed("accessibility"); !ok || topic.short == "" || topic.text(unit.Metric) == "" {
		t.Error("no help on accessibility")
	}
	if _, ok := topicNamed("plan"); ok {
		t.Error("a command is no topic")
	}
}
