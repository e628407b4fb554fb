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

// Sample is one moment of the history of a piece in its worst case: the place
// in the kiln and the reading of its properties that decided its report. The
// stresses are raised by Body.Tension, as the tension of the report is; those of
// the last sample of a program that cools to the room by Body.Left.
type Sample struct {
	Time                        float64 // [s] of the program as told
	Kiln, Surface, Center       unit.Temp
	SurfaceStress, CenterStress unit.Stress
	Tension                     unit.Stress // greatest anywhere
}

// History simulates one piece of the report again and returns its history
// under the program as told. Its greatest tension is the Peak of the piece's
// report, at PeakTime. Kiln is the temperature at the place of the piece, which
// the kiln's error may set apart from the reading.
//
// A program that cools to the room has one sample more, at the time of its end:
// the piece once it has evened out at the room, with the tension left in it.
func History(rep *Report, piece int) ([]Sample, error) {
	return newFiring(rep.Schedule, rep.Studio, rep.Load).history(rep, piece)
}

// ActualHistory is History for the kiln as the hours of the report take it to
// be: it may fall slower than told. Times are those of the clock, and the last
// sample is the end of the program. The report
// judges History, whose kiln obeys.
func ActualHistory(rep *Report, piece int) ([]Sample, error) {
	f := newFiring(rep.Schedule, rep.Studio, rep.Load)
	f.timeline = rep.Actual
	f.kinks = nil
	for _, span := range f.timeline.Spans {
		for _, t := range [2]float64{span.RampEnds, span.End} {
			if n := len(f.kinks); t > 0 && (n == 0 || t > f.kinks[n-1]) {
				f.kinks = append(f.kinks, t)
			}
		}
	}
	h, err := f.history(rep, piece)
	if err == nil && f.cools { // the clock ends with the program, not with the room
		h = h[:len(h)-1]
	}
	return h, err
}

// history runs the firing for one piece of the report in its worst reading and
// keeps the place in the kiln with the greater tension.
func (f firing) history(rep *Report, piece int) ([]Sample, error) {
	if piece < 0 || piece >= len(rep.Pieces) {
		panic(fmt.Sprintf("anneal: history of piece %d of %d", piece, len(rep.Pieces)))
	}
	r := &rep.Pieces[piece]
	var best []Sample
	most := unit.Stress(math.Inf(-1))
	for _, off := range f.offsets {
		p, err := f.problemOf(r.Piece, off)
		if err != nil {
			return nil, err
		}
		// The simulation records its first reading: let that be the worst.
		worst := slices.IndexFunc(p.Variants, func(v sim.Variant) bool { return v.Name == r.Worst })
		if worst > 0 {
			v := p.Variants[worst]
			p.Variants = slices.Insert(slices.Delete(p.Variants, worst, worst+1), 0, v)
		}
		var out []Sample
		raised := func(x float64) unit.Stress { return unit.Stress(x * r.Body.TensionFactor) }
		res, err := sim.Run(p, fineEnough(r.Piece, f.schedule, sim.Settings{Record: func(s sim.Sample) {
			out = append(out, Sample{Time: s.Time, Kiln: unit.Kelvin(s.Kiln), Surface: unit.Kelvin(s.Surface), Center: unit.Kelvin(s.Center),
				SurfaceStress: raised(s.SurfaceStress), CenterStress: raised(s.CenterStress), Tension: raised(s.Tension)})
		}}))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", r.Piece.What, err)
		}
		o := res.Outcomes[0]
		peak := raised(o.Peak)
		out = withPeak(out, o.PeakTime, peak)
		if f.cools {
			even := f.evened(o.Left, r.Body.ResidualFactor)
			out, peak = append(out, even), max(peak, even.Tension)
		}
		if peak > most {
			most, best = peak, out
		}
	}
	return best, nil
}

// evened is the piece at the room, after the program, with the stress left in
// it raised by a factor.
func (f firing) evened(left sim.Profile, factor float64) Sample {
	n := len(left.Plane) - 1
	raised := func(x float64) unit.Stress { return unit.Stress(x * factor) }
	at := func(i int) unit.Stress { return raised(math.Max(left.Plane[i], left.Axial[i])) }
	return Sample{Time: f.kinks[len(f.kinks)-1], Kiln: f.room, Surface: f.room, Center: f.room,
		SurfaceStress: at(n), CenterStress: at(0), Tension: raised(left.MaxTension())}
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

// problemOf poses the firing of one piece by itself.
func (f firing) problemOf(p piece.Piece, off float64) (sim.Problem, error) {
	k, err := newGroup(p)
	if err != nil {
		return sim.Problem{}, err
	}
	mark, _, _ := f.soakMark(p)
	return f.problem(k, k.variants, off, mark), nil
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

// WriteHistory writes the history of every kind of piece as CSV, one row per
// step, in °C and MPa or °F and psi as the report's studio has it.
func WriteHistory(w io.Writer, rep *Report) error {
	c := csv.NewWriter(w)
	sys := rep.Studio.Units
	_, t := unit.Temp{}.In(sys)
	_, s := unit.Stress(0).In(sys)
	t = map[string]string{"°C": "C", "°F": "F"}[t]
	if err := c.Write([]string{"piece", "time_h", "kiln_" + t, "surface_" + t, "center_" + t, "surface_stress_" + s, "center_stress_" + s, "greatest_tension_" + s}); err != nil {
		return err
	}
	for i, p := range rep.Pieces {
		h, err := History(rep, i)
		if err != nil {
			return err
		}
		temp := func(t unit.Temp) string { x, _ := t.In(sys); return fmt.Sprintf("%.2f", x) }
		stress := func(v unit.Stress) string { x, _ := v.In(sys); return fmt.Sprintf("%.4f", x) }
		for _, r := range h {
			if err := c.Write([]string{p.Piece.What, fmt.Sprintf("%.5f", r.Time/3600), temp(r.Kiln), temp(r.Surface), temp(r.Center),
				stress(r.SurfaceStress), stress(r.CenterStress), stress(r.Tension)}); err != nil {
				return err
			}
		}
	}
	c.Flush()
	return c.Error()
}
