package anneal

import (
	"encoding/csv"
	"fmt"
	"io"

	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// Sample is one moment of the history of a piece; stresses are those of the
// first reading of its properties, without the factors for its bed.
type Sample struct {
	Time                        float64 // [s] of the program as told
	Kiln, Surface, Center       unit.Temp
	SurfaceStress, CenterStress unit.Stress
	Tension                     unit.Stress // greatest anywhere
}

// History simulates one piece of the report again and returns its history.
func History(rep *Report, piece int) ([]Sample, error) {
	f := newFiring(rep.Schedule, rep.Studio, rep.Load.Into)
	f.offsets = []float64{0}
	var out []Sample
	_, err := f.simulate(rep.Pieces[piece].Piece, sim.Settings{Record: func(s sim.Sample) {
		out = append(out, Sample{Time: s.Time, Kiln: unit.Kelvin(s.Kiln), Surface: unit.Kelvin(s.Surface), Center: unit.Kelvin(s.Center),
			SurfaceStress: unit.Stress(s.SurfaceStress), CenterStress: unit.Stress(s.CenterStress), Tension: unit.Stress(s.Tension)})
	}})
	return out, err
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
