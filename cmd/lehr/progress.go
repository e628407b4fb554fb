package main

import (
	"fmt"
	"math"
	"strings"
	"time"

	"lehr/anneal/shortest"
	"lehr/cmd/lehr/report"
)

// progressEvery is how often progress is told where every telling is a line.
const progressEvery = 5 * time.Second

// progressLine says on the terminal how far a search is: on one line that is
// drawn again, or, where that cannot be or is not wanted, on a line every few
// seconds.
type progressLine struct {
	app   *app
	drawn int       // columns in use
	told  time.Time // when the last line was written
}

func (l *progressLine) show(p shortest.Progress) {
	text := fmt.Sprintf("searching: %.0f %%", 100*math.Min(1, p.Share))
	if p.Best > 0 {
		text += ", best so far " + report.HourMin(p.Best) + " h (Ctrl-C takes it)"
	}
	l.tell(text)
}

// split says how far the split of a load is.
func (l *progressLine) split(planned, most int) {
	l.tell(fmt.Sprintf("splitting: programs for %d pieces simulated, for %d at most", planned, most))
}

// tell puts a text in place of the one that stands there, or on a line of its own
// if one is due.
func (l *progressLine) tell(text string) {
	if !l.app.errTerm.TTY {
		return
	}
	if !l.app.redraws() {
		switch now := time.Now(); {
		case l.told.IsZero(): // most searches end before the first is due
			l.told = now
		case now.Sub(l.told) >= progressEvery:
			l.app.say(text)
			l.told = now
		}
		return
	}
	fmt.Fprintf(l.app.err, "\r%s%s", text, strings.Repeat(" ", max(0, l.drawn-len(text))))
	l.drawn = len(text)
}

// end wipes the line.
func (l *progressLine) end() {
	if l.drawn > 0 {
		fmt.Fprintf(l.app.err, "\r%s\r", strings.Repeat(" ", l.drawn))
		l.drawn = 0
	}
}

// redraws reports whether a line may be drawn again: not where the terminal
// cannot, and not with --plain, as a screen reader reads it out each time.
func (a *app) redraws() bool { return a.errTerm.Redraw && !a.Plain }
