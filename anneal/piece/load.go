package piece

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"lehr/glass"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// Into says what the kiln is when the program begins, and what it is for.
type Into string

// The three ways into a kiln.
const (
	HotKiln  Into = "hot kiln"  // finished work waits hot, then is annealed
	ColdKiln Into = "cold kiln" // finished work is reheated and annealed
	WarmOnly Into = "warm only" // bring inclusions and tube up and hold
)

// IntoError is a way into a kiln that there is not.
type IntoError struct{ Text string }

func (e *IntoError) Error() string {
	return fmt.Sprintf("%q: is none of the three ways into a kiln", shorten(e.Text))
}

// Hint names the three.
func (e *IntoError) Hint() string { return `write "hot kiln", "cold kiln" or "warm only"` }

// ParseInto reads one of the three. Errors: *IntoError.
func ParseInto(s string) (Into, error) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case string(HotKiln), "hot":
		return HotKiln, nil
	case string(ColdKiln), "cold":
		return ColdKiln, nil
	case string(WarmOnly), "warm":
		return WarmOnly, nil
	}
	return "", &IntoError{s}
}

// Load is everything that goes into one firing.
type Load struct {
	Name   string
	Into   Into
	Start  *unit.Clock // nil if not given
	Pieces []Piece
	// Door says when and how the hot kiln is opened before the program.
	Door Door
	// Session holds the facts for the safety review as the file gives them.
	Session map[string]any
}

// Count returns the number of single pieces.
func (l Load) Count() int {
	n := 0
	for _, p := range l.Pieces {
		n += p.Count
	}
	return n
}

type loadText struct {
	Name    string         `toml:"name"`
	Glass   string         `toml:"glass"`
	Start   *unit.Clock    `toml:"start"`
	Into    string         `toml:"into"`
	Door    *doorText      `toml:"door"`
	Piece   []pieceText    `toml:"piece"`
	Session map[string]any `toml:"session"`
}

// Finder resolves the name of a glass.
type Finder func(name string) (*glass.Glass, error)

// ReadLoad reads a load file. fallback names the glass of pieces that name
// none when the file names none either ("" if there is no such default).
// Errors carry file and line.
func ReadLoad(r io.Reader, name, fallback string, find Finder) (*Load, error) {
	var t loadText
	f, err := strict.Decode(r, name, &t)
	if err != nil {
		return nil, err
	}
	l := &Load{Name: t.Name, Into: HotKiln, Start: t.Start, Session: t.Session}
	if t.Into != "" {
		if l.Into, err = ParseInto(t.Into); err != nil {
			return nil, f.Errorf([]string{"into"}, "%w", err)
		}
	}
	if len(t.Piece) == 0 {
		return nil, f.HintErrorf(nil, "add a table [[piece]] with what = \"sphere 2.5in\"", "the load has no pieces")
	}
	if t.Glass == "" {
		t.Glass = fallback
	}
	total := 0
	for i, pt := range t.Piece {
		p, err := pieceTable{pt, f, i}.read(t.Glass, find)
		if err != nil {
			return nil, err
		}
		if total += p.Count; total > MostPieces {
			return nil, f.Errorf([]string{"piece", fmt.Sprint(i)}, "more than %d pieces", MostPieces)
		}
		l.Pieces = append(l.Pieces, p)
	}
	if t.Door != nil {
		if l.Door, err = t.Door.read(f); err != nil {
			return nil, err
		}
	}
	if err := l.resolveTimes(true); err != nil {
		var at *TimeError
		if errors.As(err, &at) {
			return nil, f.Errorf(at.keys(), "%w", at.Err)
		}
		return nil, err
	}
	return l, nil
}

// Some returns the load with only the pieces named.
func (l *Load) Some(which []int) *Load {
	part := *l
	part.Pieces = nil
	for _, i := range which {
		part.Pieces = append(part.Pieces, l.Pieces[i])
	}
	return &part
}
