package verify

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"

	"lehr/anneal/piece"
	"lehr/anneal/rule"
	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/unit"
)

// Sample is one moment of the history of a piece, at the place in the kiln with
// the greater tension. Temperatures are those of average glass; stresses are
// raised to the worst case of the report.
type Sample struct {
	Time                        float64 // [s] of the nominal program
	Kiln, Surface, Center       unit.Temp
	SurfaceStress, CenterStress unit.Stress
	Tension                     unit.Stress // greatest anywhere
}

// History simulates one piece of the report again and returns its history
// under the nominal program. Its greatest tension is the Peak of the piece's
// report, at PeakTime. Kiln is the temperature at the place of the piece, which
// the kiln's error may set apart from the reading.
//
// A program that cools to the room has one sample more, at the time of its end:
// the piece once it has evened out at the room, with the tension left in it.
func (rep *Report) History(piece int) ([]Sample, error) {
	if rep.Replayed {
		return newReplay(rep.Schedule, rep.Studio, rep.Load, rep.Limits, !rep.EndsHot()).history(rep, piece)
	}
	return rep.firing().history(rep, piece)
}

// history runs the firing for one piece of the report in its middle variant, and
// keeps the place in the kiln with the greater tension. The stresses are raised
// so that the greatest is that of the report, which is the worst case.
func (f firing) history(rep *Report, piece int) ([]Sample, error) {
	if piece < 0 || piece >= len(rep.Pieces) {
		panic(fmt.Sprintf("verify: history of piece %d of %d", piece, len(rep.Pieces)))
	}
	r := &rep.Pieces[piece]
	g, err := newGroup(r.Piece)
	if err != nil {
		return nil, err
	}
	mark, _, _ := f.soakMark(r.Piece)
	var best []Sample
	var residual sim.Profile
	most := math.Inf(-1)
	for _, off := range f.offsets {
		p := f.averageProblem(g, off, mark)
		var out []Sample
		res, err := sim.Run(p, sim.Settings{Record: func(s sim.Sample) {
			out = append(out, Sample{Time: s.Time, Kiln: unit.Kelvin(s.Kiln), Surface: unit.Kelvin(s.Surface), Center: unit.Kelvin(s.Center),
				SurfaceStress: unit.Stress(s.SurfaceStress), CenterStress: unit.Stress(s.CenterStress), Tension: unit.Stress(s.Tension)})
		}})
		if err != nil {
			return nil, fmt.Errorf("%s: %w", r.Piece.What, err)
		}
		if o := res.Outcomes[0]; o.Peak > most {
			most, best, residual = o.Peak, out, o.Residual
		}
	}
	raise := 1.0
	if most > 0 {
		raise = float64(r.Peak) / most
	}
	for i := range best {
		for _, s := range []*unit.Stress{&best[i].SurfaceStress, &best[i].CenterStress, &best[i].Tension} {
			*s *= unit.Stress(raise)
		}
		best[i].Tension = min(best[i].Tension, r.Peak)
	}
	best = withPeak(best, r.PeakTime, r.Peak)
	if f.cools {
		best = append(best, f.evened(residual, ratio(float64(r.Residual), residual.MaxTension())))
	}
	return best, nil
}

// evened is the piece at the room, after the program, with the stress left in
// it raised by a factor.
func (f firing) evened(residual sim.Profile, factor float64) Sample {
	n := len(residual.Plane) - 1
	raised := func(x float64) unit.Stress { return unit.Stress(x * factor) }
	at := func(i int) unit.Stress { return raised(math.Max(residual.Plane[i], residual.Axial[i])) }
	return Sample{Time: f.kinks[len(f.kinks)-1], Kiln: f.room, Surface: f.room, Center: f.room,
		SurfaceStress: at(n), CenterStress: at(0), Tension: raised(residual.MaxTension())}
}

