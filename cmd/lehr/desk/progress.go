package desk

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

// Progress says on the terminal how far a search is: on one line that is
// drawn again, or, where that cannot be or is not wanted, on a line every few
// seconds.
type Progress struct {
	App   *App
	drawn int       // columns in use
	told  time.Time // when the last line was written
}

// Show says how far the search for the shortest program is.
func (l *Progress) Show(p shortest.Progress) {
	text := fmt.Sprintf("searching: %.0f %%", 100*math.Min(1, p.Share))
	if p.Best > 0 {
		text += ", best so far " + report.HourMin(p.Best) + " h, not judged yet (Ctrl-C stops)"
	}
	l.Tell(text)
}

// Split says how far the split of a load is.
func (l *Progress) Split(planned, most int) {
	l.Tell(fmt.Sprintf("splitting: programs for %d pieces simulated, for %d at most", planned, most))
}

// Tell puts a text in place of the one that stands there, or on a line of its own
// if one is due.
func (l *Progress) Tell(text string) {
	if !l.App.ErrTerm.TTY {
		return
	}
	if !l.App.redraws() {
		switch now := time.Now(); {
		case l.told.IsZero(): // most searches end before the first is due
			l.told = now
		case now.Sub(l.told) >= progressEvery:
			l.App.Say(text)
			l.told = now
		}
		return
	}
	fmt.Fprintf(l.App.Err, "\r%s%s", text, strings.Repeat(" ", max(0, l.drawn-len(text))))
	l.drawn = len(text)
}

// End wipes the line.
func (l *Progress) End() {
	if l.drawn > 0 {
		fmt.Fprintf(l.App.Err, "\r%s\r", strings.Repeat(" ", l.drawn))
		l.drawn = 0
	}
}

// redraws reports whether a line may be drawn again: not where the terminal
// cannot, and not with --plain, as a screen reader reads it out each time.
func (a *App) redraws() bool { return a.ErrTerm.Redraw && !a.Plain }
