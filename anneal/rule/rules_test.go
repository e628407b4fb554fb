package rule

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lehr/anneal/finding"
	"lehr/anneal/formula"
	"lehr/glass"
	"lehr/glass/casetest"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

func TestRulesFile(t *testing.T) {
	text, err := strict.Unpack(packedRules)
	if err != nil {
		t.Fatal(err)
	}
	casetest.Packed(t, "rules.toml", text)
	f, err := parseRules([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, r := range f.rules {
		names = append(names, r.Name)
		if r.Title == "" || r.Note == "" || r.Faces == "" || r.Cite == "" || statusRank(r.Status) < 0 {
			t.Errorf("%s says too little: %+v", r.Name, r)
		}
		for _, family := range append(slices.Clone(r.Families), r.body.AsMeasured...) {
			if _, err := glass.Find(family); err != nil {
				t.Errorf("%s: %v", r.Name, err)
			}
		}
		for i, row := range r.body.Row {
			if len(row.Rates) != 3 || statusRank(row.Status) < 0 {
				t.Errorf("%s: row %d: %+v", r.Name, i+1, row)
			}
			if i > 0 && row.Expansion == r.body.Row[i-1].Expansion && row.Size <= r.body.Row[i-1].Size {
				t.Errorf("%s: row %d is not thicker than the one before", r.Name, i+1)
			}
		}
		if n := len(r.body.Row); n > 0 && (r.body.Row[0].Size != r.Smallest || r.body.Row[n-1].Size != r.Largest) {
			t.Errorf("%s: range %v to %v is not that of its rows", r.Name, r.Smallest, r.Largest)
		}
	}
	want := "commercial-cycle crystal-casting fusible-slab borosilicate-soak design-stress"
	if got := strings.Join(names, " "); got != want {
		t.Errorf("rules %s, want %s", got, want)
	}
}

// Which rows of the fusible chart were read, and which are from memory.
func TestFusibleSlab_rowStatus(t *testing.T) {
	for mm, want := range map[float64]string{12: "memory", 19: "verified", 22: "verified", 25: "verified", 30: "memory", 50: "memory"} {
		if got := apply(t, "fusible-slab", slabOf(t, "fusible-90", unit.Length(mm)*unit.Millimeter)).Status; got != want {
			t.Errorf("%v mm: status %s, want %s", mm, got, want)
		}
	}
}

// ruled draws a piece for a rule and a thicker one, both inside its range.
func ruled(t *rapid.T, r Rule) (thin, thick Request) {
	family := "soda-104"
	switch {
	case len(r.Families) > 0:
		family = r.Families[0]
	case len(r.body.Row) > 0:
		family = rapid.SampledFrom([]string{"borosilicate-33", "neutral-50", "float", "fusible-96"}).Draw(t, "family")
	}
	g, err := glass.Find(family)
	if err != nil {
		t.Fatal(err)
	}
	low, high := float64(r.Smallest), float64(r.Largest)
	if high == 0 {
		low, high = 0.003, 0.2
	}
	a, b := rapid.Float64Range(low, high).Draw(t, "a"), rapid.Float64Range(low, high).Draw(t, "b")
	q := Request{Glass: g, Shape: formula.FormSlab, Size: unit.Length(min(a, b)),
		DesignCooling: 3.5 * unit.Megapascal, DesignResidual: unit.Megapascal}
	thin, thick = q, q
	thick.Size = unit.Length(max(a, b))
	return thin, thick
}

func TestRules_thickerIsNeverFaster(t *testing.T) {
	for _, r := range All() {
		t.Run(r.Name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				qa, qb := ruled(t, r)
				a, err := r.Apply(qa)
				if err != nil {
					t.Fatal(err)
				}
				b, err := r.Apply(qb)
				if err != nil {
					t.Fatal(err)
				}
				const slack = 1 + 1e-9
				if float64(b.Stages[0].Hold)*slack < float64(a.Stages[0].Hold) || float64(b.Total())*slack < float64(a.Total()) {
					t.Fatalf("%v soaks %v of %v, %v soaks %v of %v", qa.Size, a.Stages[0].Hold, a.Total(), qb.Size, b.Stages[0].Hold, b.Total())
				}
				for i := range a.Stages {
					if -b.Stages[i].Rate > -a.Stages[i].Rate*slack {
						t.Fatalf("stage %d: %v at %v, %v at %v", i, qa.Size, a.Stages[i].Rate, qb.Size, b.Stages[i].Rate)
					}
				}
			})
		})
	}
}

