package rule

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/formula"
	"lehr/anneal/program"
	"lehr/glass"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// Request is what a rule needs to know of one piece.
type Request struct {
	Glass *glass.Glass
	Shape formula.Form
	// Size is the full thickness of a slab, the diameter of a cylinder or sphere.
	Size unit.Length
	// OneFace says that a slab cools from one face only; it counts as twice its thickness.
	OneFace bool
	// CountFull counts a sphere or cylinder as a slab of its whole diameter
	// instead of the slab with the same surface stress.
	CountFull bool
	// DesignCooling and DesignResidual limit the tension while the piece cools and
	// the tension that stays in it; the stress rule works to them.
	DesignCooling, DesignResidual unit.Stress
	// TensionFactor and ResidualFactor raise the computed stresses for uneven
	// cooling on a shelf and the like (default 1).
	TensionFactor, ResidualFactor float64
}

// Stage is one step of a rule's cycle: a hold if Rate is 0, else a ramp.
type Stage struct {
	Purpose program.Purpose
	Rate    unit.Rate // negative when cooling, 0 = hold
	To      unit.Temp // where the ramp ends, or the temperature held
	Hold    time.Duration
}

// Result is what a rule asks for one piece. The first stage is the soak.
type Result struct {
	Rule   string
	Stages []Stage
	// CountsAs says which slab the piece was taken for, and what the other way of counting gives.
	CountsAs finding.Finding
	// Slab is that thickness, 0 for a rule that takes the shape as it is.
	Slab    unit.Length
	Assumed finding.List
	// ImpliedCooling is the greatest tension in the piece while the stages run,
	// ImpliedResidual the greatest tension left in it, both by the closed forms with
	// the request's factors and the structural factor.
	ImpliedCooling, ImpliedResidual unit.Stress
	// SoakRelaxed is the share of the stress a piece comes with that the first
	// soak relaxes, by the six-term shape on the slower viscosity curve.
	SoakRelaxed    float64
	Source, Status string
	HeatRate       unit.Rate // greatest heating rate the rule allows, 0 = not given
}

// Total returns the time the stages take: all holds, and all ramps after the first stage.
func (r Result) Total() time.Duration {
	var sum float64
	for i, s := range r.Stages {
		sum += s.Hold.Seconds()
		if i > 0 && s.Rate != 0 {
			sum += float64(s.To.Sub(r.Stages[i-1].To)) / float64(s.Rate)
		}
	}
	return unit.Seconds(sum)
}

// Rule is one published or derived way to anneal a piece, with the range it was published for.
type Rule struct {
	Name, Title string
	// Families are the glasses it was published for; empty if it holds for any
	// glass whose properties are known.
	Families []string
	// Smallest and Largest bound the slab thickness the rule was published for;
	// both are 0 for a rule that holds for any thickness.
	Smallest, Largest unit.Length
	// Faces says which faces the source has cooling.
	Faces string
	// Source is the key of the source, Cite its citation.
	Source, Cite string
	Status       string
	Note         string
	// Support is what a rule from memory stands on beside it: what was derived
	// from its numbers, or read elsewhere; a test holds it. Empty for others.
	Support string
	// Deviations are the places where the print contradicts itself and what is done about it.
	Deviations []string

	body *ruleText
}

// Error says why a rule cannot be applied to a piece, or that there is no such rule.
type Error struct {
	Rule   string
	Reason string
	hint   string
}

// Error returns the rule's name and the reason.
func (e *Error) Error() string { return fmt.Sprintf("rule %q: %s", e.Rule, e.Reason) }

// Hint returns one thing to do about it, or "".
func (e *Error) Hint() string { return e.hint }

// All returns every rule, published ones first, in the order of rules.toml.
func All() []Rule { return slices.Clone(loadRules().rules) }

// Find returns the rule of that name, or an *[Error] with the nearest name as its hint.
func Find(name string) (Rule, error) {
	rules := loadRules().rules
	var names []string
	for _, r := range rules {
		if r.Name == name {
			return r, nil
		}
		names = append(names, r.Name)
	}
	hint := strict.DidYouMean(strings.ToLower(name), names, "list them with: lehr rules")
	return Rule{}, &Error{Rule: name, Reason: "no such rule", hint: hint}
}

// Apply returns what the rule asks for the piece.
//
// Errors: *glass.RangeError if the piece is outside the thickness the rule was
// published for or its viscosity is not known at a temperature the rule needs;
// *[Error] if the rule is for another glass or the request makes no sense;
// *glass.MissingError if a property it needs is not known.
func (r Rule) Apply(q Request) (Result, error) {
	if r.body == nil {
		return Result{}, &Error{Rule: r.Name, Reason: "not a rule of this package", hint: "take it from Rules or FindRule"}
	}
	q, err := q.checked(r.Name)
	if err != nil {
		return Result{}, err
	}
	like, ok := among(q.Glass, r.Families)
	if len(r.Families) > 0 && !ok {
		return Result{}, &Error{Rule: r.Name,
			Reason: fmt.Sprintf("published for %s, not for %s", strings.Join(r.Families, ", "), q.Glass.Name),
			hint:   "use the rule " + Stress + ", which works from the properties of the glass"}
	}
	var res Result
	switch r.body.Kind {
	case kindRows:
		res, err = r.applyRows(q)
	case kindSoaks:
		res, err = r.applySoaks(q)
	case kindStress:
		res, err = r.applyStress(q)
	default:
		err = errors.New("unknown kind " + r.body.Kind)
	}
	if err != nil {
		return Result{}, err
	}
	res.Rule, res.Source = r.Name, r.Cite
	if res.Status == "" {
		res.Status = r.Status
	}
	if like != "" {
		res.Assumed.Add(finding.OfGlass(finding.TakenFor, q.Glass.Name).Family(like))
	}
	res.Assumed = append(res.Assumed, beyondRange(q.Glass, res.Stages)...)
	if res.SoakRelaxed, err = soakRelaxed(q.Glass, res.Stages[0]); err != nil {
		return Result{}, err
	}
	if res.ImpliedCooling, res.ImpliedResidual, err = Implied(q, res.Stages); err != nil {
		return Result{}, err
	}
	res.CountsAs.Rule = r.Name
	for i := range res.Assumed {
		res.Assumed[i].Rule = r.Name
	}
	return res, nil
}

// among reports whether a glass is one of the families: by its name, or as a
// glass of one's own that is like one of them, anneals within 10 K of it and
// expands within 5 % of it. In the second case it names the family.
func among(g *glass.Glass, families []string) (like string, ok bool) {
	if slices.Contains(families, g.Name) {
		return "", true
	}
	if g.Like == "" || !slices.Contains(families, g.Like) {
		return "", false
	}
	family, err := glass.Find(g.Like)
	if err != nil || math.Abs(g.Anneal.Number-family.Anneal.Number) > 10 ||
		math.Abs(g.Expansion.Number/family.Expansion.Number-1) > 0.05 {
		return "", false
	}
	return g.Like, true
}