// withPeak puts the moment of the greatest tension among the samples: it may
// lie between two steps of the simulation.
func withPeak(h []Sample, time float64, peak unit.Stress) []Sample {
	i, found := slices.BinarySearchFunc(h, time, func(s Sample, t float64) int {
		switch {
		case s.Time < t:
			return -1
		case s.Time > t:
			return 1
		}
		return 0
	})
	if found {
		h[i].Tension = peak
	}
	if found || i == 0 || i == len(h) {
		return h
	}
	a, b := h[i-1], h[i]
	w := (time - a.Time) / (b.Time - a.Time)
	temp := func(a, b unit.Temp) unit.Temp { return a.Add(unit.Delta(w) * b.Sub(a)) }
	stress := func(a, b unit.Stress) unit.Stress { return a + unit.Stress(w)*(b-a) }
	return slices.Insert(h, i, Sample{Time: time,
		Kiln: temp(a.Kiln, b.Kiln), Surface: temp(a.Surface, b.Surface), Center: temp(a.Center, b.Center),
		SurfaceStress: stress(a.SurfaceStress, b.SurfaceStress), CenterStress: stress(a.CenterStress, b.CenterStress), Tension: peak})
}

// StrainRange returns the temperatures between which a piece sets and the
// design-stress rule cools it slowly: from the end of its soak range down to a
// little below the strain point.
func StrainRange(g *glass.Glass) (low, high unit.Temp, err error) {
	high, _, err = piece.SoakRange(g)
	if err != nil {
		return low, high, err
	}
	return g.Strain.Temp().Add(-rule.BelowStrain), high, nil
}

// residualRow stands behind the name of a piece in the row of what is left in it.
const residualRow = ": left at the room"

// WriteHistory writes the history of every kind of piece as CSV, one row per
// step, in °C and MPa or °F and psi as the report's studio has it: told_h counts
// from the start of the nominal program, by which the piece is judged, clock_h is
// the same moment by the clock. It is empty from where the kiln of the clock can be
// elsewhere: one that nobody measured is judged as one that follows the program
// exactly, a measured one as one that falls faster, and the hours count how it falls,
// so that no row from there on is of both. Temperatures are those of average glass,
// stresses those of the worst case, as in [Sample].
//
// Where the program cools to the room, a last row per kind of piece, named for what
// it is (": left at the room"), has the stress left in it, and no time.
func (rep *Report) WriteHistory(w io.Writer) error {
	c := csv.NewWriter(w)
	sys := rep.Studio.Units
	_, t := unit.Temp{}.In(sys)
	_, s := unit.Stress(0).In(sys)
	t = map[string]string{"°C": "C", "°F": "F"}[t]
	if err := c.Write([]string{"piece", "told_h", "clock_h", "kiln_" + t, "surface_" + t, "center_" + t, "surface_stress_" + s, "center_stress_" + s, "greatest_tension_" + s}); err != nil {
		return err
	}
	for i, p := range rep.Pieces {
		h, err := rep.History(i)
		if err != nil {
			return err
		}
		temp := func(t unit.Temp) string { x, _ := t.In(sys); return fmt.Sprintf("%.2f", x) }
		stress := func(v unit.Stress) string { x, _ := v.In(sys); return fmt.Sprintf("%.4f", x) }
		for n, r := range h {
			name, told, clock := p.Piece.What, fmt.Sprintf("%.5f", r.Time/3600), ""
			switch {
			case n == len(h)-1 && n > 0 && r.Time <= h[n-1].Time:
				name, told = name+residualRow, ""
			case math.Abs(rep.ActualTime(r.Time)-r.Time) < 1:
				clock = told
			}
			if err := c.Write([]string{name, told, clock, temp(r.Kiln), temp(r.Surface), temp(r.Center),
				stress(r.SurfaceStress), stress(r.CenterStress), stress(r.Tension)}); err != nil {
				return err
			}
		}
	}
	c.Flush()
	return c.Error()
}
