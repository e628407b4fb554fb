package evidence

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"sync/atomic"

	"lehr/glass/cases"
)

// Origin is a kind of place that expected numbers come from.
type Origin int

const (
	Published Origin = iota
	ClosedForm
	GeneralCode
	Derived
	origins
)

func (o Origin) String() string {
	return [...]string{"published", "closed form", "general-purpose code", "derived here"}[o]
}

func originOf(word string) Origin {
	switch word {
	case "closed-form":
		return ClosedForm
	case "general-code":
		return GeneralCode
	case "computed-here":
		return Derived
	}
	return Published
}

// Stats say how numbers deviate, in the unit of their quantity. Bias is the
// mean, spread the standard deviation about it.
type Stats struct {
	Cases, Numbers int
	Bias, Spread   float64
	Worst          float64 // the deviation farthest from zero; of bounds, the lowest
	WorstCase      string  // its case
}

// Line is one quantity.
type Line struct {
	Quantity
	All    Stats
	Of     [origins]Stats
	Failed int // cases that are not met
	Known  int // cases that deviate as they are known to
}

// Deviations are the known deviations of one cause, found on one day.
type Deviations struct {
	Cause, Found string
	Cases        []Deviation
}

// Deviation is one case that is known not to be met.
type Deviation struct {
	Case, Source, Words string
	Worst               float64 // deviation of the number that is farthest off [%, of its list]
}

// Report is what came out.
type Report struct {
	Cases, Posed int // cases posed, and how often, as some are posed twice
	Unposed      int
	Of           [origins]int
	Lines        []Line
	Known        []Deviations
	Failed       []string
}

type counter struct{ n atomic.Int64 }

func (c *counter) next() int { return int(c.n.Add(1)) }

// sums collects the deviations of one quantity and origin.
type sums struct {
	d     []float64
	cases map[string]bool
	worst float64
	where string
	low   bool
}

func (s *sums) add(c *cases.Case, d float64) {
	if s.cases == nil {
		s.cases = map[string]bool{}
	}
	id := c.File + "/" + c.ID
	s.cases[id] = true
	if len(s.d) == 0 || !s.low && math.Abs(d) > math.Abs(s.worst) || s.low && d < s.worst {
		s.worst, s.where = d, id
	}
	s.d = append(s.d, d)
}

func (s *sums) stats() Stats {
	out := Stats{Cases: len(s.cases), Numbers: len(s.d), Worst: s.worst, WorstCase: s.where}
	for _, d := range s.d {
		out.Bias += d / float64(len(s.d))
	}
	for _, d := range s.d {
		out.Spread += (d - out.Bias) * (d - out.Bias)
	}
	if len(s.d) > 1 {
		out.Spread = math.Sqrt(out.Spread / float64(len(s.d)-1))
	}
	return out
}

// deviation is how far a number is off, in the unit of its quantity.
func deviation(q Quantity, n cases.Number) float64 {
	switch {
	case q.Unit != "%":
		return n.Got - n.Want
	case q.Bounds && n.Want != 0:
		return 100 * (n.Got/n.Want - 1)
	case n.Scale > 0:
		return 100 * (n.Got - n.Want) / n.Scale
	}
	return 100 * n.Got // nothing is expected: the case judges it
}

// sumUp sums answers up. What is known to deviate is told apart and counts in
// neither bias nor spread.
func sumUp(list []cases.Case, answers []Answer) (*Report, error) {
	rep := &Report{Posed: len(answers)}
	for _, c := range list {
		if unposed[c.Func] != "" {
			rep.Unposed++
			continue
		}
		rep.Cases++
		rep.Of[originOf(c.Origin)]++
	}
	type cell struct {
		line Line
		all  sums
		of   [origins]sums
	}
	cells := map[string]*cell{}
	known := map[[2]string]*Deviations{}
	for i := range answers {
		a := &answers[i]
		var touched []*cell
		worst := 0.0
		for _, name := range slices.Sorted(maps.Keys(a.Case.Expected)) {
			q, ok := quantityOf(a.Case.Func, name)
			if !ok {
				return nil, fmt.Errorf("case %s in %s.toml: %s of %s belongs to no quantity", a.Case.ID, a.Case.File, name, a.Case.Func)
			}
			c := cells[q.Name]
			if c == nil {
				c = &cell{line: Line{Quantity: q}}
				c.all.low = q.Bounds
				for o := range c.of {
					c.of[o].low = q.Bounds
				}
				cells[q.Name] = c
			}
			if !slices.Contains(touched, c) {
				touched = append(touched, c)
			}
			for _, n := range a.Numbers {
				if n.Name != name {
					continue
				}
				if a.Case.Known != "" {
					if n.Scale > 0 && math.Abs(n.Got-n.Want)/n.Scale > math.Abs(worst)/100 {
						worst = 100 * (n.Got - n.Want) / n.Scale
					}
					continue
				}
				d := deviation(q, n)
				c.all.add(&a.Case, d)
				c.of[originOf(a.Case.Origin)].add(&a.Case, d)
			}
		}
		for _, c := range touched {
			if a.Wrong != "" {
				c.line.Failed++
			}
			if a.Case.Known != "" {
				c.line.Known++
			}
		}
		if a.Wrong != "" {
			rep.Failed = append(rep.Failed, a.Wrong)
		}
		if a.Case.Known != "" {
			key := [2]string{a.Case.Cause, a.Case.Found}
			if known[key] == nil {
				known[key] = &Deviations{Cause: key[0], Found: key[1]}
			}
			known[key].Cases = append(known[key].Cases, Deviation{a.Case.File + "/" + a.Case.ID, a.Case.Source, a.Case.Known, worst})
		}
	}
	for _, c := range cells {
		c.line.All = c.all.stats()
		for o := range c.of {
			c.line.Of[o] = c.of[o].stats()
		}
		rep.Lines = append(rep.Lines, c.line)
	}
	order := func(name string) int {
		return slices.IndexFunc(rules, func(r struct{ function, key, quantity string }) bool { return r.quantity == name })
	}
	slices.SortFunc(rep.Lines, func(a, b Line) int { return cmp.Compare(order(a.Name), order(b.Name)) })
	for _, key := range slices.SortedFunc(maps.Keys(known), func(a, b [2]string) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) }) {
		slices.SortFunc(known[key].Cases, func(a, b Deviation) int { return cmp.Compare(a.Case, b.Case) })
		rep.Known = append(rep.Known, *known[key])
	}
	slices.Sort(rep.Failed)
	return rep, nil
}
