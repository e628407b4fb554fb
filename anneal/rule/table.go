package rule

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/formula"
	"lehr/anneal/program"
	"lehr/glass"
	"lehr/glass/unit"
)

// checked returns the request with its defaults set, or says what is missing.
func (q Request) checked(rule string) (Request, error) {
	fail := func(hint, format string, args ...any) (Request, error) {
		return q, &Error{Rule: rule, Reason: fmt.Sprintf(format, args...), hint: hint}
	}
	if q.Glass == nil {
		return fail("name a glass", "no glass given")
	}
	if q.Shape < formula.FormSlab || q.Shape > formula.FormSphere {
		return fail("", "unknown shape %v", q.Shape)
	}
	if !(q.Size > 0) || math.IsInf(float64(q.Size), 1) {
		return fail("give a size above zero", "size %v: must be above zero", q.Size)
	}
	if q.OneFace && q.Shape != formula.FormSlab {
		return fail("", "only a slab cools from one face, not a %v", q.Shape)
	}
	for _, f := range []*float64{&q.TensionFactor, &q.ResidualFactor} {
		if *f == 0 {
			*f = 1
		}
		if !(*f >= 1) || math.IsInf(*f, 1) {
			return fail("", "factor %v: must be at least 1", *f)
		}
	}
	for _, s := range []unit.Stress{q.DesignCooling, q.DesignResidual} {
		if !(s > 0) || math.IsInf(float64(s), 1) {
			return fail("give both stress limits", "design stress %v: must be above zero", s)
		}
	}
	if err := q.Glass.Need("strain_point", "annealing_point", "expansion", "density",
		"young_modulus", "poisson", "conductivity", "specific_heat"); err != nil {
		return q, err
	}
	return q, nil
}

// countsAs says which slab stands for the piece in a table.
func countsAs(q Request, full bool) finding.Finding {
	switch equal := float64(slabFor(q, false) / q.Size); {
	case q.Shape == formula.FormSlab && q.OneFace:
		return finding.Of(finding.CountsOneFace)
	case q.Shape == formula.FormSlab:
		return finding.Of(finding.CountsBothFaces)
	case full:
		return finding.Of(finding.CountsWhole).Counting(equal)
	default:
		return finding.Of(finding.CountsEqual).Counting(equal)
	}
}

// slabFor returns the full thickness of the slab, cooled from both faces, that
// the piece counts as.
func slabFor(q Request, full bool) unit.Length {
	switch {
	case q.Shape == formula.FormSlab && q.OneFace:
		return 2 * q.Size
	case q.Shape == formula.FormSlab || full:
		return q.Size
	case q.Shape == formula.FormCylinder:
		return formula.CylinderAsSlab(q.Size)
	}
	return formula.SphereAsSlab(q.Size, formula.EqualSurfaceStress)
}

// inRange refuses a slab that the rule was not published for.
func (r Rule) inRange(d unit.Length) error {
	const slack = 1e-9
	if d >= r.Smallest*(1-slack) && d <= r.Largest*(1+slack) {
		return nil
	}
	return &glass.RangeError{Quantity: "counted thickness", Value: d, What: "rule " + r.Name,
		Low: r.Smallest, High: r.Largest, Source: r.Source}
}

func (r Rule) applyRows(q Request) (Result, error) {
	t := r.body
	full := q.CountFull || t.CountsFull
	d := slabFor(q, full)
	rows, slower, err := r.group(q.Glass)
	if err != nil {
		return Result{}, err
	}
	oneFace := q.OneFace && len(rows[0].OneFaceRates) > 0
	counts := countsAs(q, full)
	if oneFace {
		d, counts = q.Size, finding.Of(finding.CountsOwnColumn)
	}
	if err := r.inRange(d); err != nil {
		return Result{}, err
	}
	d = min(max(d, r.Smallest), r.Largest)
	row, between := interpolate(rows, d)
	rates, heat := row.Rates, row.Heat
	if oneFace {
		rates, heat = row.OneFaceRates, row.OneFaceHeat
	}
	soak := t.SoakAt
	if soak.IsZero() {
		soak = unit.Kelvin(q.Glass.Anneal.Number).Add(t.SoakAboveAnneal)
	}
	ends := row.To
	if len(ends) == 0 {
		for _, below := range row.BelowStrain {
			ends = append(ends, unit.Kelvin(q.Glass.Strain.Number).Add(-below))
		}
		ends = append(ends, t.Final)
	}
	stages := []Stage{{Purpose: program.PurposeSoak, To: soak, Hold: time.Duration(row.Soak)}}
	for i, purpose := range []program.Purpose{program.PurposeSlow, program.PurposeNext, program.PurposeFinal} {
		stages = append(stages, Stage{Purpose: purpose, Rate: -rates[i] * unit.Rate(slower), To: ends[i]})
	}
	res := Result{Stages: stages, CountsAs: counts, Slab: d, Status: row.Status, HeatRate: heat * unit.Rate(slower)}
	if between {
		res.Assumed.Add(finding.Of(finding.BetweenRows))
	}
	if slower < 1 {
		res.Assumed.Add(finding.Of(finding.TableSlowed).Counting(slower))
	}
	return res, nil
}

