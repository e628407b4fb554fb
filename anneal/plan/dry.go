package plan

import (
	"slices"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/formula"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/seal"
	"lehr/anneal/seal/contents"
	"lehr/anneal/sim"
	"lehr/anneal/verify"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// rise is a hold on the way up, where what is wet dries.
type rise struct {
	to   unit.Temp
	hold time.Duration
}

// cold lists what is warmed as the rules for it know it.
func (pl *planner) cold() (out []seal.Cold) {
	for _, p := range pl.load.Pieces {
		if p.IsStone() {
			if c, ok := seal.ColdOf(p.Stone); ok {
				out = append(out, c)
			}
			continue
		}
		b := p.Body()
		form := map[formula.Form]sim.Form{formula.FormSlab: sim.Slab, formula.FormCylinder: sim.Cylinder, formula.FormSphere: sim.Sphere}[b.Form]
		out = append(out, seal.ColdGlass(p.Glass, form, b.Size, b.OneFace))
	}
	return out
}

// dry puts the holds of what holds water before the last one, which must be hot
// enough for the last of it to leave. It returns the stages, none where nothing
// is wet.
func (pl *planner) dry() ([]seal.Stage, error) {
	p := &pl.draft
	wet := -1
	for i, q := range pl.load.Pieces {
		if q.IsStone() && q.Stone.Material.Hydrated && (wet < 0 || q.Size > pl.load.Pieces[wet].Size) {
			wet = i
		}
	}
	if wet < 0 {
		return nil, nil
	}
	w, err := seal.PlanWarmUp(pl.cold(), p.soak)
	if err != nil {
		return nil, &DryError{pl.load.Pieces[wet].What, p.soak}
	}
	for _, s := range w.Stages {
		if s.To.Less(p.soak.Add(-1)) {
			p.rises = append(p.rises, rise{s.To, s.Hold})
		} else if s.Hold > p.hold {
			p.hold, p.holdBy = s.Hold, wet
		}
		if float64(s.Rate) < p.heatRate {
			p.heatRate, p.heatBy = float64(s.Rate), wet
		}
	}
	return w.Stages, nil
}

// DryError is a kiln that stays too cool for the last water to leave a stone.
type DryError struct {
	What string
	Soak unit.Temp
}

func (e *DryError) Error() string {
	return e.What + ": holds water, the last of which leaves near " + seal.DryAt().Text(unit.TypedIn(e.Soak)) + ", and this kiln stays at " + unit.AsTyped(e.Soak)
}

// Hint says what to change.
func (e *DryError) Hint() string { return e.Advice().String() }

// Advice is the hint as data.
func (e *DryError) Advice() strict.Advice {
	return "give a higher {kiln.holding}, or what else lies beside it a firing of its own"
}

// toTheFlame says why the program stops where it does, when what it warms is
// ready, and whether finished pieces may wait beside it.
func (pl *planner) toTheFlame(rep *verify.Report, dries []seal.Stage) {
	for i, s := range rep.Schedule.Segments {
		for _, d := range dries {
			if delta := s.To.Sub(d.To); s.Rate == 0 || delta < -1 || delta > 1 {
				continue
			}
			for _, why := range d.Reasons {
				if why != seal.ThermalRate && why != seal.OrdinaryRate { // the simulation says what sets the rate
					rep.Reasons[i].Add(finding.OfSegment(finding.DriesHere, i).Counting(float64(why)))
				}
			}
			for _, key := range d.Sources {
				rep.Sources.Add(finding.Source{Cite: contents.Sources()[key].Cite, Status: "verified"})
			}
		}
	}
	if dries != nil {
		rep.Assumptions.Add(finding.Of(finding.WarmsTo).At(seal.DryAt()))
	}
	if f, err := pl.beside(rep, dries != nil); err == nil {
		rep.Notes.First(f)
	}
	if slices.ContainsFunc(pl.load.Pieces, piece.Piece.IsStone) {
		rep.Notes.First(finding.Of(finding.ReadyForFlame).Lasting(unit.WholeMinutes(rep.Actual.Total()), 0))
	}
}

// laidIn is how fast the kiln around a thing rises that is laid in hot [s].
const laidIn = 60

// beside says whether what is warmed can lie in a kiln in which finished pieces
// wait, at the holding of the studio or as the trade holds the glass: laid in at
// once if it bears that, or from when on its own program is as hot. What holds
// water never bears it.
func (pl *planner) beside(rep *verify.Report, wet bool) (finding.Finding, error) {
	first := pl.load.Pieces[0]
	low, high := first.Glass.Garage.Low, first.Glass.Garage.High
	if h := pl.st.Kiln.Holding; !h.IsZero() {
		low, high = h, h
	} else if low.IsZero() {
		low, high = HoldingOf(first.Glass), HoldingOf(first.Glass)
	}
	about := func(k finding.Kind) finding.Finding {
		f := finding.Of(k).At(low).Against(high)
		if !first.IsStone() {
			f.Name = first.Glass.Name
		}
		return f
	}
	shock := finding.Finding{}
	if !wet {
		at, err := pl.laid(low)
		if err != nil {
			return shock, err
		}
		worst := 0
		for i, p := range at.Pieces {
			if p.Tension.Use > at.Pieces[worst].Tension.Use {
				worst = i
			}
		}
		p := at.Pieces[worst]
		shock = about(finding.NeedsOwnKiln).Pulled(p.Peak, p.Tension.Limit()).In(worst)
		if at.Within {
			shock.Kind = finding.CanLieBeside
			return shock, nil
		}
	}
	f := about(finding.NeedsOwnKiln)
	f.Piece, f.Stress, f.Most = shock.Piece, shock.Stress, shock.Most
	if wet {
		f.Piece = finding.None
	}
	if at := rep.Schedule.Last(); float64(at.Sub(low)) > -1 && float64(at.Sub(high)) < 1 {
		last := rep.Actual.Spans[len(rep.Actual.Spans)-1]
		f = f.Lasting(unit.WholeMinutes(unit.Seconds(rep.Actual.When(low.Kelvin()-1, 0, last.RampEnds))), 0)
	}
	return f, nil
}

// laid judges what is warmed as if it were laid, cold, into a kiln that is hot.
func (pl *planner) laid(hot unit.Temp) (*verify.Report, error) {
	st := pl.st
	st.Kiln.Measured, st.Kiln.HeatingGiven = false, false
	room := st.Kiln.Fall.Room
	s := program.Schedule{From: room, Segments: []program.Segment{
		{Purpose: program.PurposeHeat, Rate: unit.Rate(float64(hot.Sub(room)) / laidIn), To: hot},
		{Purpose: program.PurposeHold, To: hot, Hold: time.Hour}}}
	return verify.Judge(pl.ctx, s, pl.load, st, pl.limits, sim.Settings{}, nil)
}
