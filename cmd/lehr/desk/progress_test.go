package desk

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"lehr/anneal/shortest"
	"lehr/cmd/lehr/term"
)

// TestProgress: one line drawn again where that can be, lines elsewhere, nothing
// into a pipe.
func TestProgress(t *testing.T) {
	for _, c := range []struct {
		name               string
		tty, redraw, plain bool
		want               string
	}{
		{"terminal", true, true, false, "\rsearching: 10 %\rsearching: 50 %, best so far 9:10 h, not judged yet (Ctrl-C stops)"},
		{"plain", true, true, true, "lehr: searching: 50 %, best so far 9:10 h, not judged yet (Ctrl-C stops)\n"},
		{"dumb", true, false, false, "lehr: searching: 50 %, best so far 9:10 h, not judged yet (Ctrl-C stops)\n"},
		{"pipe", false, false, false, ""},
	} {
		var words bytes.Buffer
		a := New(nil, nil, &words, term.Terminal{UTF8: true})
		a.ErrTerm, a.Plain = term.Terminal{TTY: c.tty, Redraw: c.redraw}, c.plain
		l := &Progress{App: a}
		l.Show(shortest.Progress{Share: 0.1})
		if !l.told.IsZero() {
			l.told = l.told.Add(-progressEvery)
		}
		p := shortest.Progress{Share: 0.5, Best: 9*time.Hour + 10*time.Minute}
		l.Show(p)
		l.Show(p) // too soon for another line
		got := words.String()
		if c.redraw && !c.plain {
			got = strings.TrimSuffix(got, "\rsearching: 50 %, best so far 9:10 h, not judged yet (Ctrl-C stops)")
		}
		if strings.TrimRight(got, " ") != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		words.Reset()
		l.End()
		if (words.Len() > 0) != (c.redraw && !c.plain) {
			t.Errorf("%s: at the end %q", c.name, &words)
		}
	}
}
