package verify

import (
	"fmt"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// StillHotBy is how far a piece must trail the kiln at its opening to be spoken
// of: nearer, a hand does not tell the two apart [common practice].
const StillHotBy = unit.Delta(5)

// noteStillHot says how hot the piece that trails most still is when the kiln reads
// the temperature at which it is opened, in average glass, at the hottest place
// of the kiln, and in the quickest fall where nobody measured it; where it must stay
// closed after the program, at the end of that. A program that
// ends hot or only warms gets no word, nor does a piece that is about as cool as
// the kiln.
func (rep *Report) noteStillHot() error {
	if rep.Replayed || rep.Load.Into == piece.WarmOnly || rep.EndsHot() || len(rep.Pieces) == 0 {
		return nil
	}
	st, program := rep.Studio, rep.Schedule
	if closed, ok := rep.Notes.Find(finding.KeepClosed); ok {
		if closed.Temp.IsZero() {
			return nil
		}
		program = rep.Closed(closed.Temp)
	}
	if !st.Kiln.Measured {
		st.Kiln.Measured, st.Kiln.Fall.TimeConstant = true, kiln.QuickestFall
	}
	s, err := program.Fulfilled(st)
	if err != nil {
		return err
	}
	f := newFiring(s, st, rep.Load, rep.Limits)
	if !f.cools {
		return nil
	}
	most := rep.TrailsMost()
	surface, center, err := f.atEnd(rep.Pieces[most].Piece)
	if err != nil {
		return err
	}
	reads := s.Segments[len(s.Segments)-1].To
	if center.Sub(reads) >= StillHotBy {
		rep.Notes.Add(finding.OfPiece(finding.StillHot, most).At(reads).Against(center).Apart(surface.Sub(reads)))
	}
	return nil
}

// TrailsMost is the piece that trails the kiln most.
func (rep *Report) TrailsMost() int {
	most := 0
	for i := range rep.Pieces {
		if rep.Pieces[i].MaxLag > rep.Pieces[most].MaxLag {
			most = i
		}
	}
	return most
}

// atEnd returns the temperatures of a piece at the end of the firing, at the
// hottest place of the kiln.
func (f firing) atEnd(p piece.Piece) (surface, center unit.Temp, err error) {
	g, err := newGroup(p)
	if err != nil {
		return surface, center, err
	}
	problem := f.averageProblem(g, f.offsets[len(f.offsets)-1], 0)
	_, err = sim.Run(problem, sim.Settings{Record: func(s sim.Sample) {
		surface, center = unit.Kelvin(s.Surface), unit.Kelvin(s.Center)
	}})
	if err != nil {
		err = fmt.Errorf("%s: at the end of the program: %w", p.What, err)
	}
	return surface, center, err
}
