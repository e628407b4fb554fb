package checklist

import "fmt"

const (
	// Version is the date of this edition of the checklist. A record of a finished
	// run carries it, so that one can see later which words were read.
	Version = "2026-11-26"
	// Use is how a page is worked.
	Use = "Do the work first, then confirm it line by line."
)

// Point is a pause point: a moment at which to stop and go through a few lines.
type Point string

// The pause points. Each is gone through after the work it names.
const (
	Air   Point = "air"   // before lighting: air
	Gas   Point = "gas"   // before lighting: gas
	You   Point = "you"   // before lighting: you
	Reach Point = "reach" // before reaching into the hot kiln
	Leave Point = "leave" // before leaving the kiln alone
	Open  Point = "open"  // before opening the kiln when the program has ended
)

// Points returns the pause points in the order of a session.
func Points() []Point { return append(Lighting(), Reach, Leave, Open) }

// Lighting returns the pause points before the torch is lit.
func Lighting() []Point { return []Point{Air, Gas, You} }

// ParsePoint returns the pause point of one plain word.
func ParsePoint(s string) (Point, error) {
	var names []string
	for _, p := range Points() {
		if string(p) == s {
			return p, nil
		}
		names = append(names, string(p))
	}
	return "", &FactError{Key: "pause point", Value: s, Reason: "no such pause point", Next: suggest(s, names)}
}

// Title returns the heading of the pause point.
func (p Point) Title() string {
	switch p {
	case Air:
		return "Before lighting: air"
	case Gas:
		return "Before lighting: gas"
	case You:
		return "Before lighting: you"
	case Reach:
		return "Before reaching into the kiln"
	case Leave:
		return "Before leaving the kiln alone"
	case Open:
		return "Before opening the kiln"
	}
	return fmt.Sprintf("Point(%q)", string(p))
}

// Signal is the signal word of a line, by its meaning in ANSI Z535.4. It comes
// without the alert triangle.
//
// Source: ansi-z535 [corroborated].
type Signal string

// The signal words, gravest first.
const (
	Danger  Signal = "DANGER"  // will kill or badly hurt: of a hazard that is reported present, never of a line
	Warning Signal = "WARNING" // could kill or badly hurt
	Caution Signal = "CAUTION" // could hurt a little
	Notice  Signal = "NOTICE"  // about work and equipment, not about injury
)

// rank orders signal words, gravest first.
func (s Signal) rank() int {
	switch s {
	case Danger:
		return 0
	case Warning:
		return 1
	case Caution:
		return 2
	}
	return 3
}
