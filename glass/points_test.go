package glass

import (
	"math"
	"slices"
	"strings"
	"testing"

	"lehr/glass/unit"
)

// TestLoad_pointRanges: a range of a fixed point counts or is refused with the
// range that would.
func TestLoad_pointRanges(t *testing.T) {
	const like = "[[glass]]\nname = \"x\"\nlike = \"borosilicate-33\"\n"
	for _, c := range []struct{ text, want, hint string }{
		{`strain_point = "510 ± 500 °C"`, "from 0 K to 60 K", ""},
		{`annealing_point = "560 ± 61 °C"`, "from 0 K to 60 K", ""},
		{`softening_point = "1510 ± 109 °F"`, "from 0 K to 60 K", ""},
		// No curve levels off beyond the straight line in temperature: 1.5 decades up
		// to the annealing point and 5.4 from there up to the softening point, 560 − 261/3.6 = 487.5.
		{`strain_point = "510 ± 30 °C"`, "no falling viscosity curve", "± 22 K"},
		{"annealing_point = \"560 °C\"\nstrain_point = \"488 ± 1 °C\"", "no falling viscosity curve", "leave ± out"},
		{"viscosity = \"anneal-soften-work\"\nstrain_point = \"510 ± 5 °C\"", "no falling viscosity curve in use", "leave ± out"},
		{"viscosity = \"strain-anneal-soften\"\nworking_point = \"1255 ± 5 °C\"", "no falling viscosity curve in use", "leave ± out"},
		{"viscosity = { A = -3.02, B = 6987, T0 = \"94.9 °C\" }\nsoftening_point = \"821 ± 5 °C\"", "gives the curve itself", "leave ± out"},
	} {
		_, err := Load(strings.NewReader(like+c.text+"\n"), "x.toml")
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.text, err, c.want)
			continue
		}
		if h, ok := err.(interface{ Hint() string }); !ok || !strings.Contains(h.Hint(), c.hint) {
			t.Errorf("%s: no hint %q", c.text, c.hint)
		}
	}
}

// TestMoved: a moved point lies on its curve, the others too.
func TestMoved(t *testing.T) {
	table, err := Load(strings.NewReader("[[glass]]\nname = \"x\"\nlike = \"borosilicate-33\"\nstrain_point = \"510 ± 20 °C\"\nsoftening_point = \"821 ± 40 °C\"\nworking_point = \"1255 ± 60 °C\"\n"), "x.toml")
	if err != nil {
		t.Fatal(err)
	}
	points := []struct {
		key   string
		log10 float64
		from  float64
	}{{"strain_point", 13.5, 510}, {"annealing_point", 12, 560}, {"softening_point", 6.6, 821}, {"working_point", 3, 1255}}
	for _, c := range []struct {
		key   string
		width float64
		on    []int // the points of its curve
	}{{"strain_point", 20, []int{0, 1, 2}}, {"softening_point", 40, []int{0, 1, 2}}, {"working_point", 60, []int{1, 2, 3}}} {
		if !slices.Contains(table.Glasses[0].Alone, c.key) {
			t.Errorf("%s does not move alone", c.key)
		}
		for i := range 2 {
			end, which, ok := table.Glasses[0].Moved(c.key, unit.Delta(c.width*float64(2*i-1)))
			if !ok || which != c.on[0] {
				t.Errorf("%s, end %d: moves curve %d, %v", c.key, i, which, ok)
			}
			for _, p := range c.on {
				at := points[p].from
				if points[p].key == c.key {
					at += c.width * float64(2*i-1)
				}
				if got := end.A + end.B/(at+273.15-end.T0); math.Abs(got-points[p].log10) > 1e-6 {
					t.Errorf("%s, end %d: 10^%.4f Pa·s at %.0f °C, want 10^%g", c.key, i, got, at, points[p].log10)
				}
			}
		}
	}
	for _, g := range Builtin() { // their points move together
		if g.Alone != nil {
			t.Errorf("%s: a point moves alone", g.Name)
		}
	}
}
