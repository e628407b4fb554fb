package rule

import (
	"fmt"
	"math"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/formula"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/glass"
	"lehr/glass/unit"
)

// Stress is the name of the rule that works from the properties of any
// glass: surface tension equals the design stress.
const Stress = "design-stress"

const (
	BelowStrain  = unit.Delta(40) // the slow range ends this far below the strain point
	middleRange  = unit.Delta(50) // and the next one this far below that
	relaxedShare = 0.99           // of the starting stress, at the end of the soak
	EvenOut      = 5              // slowest-mode times for the core to even out
	ShortestSoak = 15 * time.Minute
)

// SteadyBody is a piece as the closed forms see it.
type SteadyBody struct {
	Size           unit.Length // half thickness, full thickness if one face is closed, radius
	Surface, Inner float64     // steady stress at the surface and in the middle, unit Eα/(1−ν)·q l²/κ
	Mode           func(unit.Length, float64) time.Duration
	e              formula.Elastic
	Structural     float64
	assumed        finding.Finding
}

func NewSteadyBody(q Request) SteadyBody {
	g := q.Glass
	b := SteadyBody{e: elasticOf(g)}
	b.Structural, b.assumed = structural(g)
	switch {
	case q.Shape == formula.FormSlab || q.CountFull:
		b.Size, b.Surface, b.Inner, b.Mode = q.Size/2, 1./3, 1./6, formula.SlabSlowestMode
		if q.OneFace {
			b.Size = q.Size
		}
	case q.Shape == formula.FormCylinder:
		b.Size, b.Surface, b.Inner, b.Mode = q.Size/2, 1./8, 1./8, formula.CylinderSlowestMode
	case q.Shape == formula.FormSphere:
		b.Size, b.Surface, b.Inner, b.Mode = q.Size/2, 1./15, 1./15, formula.SphereSlowestMode
	}
	return b
}

// SteadyOf is the body of a piece as the closed forms see it.
func SteadyOf(b piece.Body, g *glass.Glass) SteadyBody {
	return NewSteadyBody(Request{Glass: g, Shape: b.Form, Size: b.Size, OneFace: b.OneFace})
}

// Stress returns n · Eα/(1−ν)·|q| l²/κ.
func (b SteadyBody) Stress(n float64, rate unit.Rate, kappa float64) unit.Stress {
	return unit.Stress(n*math.Abs(float64(rate))) * b.perRate(kappa)
}

// rate returns the rate at which that stress reaches the limit.
func (b SteadyBody) rate(n float64, limit unit.Stress, kappa float64) unit.Rate {
	return unit.Rate(limit / b.perRate(kappa) / unit.Stress(n))
}

// perRate returns Eα/(1−ν) · l²/κ [Pa s/K].
func (b SteadyBody) perRate(kappa float64) unit.Stress {
	return b.e.PerKelvin() * unit.Stress(b.Size*b.Size) / unit.Stress(kappa)
}

// structural returns the structural factor of a glass and what it rests on.
func structural(g *glass.Glass) (float64, finding.Finding) {
	measured := false
	for _, r := range loadRules().rules {
		_, ok := among(g, r.body.AsMeasured)
		measured = measured || ok
	}
	if measured {
		f := 1 / (1 - formula.StructuralShare())
		return f, finding.Of(finding.ResidualRaised).Counting(f).Which(true)
	}
	if !g.ExpansionLiquid.Known() {
		return 1, finding.Of(finding.NotRaised)
	}
	f := formula.StructuralFactor(g.Expansion.Number, g.ExpansionLiquid.Number+g.ExpansionLiquid.Spread)
	return f, finding.Of(finding.ResidualRaised).Counting(f)
}

// Kappa returns the lowest thermal diffusivity between two temperatures [m²/s].
// Beyond the range of conductivity or specific heat their end values stand;
// see beyondRange.
func Kappa(g *glass.Glass, a, b unit.Temp) (float64, error) {
	const samples = 16
	low := math.Inf(1)
	for i := range samples + 1 {
		low = min(low, g.Diffusivity(a.Add(b.Sub(a)*unit.Delta(i)/samples)))
	}
	if !(low > 0) || math.IsInf(low, 1) {
		return 0, &Error{Rule: Stress, Reason: fmt.Sprintf("glass %q has no usable thermal diffusivity", g.Name)}
	}
	return low, nil
}

// beyondRange says which property is used beyond its range by the stages.
func beyondRange(g *glass.Glass, stages []Stage) finding.List {
	var said finding.List
	for _, p := range []struct {
		name string
		glass.Property
	}{{"conductivity", g.Conductivity}, {"specific heat", g.SpecificHeat}} {
		for _, s := range stages {
			if p.Check(s.To) != nil {
				said.Add(finding.OfGlass(finding.PropertyHeld, p.name))
				break
			}
		}
	}
	return said
}

// limits holds what the closed forms allow in one range of temperature.
type limits struct{ tension, residual unit.Rate }

// allowed returns the fastest cooling between two temperatures, as positive
// rates: by the tension at the surface, and by the tension left in the middle
// if the piece freezes there.
func (b SteadyBody) allowed(q Request, from, to unit.Temp) (limits, error) {
	k, err := Kappa(q.Glass, from, to)
	if err != nil {
		return limits{}, err
	}
	return limits{
		tension:  b.rate(b.Surface*q.TensionFactor, q.DesignCooling, k),
		residual: b.rate(b.Inner*b.Structural*q.ResidualFactor, q.DesignResidual, k),
	}, nil
}