// In the slow range of a table rule rate times thickness squared stays within
// what its rounded rows print; the last, tension-limited range of the stress
// rule follows the square exactly.
func TestRules_rateFollowsTheSquare(t *testing.T) {
	for _, r := range All() {
		if r.body.Kind == kindSoaks {
			continue
		}
		stage, within := 3, 1e-9
		if r.body.Kind == kindRows {
			stage, within = 1, 0.2
		}
		t.Run(r.Name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				qa, qb := ruled(t, r)
				square := func(q Request) float64 {
					res, err := r.Apply(q)
					if err != nil {
						t.Fatal(err)
					}
					return float64(res.Stages[stage].Rate) * float64(q.Size) * float64(q.Size)
				}
				if ratio := square(qa) / square(qb); ratio < 1-within || ratio > 1/(1-within) {
					t.Fatalf("%v and %v: rate × size² differ %.4g times", qa.Size, qb.Size, ratio)
				}
			})
		})
	}
}

func TestRules_refuse(t *testing.T) {
	slab := func(family string, d unit.Length) Request { return slabOf(t, family, d) }
	bare := *slab("float", 0.01).Glass
	bare.Young = glass.Value{}
	for _, c := range []struct {
		name, rule string
		q          Request
		want       string
	}{
		{"thin", "fusible-slab", slab("fusible-90", 0.006), "counted thickness 6.0 mm: rule fusible-slab valid from 12.0 mm to 200.0 mm (source fusible-slab-chart)"},
		{"thick", "crystal-casting", slab("lead-crystal", 0.175), "rule crystal-casting valid from 12.0 mm to 165.0 mm"},
		{"glass", "crystal-casting", slab("float", 0.02), "published for lead-crystal, not for float"},
		{"expansion", "commercial-cycle", slab("soda-104", 0.006), "expansion 1.04e-05 /K of soda-104 is in none of its groups"},
		{"no glass", Stress, Request{Size: 1}, "no glass given"},
		{"no size", Stress, slab("float", 0), "must be above zero"},
		{"NaN", Stress, slab("float", unit.Length(math.NaN())), "must be above zero"},
		{"infinite", Stress, slab("float", unit.Length(math.Inf(1))), "must be above zero"},
		{"shape", Stress, Request{Glass: &bare, Shape: 7, Size: 1}, "unknown shape"},
		{"one face", Stress, Request{Glass: &bare, Shape: formula.FormSphere, OneFace: true, Size: 1}, "only a slab"},
		{"no limit", Stress, Request{Glass: &bare, Size: 1}, "design stress"},
		{"factor", Stress, Request{Glass: &bare, Size: 1, TensionFactor: 0.5}, "at least 1"},
		{"no modulus", Stress, Request{Glass: &bare, Size: 0.01, DesignCooling: 1, DesignResidual: 1}, "no Young's modulus"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := Find(c.rule)
			if err != nil {
				t.Fatal(err)
			}
			if _, err = r.Apply(c.q); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want %q", err, c.want)
			}
		})
	}
	if _, err := (Rule{}).Apply(slab("float", 0.01)); err == nil {
		t.Error("an empty rule was applied")
	}
	var outside *glass.RangeError
	r, _ := Find("fusible-slab")
	if _, err := r.Apply(slab("fusible-90", 1)); !errors.As(err, &outside) {
		t.Errorf("%v is not a range error", err)
	}
}

func TestFindRule_suggests(t *testing.T) {
	_, err := Find("desing-stress")
	var miss *Error
	if !errors.As(err, &miss) || !strings.Contains(miss.Hint(), "did you mean design-stress?") {
		t.Errorf("error %v", err)
	}
}

// The way a piece is counted: sphere and cylinder by equal surface stress
// unless the whole diameter is asked for, a slab on a shelf twice.
func TestRules_counting(t *testing.T) {
	q := slabOf(t, "fusible-90", 0.1)
	for _, c := range []struct {
		form          formula.Form
		full, oneFace bool
		want          float64
	}{
		{formula.FormSlab, false, false, 0.1}, {formula.FormSlab, false, true, 0.2},
		{formula.FormSphere, false, false, 0.1 / math.Sqrt(5)}, {formula.FormSphere, true, false, 0.1},
		{formula.FormCylinder, false, false, 0.1 * math.Sqrt(3./8)}, {formula.FormCylinder, true, false, 0.1},
	} {
		q.Shape, q.CountFull, q.OneFace = c.form, c.full, c.oneFace
		res := apply(t, "fusible-slab", q)
		close(t, c.form.String(), float64(res.Slab), c.want, 1e-12)
		if c.form != formula.FormSlab && res.CountsAs.Kind != finding.CountsWhole && res.CountsAs.Kind != finding.CountsEqual {
			t.Errorf("%v: %v does not give the other way of counting", c.form, res.CountsAs)
		}
	}
}
