package piece

import (
	"fmt"
	"time"

	"lehr/anneal/sim"
	"lehr/anneal/spread"
	"lehr/glass/unit"
)

// ThermalKey is everything that makes two kinds of piece behave the same.
type ThermalKey struct {
	glass              string
	sim                sim.Body
	shape              Shape
	resting            Resting
	size, across, wide unit.Length
	core               unit.Temp
	even               bool
	in                 time.Duration
	light              Light
	wear               spread.Wear
	lens, textbook     bool
	profile            string
	contents           string
}

// ThermalKey returns the key of the piece.
func (p Piece) ThermalKey() ThermalKey {
	return ThermalKey{p.Glass.Name, p.Body().Sim, p.Shape, p.Resting, p.Size, p.Across, p.Wide, p.Core, p.Even, p.In, p.Light, p.Wear, p.Lens, p.Textbook, p.outlined(), contentsText(p.Words) + p.stone}
}

// outlined tells profiles apart.
func (p Piece) outlined() string {
	if p.Profile == nil {
		return ""
	}
	return fmt.Sprint(p.Profile.Points)
}