// heating returns the greatest heating rate from room temperature to the given
// temperature: the middle is in tension.
func (b SteadyBody) heating(q Request, to unit.Temp) (unit.Rate, error) {
	k, err := Kappa(q.Glass, kiln.OpenAt, to)
	if err != nil {
		return 0, err
	}
	return b.rate(b.Inner*q.TensionFactor, q.DesignCooling, k), nil
}

func (r Rule) applyStress(q Request) (Result, error) {
	b := NewSteadyBody(q)
	soak, strain := unit.Kelvin(q.Glass.Anneal.Number), unit.Kelvin(q.Glass.Strain.Number)
	slowEnd := strain.Add(-BelowStrain)
	middleEnd := slowEnd.Add(-middleRange)
	if !kiln.OpenAt.Less(middleEnd) || !slowEnd.Less(soak) {
		return Result{}, &Error{Rule: r.Name, Reason: "strain point " + strain.String() + " is too low for this rule"}
	}
	hold, err := b.soakTime(q.Glass, soak)
	if err != nil {
		return Result{}, err
	}
	var lim [3]limits
	for i, span := range [3][2]unit.Temp{{soak, slowEnd}, {slowEnd, middleEnd}, {middleEnd, kiln.OpenAt}} {
		if lim[i], err = b.allowed(q, span[0], span[1]); err != nil {
			return Result{}, err
		}
	}
	first := min(lim[0].tension, lim[0].residual)
	second := min(2*first, lim[1].tension)
	stages := func(scale unit.Rate) []Stage {
		return []Stage{
			{Purpose: program.PurposeSoak, To: soak, Hold: hold},
			{Purpose: program.PurposeSlow, Rate: -first * scale, To: slowEnd},
			{Purpose: program.PurposeNext, Rate: -second * scale, To: middleEnd},
			{Purpose: program.PurposeFinal, Rate: -lim[2].tension, To: kiln.OpenAt},
		}
	}
	scale, err := r.slowEnough(q, stages)
	if err != nil {
		return Result{}, err
	}
	heat, err := b.heating(q, soak)
	if err != nil {
		return Result{}, err
	}
	assumed := finding.List{b.assumed, finding.Of(finding.SteadyRates), finding.Of(finding.LowestDiffusivity)}
	if scale < 1 {
		assumed.Add(finding.Of(finding.SlowedRanges).Counting(float64(scale)))
	}
	return Result{Stages: stages(scale), CountsAs: countsAs(q, q.CountFull), Assumed: assumed, HeatRate: heat}, nil
}

// slowEnough returns by which factor the slow ranges must be slowed so that the
// whole cycle keeps to the left stress: 1 unless the piece is so thick that it
// freezes below the slow range.
func (r Rule) slowEnough(q Request, stages func(unit.Rate) []Stage) (unit.Rate, error) {
	keeps := func(scale unit.Rate) (bool, error) {
		_, residual, err := Implied(q, stages(scale))
		return residual <= q.DesignResidual*(1+1e-6), err
	}
	if ok, err := keeps(1); ok || err != nil {
		return 1, err
	}
	low, high := unit.Rate(0.05), unit.Rate(1)
	if ok, err := keeps(low); !ok || err != nil {
		if err == nil {
			err = &Error{Rule: r.Name, Reason: "cannot keep the left stress at " + q.DesignResidual.String(), hint: "allow more, or take a smaller piece"}
		}
		return 0, err
	}
	for range 20 {
		mid := (low + high) / 2
		ok, err := keeps(mid)
		if err != nil {
			return 0, err
		}
		if ok {
			low = mid
		} else {
			high = mid
		}
	}
	return low, nil
}

// soakTime returns the hold that relaxes 99 % of the stress by the six-term
// shape on the slower viscosity curve and then evens out the core.
func (b SteadyBody) soakTime(g *glass.Glass, at unit.Temp) (time.Duration, error) {
	τ, err := SlowestMaxwell(g, at)
	if err != nil {
		return 0, err
	}
	k, err := Kappa(g, at, at)
	if err != nil {
		return 0, err
	}
	return max(ShortestSoak, formula.SixTermSoak(relaxedShare, τ)+EvenOut*b.Mode(b.Size, k)), nil
}

// SlowestMaxwell returns the Maxwell time on the slower viscosity curve.
func SlowestMaxwell(g *glass.Glass, at unit.Temp) (time.Duration, error) {
	curves, err := g.Curves()
	if err != nil {
		return 0, err
	}
	var τ time.Duration
	for _, c := range curves {
		log10, err := c.Log10(at)
		if err != nil {
			return 0, err
		}
		τ = max(τ, formula.MaxwellTime(math.Pow(10, log10), elasticOf(g).Shear()))
	}
	return τ, nil
}

// soakRelaxed returns the share of the stress that a hold relaxes.
func soakRelaxed(g *glass.Glass, s Stage) (float64, error) {
	τ, err := SlowestMaxwell(g, s.To)
	if err != nil {
		return 0, err
	}
	return formula.SixTermRelaxed(s.Hold, τ), nil
}

// elasticOf returns the constants of a glass that the stress formulas need.
func elasticOf(g *glass.Glass) formula.Elastic {
	return formula.Elastic{Young: unit.Stress(g.Young.Number), Poisson: g.Poisson.Number, Expansion: g.Expansion.Number}
}
