package shortest

import (
	"slices"
	"testing"

	"lehr/anneal/program"

	"lehr/glass/unit"
)

// TestLabel checks the names of cooling segments against what each does: a
// glass that sets at 500 °C and is rigid at 400 °C.
func TestLabel(t *testing.T) {
	soak := program.Segment{Purpose: program.PurposeSoak, To: unit.Celsius(550)}
	down := func(to, rate float64) program.Segment {
		return program.Segment{Purpose: program.PurposeNext, To: unit.Celsius(to), Rate: unit.KelvinPerHour(-rate)}
	}
	for _, c := range []struct {
		segs []program.Segment
		want []string
	}{
		{[]program.Segment{soak, down(520, 275), down(470, 61), down(420, 90), down(43, 300)},
			[]string{"soak", "to the setting range", "setting range 1", "setting range 2", "final cooling"}},
		{[]program.Segment{soak, down(470, 40), down(43, 200)}, []string{"soak", "setting range", "final cooling"}},
		{[]program.Segment{soak, down(520, 40), down(470, 60), down(43, 200)}, []string{"soak", "setting range 1", "setting range 2", "final cooling"}},
		{[]program.Segment{soak, down(390, 40), down(200, 100), down(43, 200)}, []string{"soak", "setting range", "final cooling", "final cooling"}},
		{[]program.Segment{{Purpose: program.PurposeHeat, To: unit.Celsius(540)}, soak, down(43, 30)}, []string{"heating", "soak", "setting range"}},
	} {
		label(c.segs, unit.Celsius(500).Kelvin(), unit.Celsius(400).Kelvin())
		var got []string
		for _, s := range c.segs {
			got = append(got, string(s.Purpose))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}
