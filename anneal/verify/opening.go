package verify

import (
	"context"
	"fmt"
	"math"

	"lehr/anneal/finding"
	"lehr/anneal/internal/parallel"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/sim"
	"lehr/anneal/spread"
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

// openAir is the heat transfer of a piece in a kiln that stands open [W/m²K].
//
// Source: common practice, the upper end of handbook values for free
// convection; radiation is added.
const openAir = 10.0

// opensAt returns the reading at which the kiln is opened when the program has
// ended. ok is false when that is cool, or when the kiln stays closed and falls
// further by itself.
func (f firing) opensAt(st kiln.Studio) (at unit.Temp, ok bool) {
	last := f.schedule.Segments[len(f.schedule.Segments)-1].To
	return last, f.cools && f.into != piece.WarmOnly && coolToOpen.Less(last) && last.Sub(st.Opening) <= 1
}

// open simulates opening the kiln at the end of the program in average glass, and
// books the greatest tension that this causes in each piece, with the worst case
// that was found for the program.
func (f firing) open(ctx context.Context, reports []PieceReport, settings sim.Settings) error {
	first := map[piece.ThermalKey]int{}
	var different []int
	for i, r := range reports {
		if _, seen := first[r.Piece.ThermalKey()]; !seen {
			first[r.Piece.ThermalKey()] = i
			different = append(different, i)
		}
	}
	err := parallel.Each(ctx, len(different), func(n int) error {
		r := &reports[different[n]]
		for _, off := range f.offsets {
			l, n, err := f.opened(r.group, off, settings, r.Tension.Why)
			if err != nil {
				return fmt.Errorf("%s: opening the kiln: %w", r.Piece.What, err)
			}
			p := r.group.pairs.within(f.limits)
			for i := n; i < len(l.middle.surface.bySpan); i++ {
				h := l.span(i, p)
				r.Opened = max(r.Opened, h.worst)
				if b := tensionOf(h); b.Use > r.Opening.Use {
					r.Opening = b
				}
			}
		}
		return nil
	})
	for i := range reports {
		if j := first[reports[i].Piece.ThermalKey()]; i != j {
			reports[i].Opened, reports[i].Opening = reports[j].Opened, reports[j].Opening
		}
	}
	return err
}

// opened runs the program with the kiln opened at its end. n is the first span
// between kinks in which it is open.
func (f firing) opened(g *Group, off float64, settings sim.Settings, why spread.Combined) (l loads, n int, err error) {
	mark, _, _ := f.soakMark(g.Piece)
	p := f.problem(g, off, mark)
	p.Surface = openSurface(g.Piece.Glass)
	n = len(p.Kiln.Kinks)
	end := p.Kiln.Kinks[n-1]
	program, room := p.Kiln.At, f.room.Kelvin()
	hot := program(end)
	p.Kiln.At = func(t float64) float64 {
		if t <= end {
			return program(t)
		}
		return hot + (room-hot)*math.Min(1, (t-end)/openingFall)
	}
	p.Kiln.Kinks = append(append([]float64(nil), p.Kiln.Kinks...), end+openingFall, end+openingFall+openingWatch)
	l, err = g.loads(p, settings, &factors{surface: why, inside: why, residual: why, residualSurface: why, markLag: 1, maxLag: 1}, false)
	return l, n, err
}

// openSurface is how a piece loses heat in the open. It is used for the whole
// program, which it changes little: a piece follows the kiln a little closer.
func openSurface(g *glass.Glass) sim.Surface {
	s := piece.Surface(g)
	s.Follows, s.HeatTransfer = false, openAir
	if s.Emissivity == 0 {
		s.Emissivity = piece.UsualEmissivity
	}
	return s
}

// noteOpened says what opening does to the piece that it brings nearest to its
// limits, whether it is within them or not.
func (rep *Report) noteOpened(at unit.Temp) {
	worst := 0
	for i := range rep.Pieces {
		if rep.Pieces[i].Opening.Use > rep.Pieces[worst].Opening.Use {
			worst = i
		}
	}
	b := rep.Pieces[worst].Opening
	rep.Notes.First(finding.OfPiece(finding.OpenedAt, worst).At(at).Pulled(b.Worst, b.Pair.Worst).Also(b.Expected, b.Pair.Expected))
	rep.Assumptions.Add(finding.Of(finding.OpeningComputed).Counting(openAir))
}
