package plan

import (
	"slices"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/formula"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/seal"
	"lehr/anneal/sim"
	"lehr/anneal/verify"
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
func (e *DryError) Hint() string {
	return "give a higher holding in [kiln] of the studio file, or what else lies beside it a firing of its own"
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
					rep.Reasons[i].Add(finding.OfSegment(finding.DriesHere, i).Named(string(why)))
				}
			}
			for _, key := range d.Sources {
				rep.AddSource(finding.Source{Cite: seal.Sources()[key].Cite, Status: "verified"})
			}
		}
	}
	if dries != nil {
		rep.Assumptions.Add(finding.Of(finding.WarmsTo).At(seal.DryAt()))
	}
	rep.Notes.First(pl.beside(rep))
	if slices.ContainsFunc(pl.load.Pieces, piece.Piece.IsStone) {
		rep.Notes.First(finding.Of(finding.ReadyForFlame).Lasting(unit.WholeMinutes(rep.Actual.Total()), 0))
	}
}

// beside says whether the program can run in a kiln in which finished pieces
// wait, at the holding of the studio or as the trade holds the glass.
func (pl *planner) beside(rep *verify.Report) finding.Finding {
	g := pl.load.Pieces[0].Glass
	name := g.Name
	if pl.load.Pieces[0].IsStone() {
		name = ""
	}
	low, high := g.Garage.Low, g.Garage.High
	if h := pl.st.Kiln.Holding; !h.IsZero() {
		low, high = h, h
	} else if low.IsZero() {
		low, high = holdingOf(g), holdingOf(g)
	}
	reads := rep.Actual
	from := func(s program.Span) bool { return float64(low.Sub(s.From)) > 1 }
	conflict, hot := finding.None, false
	for i, s := range reads.Spans {
		if hot = float64(rep.Schedule.Segments[i].To.Sub(high)) > 1; hot || from(s) {
			conflict = i
			break
		}
	}
	kind := finding.NeedsOwnKiln
	if conflict == finding.None {
		kind = finding.CanLieBeside
	}
	f := finding.Of(kind).Named(name).At(low).Against(high).Which(hot)
	f.Segment = conflict
	if at := rep.Schedule.Last(); float64(at.Sub(low)) > -1 && float64(at.Sub(high)) < 1 && conflict != finding.None {
		last := reads.Spans[len(reads.Spans)-1]
		f = f.Lasting(unit.WholeMinutes(unit.Seconds(reads.When(low.Kelvin()-1, 0, last.RampEnds))), 0)
	}
	return f
}
