package verify

import (
	"lehr/anneal/finding"
	"lehr/anneal/piece"
	"lehr/glass/unit"
)

// kilnsBear is the temperature above which the plates of kilns for glass commonly
// end; fiber, elements, shelves and their wash follow [common practice].
var kilnsBear = unit.Celsius(950)

// atmosphere is the pressure of the air in a room.
const atmosphere = 0.101325 * unit.Megapascal

// noteHazards says what a program asks of the kiln, and what shut-in air does to a
// hollow piece.
func (rep *Report) noteHazards() {
	hottest := rep.Schedule.Hottest()
	for i, r := range rep.Pieces {
		if p := r.Piece; p.Shape == piece.SphereShape && p.Wall > 0 {
			times := hottest.Kelvin() / rep.Studio.Kiln.Fall.Room.Kelvin()
			rep.Notes.Add(finding.OfPiece(finding.ShutAir, i).At(hottest).Counting(times).Pulled(wallStress(unit.Stress(times-1)*atmosphere, p.Size, p.Wall), 0))
		}
	}
	if kilnsBear.Less(hottest) {
		rep.Notes.First(finding.Of(finding.HotterThanKilns).At(hottest).Against(kilnsBear))
	}
}

// wallStress returns the mean tension in the wall of a hollow sphere by a pressure
// inside: what holds its two halves together.
//
//	σ = p a² / (b² − a²)
func wallStress(p unit.Stress, size, wall unit.Length) unit.Stress {
	b := float64(size) / 2
	a := b - float64(wall)
	return p * unit.Stress(a*a/(b*b-a*a))
}
