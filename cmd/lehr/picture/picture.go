// Package picture draws the curve of a kiln program: the temperatures of kiln
// and piece above, the tension in the piece below, against the clock. It draws
// with gonum/plot (SVG, PNG, PDF) and with characters for a terminal.
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
}

// Style is how a line is drawn; each is told from the others without color.
type Style int

// The styles: a wide pale line, a thin unbroken one, a dashed one.
const (
	Wide Style = iota
	Thin
	Dashed
)

// Line is one temperature.
type Line struct {
	Label  string
	Style  Style
	Points []Point
}

// Mark is a moment of the tension that is pointed out.
type Mark struct {
	Point
	Label string
}

// Curve is everything a picture shows.
type Curve struct {
	Title, Desc string  // for those who cannot see the picture
	Length      float64 // of the program [s]
	Start       *unit.Clock
	System      unit.System

	TempUnit  string // "°C"
	Lines     []Line
	Soak      Band // range of temperature in which the piece relaxes
	Strain    Band // range in which it sets
	SoakFrom  float64
	SoakUntil float64 // the hold of the soak [s], both zero if there is none
	End       string  // said of the end of the program

	StressUnit string // "MPa"
	Tension    []Point
	Limit      float64
	LimitLabel string
	Marks      []Mark
}

// hottest and coldest return the ends of the temperatures.
func (c *Curve) temperatures() (low, high float64) {
	low, high = c.Lines[0].Points[0].Value, c.Lines[0].Points[0].Value
	for _, l := range c.Lines {
		for _, p := range l.Points {
			low, high = min(low, p.Value), max(high, p.Value)
		}
	}
	return low, high
}

// greatest returns the greatest tension.
func (c *Curve) greatest() float64 {
	most := 0.0
	for _, p := range c.Tension {
		most = max(most, p.Value)
	}
	for _, m := range c.Marks {
		most = max(most, m.Value)
	}
	return most
}
