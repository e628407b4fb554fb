package glass

import (
	"fmt"
	"math"
)

// series is a relaxation function of a glass file: weights that sum to 1, and
// times.
type series struct {
	Weights []float64 `toml:"weights"`
	Times   []float64 `toml:"times"`
	Long    float64   `toml:"long"`
}

// mostTerms is how many terms a series may have.
const mostTerms = 24

// terms checks a series and returns it with weights that sum to 1 exactly, and
// its mean time.
func (s *series) terms() (set []Term, mean float64, err error) {
	if len(s.Weights) == 0 || len(s.Weights) != len(s.Times) || len(s.Weights) > mostTerms {
		return nil, 0, fmt.Errorf("must have as many weights as times, 1 to %d", mostTerms)
	}
	sum := 0.0
	for i, w := range s.Weights {
		if !(w > 0) || !(s.Times[i] > 0) || math.IsInf(s.Times[i], 0) {
			return nil, 0, fmt.Errorf("weights and times must be above zero")
		}
		sum += w
	}
	if math.Abs(sum-1) > 0.005 {
		return nil, 0, fmt.Errorf("weights sum to %.4g, must sum to 1", sum)
	}
	for i, w := range s.Weights {
		set = append(set, Term{w / sum, s.Times[i]})
		mean += w / sum * s.Times[i]
	}
	return set, mean, nil
}

func scaled(set []Term, by float64) []Term {
	for i := range set {
		set[i].Time /= by
	}
	return set
}

// spectra reads the relaxation functions of a glass file. With those of stress
// and structure at one temperature, and no modulus given, how far their mean
// times lie apart is the pace of the structure.
func (l *loader) spectra(g *Glass, f *form) error {
	const hint = "write { weights = [0.4, 0.6], times = [0.1, 1.6] }"
	if f.Shear == nil && (f.Structure != nil || f.Bulk != nil) {
		return l.fail(l.path("name"), "give shear_relaxation, too: their times are relative to its mean", "structural_relaxation and bulk_relaxation: need shear_relaxation beside them")
	}
	if f.Shear == nil {
		return nil
	}
	if f.Relaxation != "" {
		return l.fail(l.path("relaxation"), "leave one of them out", "relaxation %s: there is a shear_relaxation of its own", f.Relaxation)
	}
	var mean, structural float64
	var err error
	if g.Spectra.Shear, mean, err = f.Shear.terms(); err != nil {
		return l.fail(l.path("shear_relaxation"), hint, "shear_relaxation: %w", err)
	}
	scaled(g.Spectra.Shear, mean)
	g.Relaxation = "own"
	if f.Shear.Long != 0 || f.Structure != nil && f.Structure.Long != 0 {
		return l.fail(l.path("shear_relaxation"), "leave long out", "long: only bulk_relaxation has a part that does not relax")
	}
	if f.Structure != nil {
		if g.Spectra.Structure, structural, err = f.Structure.terms(); err != nil {
			return l.fail(l.path("structural_relaxation"), hint, "structural_relaxation: %w", err)
		}
		scaled(g.Spectra.Structure, structural)
	}
	if b := f.Bulk; b != nil {
		if g.Spectra.Bulk, _, err = b.terms(); err != nil {
			return l.fail(l.path("bulk_relaxation"), hint, "bulk_relaxation: %w", err)
		}
		if !(b.Long > 0 && b.Long < 1) {
			return l.fail(l.path("bulk_relaxation"), "write long = 0.18", "bulk_relaxation: long, the share that does not relax, must lie between 0 and 1")
		}
		scaled(g.Spectra.Bulk, mean)
		g.Spectra.BulkLong = b.Long
	}
	if f.Structure != nil && !g.StructuralModulus.Known() && g.Young.Known() {
		k := g.Young.Number / 2 / (1 + g.Poisson.Number) * mean / structural
		g.StructuralModulus = Value{Number: k, Text: fmt.Sprintf("%.3g GPa", k/1e9), Status: Derived, Note: "from the mean times of shear_relaxation and structural_relaxation"}
	}
	return nil
}
