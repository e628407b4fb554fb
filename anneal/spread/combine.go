package spread

import (
	"fmt"
	"math"
	"sort"
)

// Share is what one property does to one stress at the adverse end of its
// range.
type Share struct {
	Of Unknown
	// Adverse is stress there over expected stress, less 1. Which end is adverse
	// differs from stress to stress. One below zero counts as none: neither end
	// raises this stress.
	Adverse float64
	// Together names a group of properties that move together, as two values of
	// one melt do. Their shares are added before they are squared. Empty: it
	// moves by itself.
	Together string
}

// Alternative is a question of model that nobody can average, such as how
// clear the glass is: one of its answers is true.
type Alternative struct {
	Of      Unknown
	Answers []Answer
}

// Answer is one answer to an Alternative.
type Answer struct {
	Name   string  // a word of the load file, or a name of this program
	Factor float64 // stress under it over expected stress
}

// worst returns the answer that raises the stress most; without one the
// expected.
func (a Alternative) worst() Answer {
	best := Answer{Factor: 1}
	for i, r := range a.Answers {
		if i == 0 || r.Factor > best.Factor {
			best = r
		}
	}
	return best
}

// Combined is a worst case with what it is made of.
type Combined struct {
	// Spread is the root of the sum of the squares of the shares.
	Spread float64
	// Alternatives is the product of the worst factors.
	Alternatives float64
	// Factor is worst case over expected value, (1 + Spread) Alternatives.
	Factor float64
	// Sum and Product are Factor with the shares added and with them
	// multiplied: outer bounds, reached by no glass, and never for a verdict.
	Sum, Product float64
	Parts        []Part // by what they add, most first
}

// Part is one property or alternative of a worst case.
type Part struct {
	Of     Unknown
	Answer string  // the worst one of an alternative, "" for a property
	Share  float64 // stress over expected stress, less 1
	// Costs is by how much Factor would fall if this were known.
	Costs float64
}

// Combine returns the worst case of a stress: independent properties by the
// root of the sum of squares of their shares, alternatives by the worst of
// their answers.
//
// Ranges count as two standard deviations, so about one piece in 44 is worse;
// simulated products of bell-shaped and of flat ranges agree to 4 %.
//
// Source: limits study, sec. 4 [derived].
//
// Errors: a share or a factor that is no finite number, or a factor that is not
// positive.
func Combine(shares []Share, alternatives []Alternative) (Combined, error) {
	groups := map[group]float64{}
	var order []group // one, for the same bits
	c := Combined{Alternatives: 1, Sum: 1, Product: 1}
	for _, s := range shares {
		if math.IsNaN(s.Adverse) || math.IsInf(s.Adverse, 0) {
			return Combined{}, fmt.Errorf("share of %s is no number", s.Of)
		}
		d := max(0, s.Adverse)
		c.Sum += d
		c.Product *= 1 + d
		key := s.group()
		if _, seen := groups[key]; !seen {
			order = append(order, key)
		}
		groups[key] += d
	}
	squares := 0.0
	for _, key := range order {
		squares += groups[key] * groups[key]
	}
	c.Spread = math.Sqrt(squares)
	for _, a := range alternatives {
		for _, r := range a.Answers {
			if !(r.Factor > 0) || math.IsInf(r.Factor, 1) {
				return Combined{}, fmt.Errorf("%s: the factor of %s must be positive and finite", a.Of, r.Name)
			}
		}
		c.Alternatives *= a.worst().Factor
	}
	c.Sum *= c.Alternatives
	c.Product *= c.Alternatives
	c.Factor = (1 + c.Spread) * c.Alternatives
	for _, s := range shares {
		if s.Adverse <= 0 {
			continue
		}
		whole := groups[s.group()]
		rest := whole - s.Adverse
		without := math.Sqrt(max(0, squares-whole*whole+rest*rest))
		c.Parts = append(c.Parts, Part{s.Of, "", s.Adverse, c.Factor - (1+without)*c.Alternatives})
	}
	for _, a := range alternatives {
		if w := a.worst(); w.Factor != 1 {
			c.Parts = append(c.Parts, Part{a.Of, w.Name, w.Factor - 1, c.Factor - c.Factor/w.Factor})
		}
	}
	// Parts that cost the same but for rounding mostly stay in the order given.
	sort.SliceStable(c.Parts, func(i, j int) bool { return float32(c.Parts[i].Costs) > float32(c.Parts[j].Costs) })
	return c, nil
}

// group is what moves together: by its name, or one property alone.
type group struct {
	together string
	alone    Unknown
}

func (s Share) group() group {
	if s.Together != "" {
		return group{together: s.Together}
	}
	return group{alone: s.Of}
}