// group returns the rows for a glass, and the factor that slows them if it
// expands more than the glass they were published for.
func (r Rule) group(g *glass.Glass) ([]rowText, float64, error) {
	α := g.Expansion.Number
	var rows []rowText
	slower, spans := 1.0, []string{}
	for _, row := range r.body.Row {
		if len(row.ExpansionRange) != 2 {
			rows = append(rows, row)
			continue
		}
		span := fmt.Sprintf("%.2g to %.2g /K", row.ExpansionRange[0], row.ExpansionRange[1])
		if !slices.Contains(spans, span) {
			spans = append(spans, span)
		}
		if α >= row.ExpansionRange[0] && α <= row.ExpansionRange[1] {
			rows = append(rows, row)
			slower = min(1, row.Expansion/α)
		}
	}
	if len(rows) == 0 {
		return nil, 0, &Error{Rule: r.Name,
			Reason: fmt.Sprintf("expansion %.3g /K of %s is in none of its groups (%s)", α, g.Name, strings.Join(spans, ", ")),
			hint:   "use the rule " + Stress + ", which works from the properties of the glass"}
	}
	return rows, slower, nil
}

// interpolate returns the row for a thickness inside the table. Between two
// rows the rate times thickness squared, the soak and the depth below the
// strain point run straight from one to the other; the ranges are those of the
// thicker row. The second answer says so.
func interpolate(rows []rowText, d unit.Length) (rowText, bool) {
	const slack = 1e-6
	for i, row := range rows {
		if math.Abs(float64(d/row.Size-1)) < slack {
			return row, false
		}
		if d > row.Size {
			continue
		}
		thin := rows[max(0, i-1)]
		x := float64((d - thin.Size) / (row.Size - thin.Size))
		mix := func(a, b float64) float64 { return a + (b-a)*x }
		square := func(a, b unit.Rate) unit.Rate {
			return unit.Rate(mix(float64(a)*float64(thin.Size*thin.Size), float64(b)*float64(row.Size*row.Size)) / float64(d*d))
		}
		squares := func(a, b []unit.Rate) []unit.Rate {
			out := make([]unit.Rate, len(b))
			for j := range b {
				out[j] = square(a[j], b[j])
			}
			return out
		}
		out := row
		out.Size = d
		out.Soak = hold(mix(float64(thin.Soak), float64(row.Soak)))
		out.Rates, out.OneFaceRates = squares(thin.Rates, row.Rates), squares(thin.OneFaceRates, row.OneFaceRates)
		out.Heat, out.OneFaceHeat = square(thin.Heat, row.Heat), square(thin.OneFaceHeat, row.OneFaceHeat)
		out.BelowStrain = slices.Clone(row.BelowStrain)
		for j := range out.BelowStrain {
			out.BelowStrain[j] = unit.Delta(mix(float64(thin.BelowStrain[j]), float64(row.BelowStrain[j])))
		}
		if statusRank(thin.Status) > statusRank(row.Status) {
			out.Status = thin.Status
		}
		return out, true
	}
	return rows[len(rows)-1], false
}

// statusRank orders statuses from the best supported to the least.
func statusRank(s string) int {
	return slices.Index([]string{"verified", "corroborated", "quoted", "derived", "common practice", "memory"}, s)
}

func (r Rule) applySoaks(q Request) (Result, error) {
	t := r.body
	full := q.CountFull || t.CountsFull
	d := slabFor(q, full)
	if err := r.inRange(d); err != nil {
		return Result{}, err
	}
	b := NewSteadyBody(q)
	whole := float64(d/t.HoldPer) * 3600
	frozen := unit.Kelvin(q.Glass.Strain.Number).Add(-BelowStrain)
	var stages []Stage
	for i, s := range t.Soak {
		share := s.Share
		if d <= t.ThinUpTo*(1+1e-9) && s.ThinShare > 0 {
			share = s.ThinShare
		}
		st := Stage{Purpose: program.PurposeSoak, To: s.At, Hold: unit.Seconds(share * whole)}
		if i > 0 {
			lim, err := b.allowed(q, stages[i-1].To, s.At)
			if err != nil {
				return Result{}, err
			}
			st.Purpose, st.Rate = program.Purpose(fmt.Sprintf("cool, soak %d", i+1)), -lim.tension
			if frozen.Less(stages[i-1].To) {
				st.Rate = -min(lim.tension, lim.residual)
			}
		}
		stages = append(stages, st)
	}
	last := stages[len(stages)-1].To
	lim, err := b.allowed(q, last, t.Final)
	if err != nil {
		return Result{}, err
	}
	stages = append(stages, Stage{Purpose: program.PurposeFinal, Rate: -lim.tension, To: t.Final})
	return Result{Stages: stages, CountsAs: countsAs(q, full), Slab: d, Assumed: finding.List{
		finding.Of(finding.RampsOfStress), b.assumed}}, nil
}
