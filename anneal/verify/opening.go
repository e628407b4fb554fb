package verify

import (
	"context"
	"fmt"
	"math"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/unit"
)

// coolToOpen is up to where opening the kiln is not computed: the step to the
// room is then smaller than those a program makes.
var coolToOpen = unit.Celsius(60)

// The opening of a kiln: its air falls to the room in half a minute, and the
// piece is watched for an hour, by when a thick one too has seen its worst.
const (
	openingFall  = 30.0   // [s]
	openingWatch = 3600.0 // [s]
)

// openAir is the film of a piece in a kiln that stands open [W/m²K].
//
// Source: common practice, the upper end of handbook values for free
// convection; radiation is added.
const openAir = 10.0

// opensAt returns the reading at which the kiln is opened when the program has
// ended. ok is false when that is cool, or when the kiln stays closed and falls
// further by itself.
func (f firing) opensAt(st kiln.Studio) (at unit.Temp, ok bool) {
	last := f.schedule.Segments[len(f.schedule.Segments)-1].To
	return last, f.cools && f.finished && coolToOpen.Less(last) && last.Sub(st.Opening) <= 1
}

// open simulates opening the kiln at the end of the program, and books the
// greatest tension that this causes in each piece.
func (f firing) open(ctx context.Context, reports []PieceReport, settings sim.Settings) error {
	known := map[piece.ThermalKey]unit.Stress{}
	for i := range reports {
		r := &reports[i]
		if s, ok := known[r.Piece.ThermalKey()]; ok {
			r.Opened = s
			continue
		}
		for _, off := range f.offsets {
			p, err := f.problemOf(r.Piece, off)
			if err != nil {
				return err
			}
			p.Surface = openSurface(r.Piece.Glass)
			end := p.Kiln.Kinks[len(p.Kiln.Kinks)-1]
			program, room := p.Kiln.At, f.room.Kelvin()
			hot := program(end)
			p.Kiln.At = func(t float64) float64 {
				if t <= end {
					return program(t)
				}
				return hot + (room-hot)*math.Min(1, (t-end)/openingFall)
			}
			n := len(p.Kiln.Kinks)
			p.Kiln.Kinks = append(append([]float64(nil), p.Kiln.Kinks...), end+openingFall, end+openingFall+openingWatch)
			res, err := sim.Run(p, fineEnough(r.Piece, f.schedule, settings))
			if err != nil {
				return fmt.Errorf("%s: opening the kiln: %w", r.Piece.What, err)
			}
			for _, o := range res.Outcomes {
				for _, s := range o.PeakBySpan[n:] {
					r.Opened = max(r.Opened, unit.Stress(s*r.Body.TensionFactor))
				}
			}
		}
		known[r.Piece.ThermalKey()] = r.Opened
	}
	return nil
}

// openSurface is how a piece loses heat in the open. It is used for the whole
// program, which it changes little: a piece follows the kiln a little closer.
func openSurface(g *glass.Glass) sim.Surface {
	s := piece.Surface(g)
	s.Follows, s.Film = false, openAir
	if s.Emissivity == 0 {
		s.Emissivity = 0.9
	}
	return s
}

// noteOpened says what opening does, whether it is within the limit or not.
func (rep *Report) noteOpened(at unit.Temp) {
	worst := 0
	for i := range rep.Pieces {
		if rep.Pieces[i].Opened > rep.Pieces[worst].Opened {
			worst = i
		}
	}
	rep.Notes.First(finding.OfPiece(finding.OpenedAt, worst).At(at).Pulled(rep.Pieces[worst].Opened, rep.Limits.Tension))
	rep.Assumptions.Add(finding.Of(finding.OpeningComputed).Counting(openAir))
}
