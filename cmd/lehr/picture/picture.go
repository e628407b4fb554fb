// Package picture draws the curve of a kiln program against the clock, in three
// panels: what the kiln reads, how far the middle of each piece is from its
// surface, and the tension as a share of its limit. It draws with gonum/plot
// (SVG, PNG, PDF) and with characters for a terminal.
//
// It gets numbers in the display system and words ready to print, and knows
// nothing of glass, kilns or limits.
package picture

import "lehr/glass/unit"

// Point is a moment of a curve: seconds since the start, and the value in the
// display system.
type Point struct{ Time, Value float64 }

// Band is a range of temperature with its name.
type Band struct {
	Low, High float64
	Label     string
	Short     string // where there is little room, "" for the same
}

// Series is one kind of piece.
type Series struct {
	Label      string
	Other      bool    // in the other program
	Difference []Point // middle minus surface
	Share      []Point // of the limit of the tension, 1 at the limit
	Left       float64 // share of its limit of what is left in it, negative if that is not judged

	// What a chart of characters says of it.
	Limit, Greatest string
}

// Program is another program in the same load, drawn beside.
type Program struct {
	Name string
	Kiln []Point // by the clock
}

// Curve is everything a picture shows.
type Curve struct {
	Heading     []string // on a picture that stands alone: name, verdict, date
	Title, Desc string   // for those who cannot see the picture
	Length      float64  // of the program [s]
	Start       *unit.Clock
	System      unit.System

	TempUnit    string    // "°C"
	DiffUnit    string    // "K"
	Kiln        []Point   // by the clock
	Nominal     []Point   // as the program says, nil where the kiln does as told
	NominalName string    // of that line, "" for told
	Done        bool      // Kiln is what it really did
	Now         float64   // [s] when what it did ends and what it is told begins, 0 if neither
	Ends        []float64 // of the segments [s], none for what it did
	Soak        Band      // range of temperature in which the piece relaxes
	Strain      Band      // range in which it sets
	End         string    // said of the end of the program
	Pieces      []Series  // the one that decides first

	// Name is what this program is called beside another, Other that one, nil without.
	Name  string
	Other *Program
	// InText is how many of the pieces a chart of characters shows.
	InText int
}

// temperatures returns the ends of the temperatures.
func (c *Curve) temperatures() (low, high float64) {
	low, high = c.Kiln[0].Value, c.Kiln[0].Value
	lines := [][]Point{c.Kiln, c.Nominal}
	if c.Other != nil {
		lines = append(lines, c.Other.Kiln)
	}
	for _, line := range lines {
		for _, p := range line {
			low, high = min(low, p.Value), max(high, p.Value)
		}
	}
	return low, high
}

// differences returns the ends of the differences, zero among them.
func (c *Curve) differences() (low, high float64) {
	for _, s := range c.Pieces {
		for _, p := range s.Difference {
			low, high = min(low, p.Value), max(high, p.Value)
		}
	}
	return low, high
}

// most returns the greatest share of a limit.
func (c *Curve) most() float64 {
	most := 0.0
	for _, s := range c.Pieces {
		most = max(most, s.Left)
		for _, p := range s.Share {
			most = max(most, p.Value)
		}
	}
	return most
}

// judgesLeft reports whether anything left in a piece is judged.
func (c *Curve) judgesLeft() bool {
	for _, s := range c.Pieces {
		if s.Left >= 0 {
			return true
		}
	}
	return false
}
