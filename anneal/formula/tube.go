package formula

import (
	"lehr/glass/unit"
)

// TubePressure returns the inner pressure that a borosilicate 3.3 tube may
// carry at the permissible tension of 7 MPa.
//
// outer is the outside diameter, wall the wall thickness.
//
//	p = 14 MPa · w/(D − w)
//
// Valid: round tube of borosilicate 3.3, free of scratches and of stress from
// bad annealing; wall below half the diameter. A pressure vessel is designed by
// the standard itself, not by this line.
//
// Source: en1595, as quoted in a tubing sheet [verified].
//
// Checked: testdata/cases/en1595.toml
func TubePressure(outer, wall unit.Length) unit.Stress {
	positive("wall", float64(wall))
	positive("outside diameter less twice the wall", float64(outer-2*wall))
	return 14 * unit.Megapascal * unit.Stress(wall/(outer-wall))
}
