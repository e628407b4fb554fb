package piece

import (
	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// ThermalKey is everything that makes two kinds of piece behave the same.
type ThermalKey struct {
	glass   string
	sim     sim.Body
	shape   Shape
	resting Resting
	across  unit.Length
	core    unit.Temp
}

func (p Piece) ThermalKey() ThermalKey {
	return ThermalKey{p.Glass.Name, p.Body().Sim, p.Shape, p.Resting, p.Across, p.Core}
}
