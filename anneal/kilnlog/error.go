package kilnlog

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// Error is something that keeps a log from being read.
type Error struct {
	Name    string // of the log, "" if it is not about one
	Line    int    // from 1; 0 when the whole log is meant
	Message string
	Next    string // one thing to do, or ""
	// Option names the choice that would settle it, "" if none would.
	Option Option
}

func (e *Error) Error() string {
	switch {
	case e.Name == "":
		return e.Message
	case e.Line == 0:
		return e.Name + ": " + e.Message
	}
	return e.Name + ":" + strconv.Itoa(e.Line) + ": " + e.Message
}

// Hint names the one thing to do.
func (e *Error) Hint() string { return e.Next }

const longestShown = 32 // runes of a cell in a message

// shown makes a cell fit for a message: short, quoted, nothing that moves a
// cursor.
func shown(cell string) string {
	cell = strings.TrimSpace(cell)
	if len(cell) > 4*longestShown {
		cell = cell[:4*longestShown]
	}
	r := []rune(strings.ToValidUTF8(cell, "\ufffd"))
	cut := len(r) > longestShown
	if cut {
		r = r[:longestShown]
	}
	for i := range r {
		if !unicode.IsPrint(r[i]) {
			r[i] = '\ufffd'
		}
	}
	if cut {
		return fmt.Sprintf(`"%s…"`, string(r))
	}
	return fmt.Sprintf(`"%s"`, string(r))
}
