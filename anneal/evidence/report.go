package evidence

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"sort"
	"strings"
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
	Cases, Posed int       // cases posed, and how often, as some are posed twice
	Unposed      []Unposed // what is kept beside
	Of           [origins]int
	Lines        []Line
	Known        []Deviations
	Failed       []string
}

// Unposed are the cases that are not posed, by the reason.
type Unposed struct {
	Why   string
	Cases []string
}

// HasBounds reports whether a quantity of the report is a bound.
func (r *Report) HasBounds() bool {
	return slices.ContainsFunc(r.Lines, func(l Line) bool { return l.Bounds })
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

// deviation is how far a number is off, in the unit of its quantity; of a range,
// how far it lies outside.
func deviation(q Quantity, c *cases.Case, n cases.Number) float64 {
	if off := n.Got - n.Want; c.Bound == cases.Between {
		n.Got = n.Want + math.Copysign(max(0, math.Abs(off)-c.Tolerance.Abs), off)
	}
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

// sumUp sums answers up, of the quantities whose name holds a word. What is known
// to deviate is told apart and counts in neither bias nor spread.
func sumUp(list []cases.Case, answers []Answer, word string) (*Report, error) {
	rep := &Report{Posed: len(answers)}
	rep.count(list)
	t := tally{cells: map[string]*cell{}, known: map[string]*Deviations{}}
	for i := range answers {
		a := &answers[i]
		if err := t.count(a, word); err != nil {
			return nil, err
		}
		if a.Wrong != "" {
			rep.Failed = append(rep.Failed, a.Wrong)
		}
	}
	slices.Sort(rep.Failed)
	rep.Lines, rep.Known = t.lines(), t.deviations()
	return rep, nil
}

// count counts the cases that are posed and tells apart those that are not, by
// the reason.
func (r *Report) count(list []cases.Case) {
	beside := map[string]*Unposed{}
	for _, c := range list {
		if why := unposed[c.Func]; why != "" {
			if beside[why] == nil {
				beside[why] = &Unposed{Why: why}
			}
			beside[why].Cases = append(beside[why].Cases, c.ID)
			continue
		}
		r.Cases++
		r.Of[originOf(c.Origin)]++
	}
	for _, why := range slices.Sorted(maps.Keys(beside)) {
		r.Unposed = append(r.Unposed, *beside[why])
	}
}

// cell is one quantity: over all origins, and by each.
type cell struct {
	line Line
	all  sums
	of   [origins]sums
}

// tally is what has been counted so far: by quantity, and what is known to
// deviate by its cause and day.
type tally struct {
	cells map[string]*cell
	known map[string]*Deviations
}

// cell returns the cell of a quantity, empty when it is first asked for.
func (t *tally) cell(q Quantity) *cell {
	c := t.cells[q.Name]
	if c == nil {
		c = &cell{line: Line{Quantity: q}}
		c.all.low = q.Bounds
		for o := range c.of {
			c.of[o].low = q.Bounds
		}
		t.cells[q.Name] = c
	}
	return c
}

// count counts an answer in each quantity that its case has numbers of.
func (t *tally) count(a *Answer, word string) error {
	touched := map[*cell]bool{}
	worst := 0.0
	for _, name := range slices.Sorted(maps.Keys(a.Case.Expected)) {
		q, ok := quantityOf(a.Case.Func, name)
		if !ok {
			return fmt.Errorf("case %s in %s.toml: %s of %s belongs to no quantity", a.Case.ID, a.Case.File, name, a.Case.Func)
		}
		if !strings.Contains(q.Name, word) {
			continue
		}
		c := t.cell(q)
		touched[c] = true
		if a.Case.Known != "" {
			worst = a.farthest(name, worst)
			continue
		}
		c.add(a, name)
	}
	for c := range touched {
		if a.Wrong != "" {
			c.line.Failed++
		}
		if a.Case.Known != "" {
			c.line.Known++
		}
	}
	if a.Case.Known != "" {
		t.deviates(a, worst)
	}
	return nil
}

// add adds the numbers of one name.
func (c *cell) add(a *Answer, name string) {
	for _, n := range a.Numbers {
		if n.Name == name {
			d := deviation(c.line.Quantity, &a.Case, n)
			c.all.add(&a.Case, d)
			c.of[originOf(a.Case.Origin)].add(&a.Case, d)
		}
	}
}

// farthest returns the deviation of that number of one name which is farther off
// than worst [%, of its list], or worst.
func (a *Answer) farthest(name string, worst float64) float64 {
	for _, n := range a.Numbers {
		if n.Name == name && n.Scale > 0 && math.Abs(n.Got-n.Want)/n.Scale > math.Abs(worst)/100 {
			worst = 100 * (n.Got - n.Want) / n.Scale
		}
	}
	return worst
}

// deviates counts a case that is known not to be met.
func (t *tally) deviates(a *Answer, worst float64) {
	key := a.Case.Cause + "\n" + a.Case.Found
	if t.known[key] == nil {
		t.known[key] = &Deviations{Cause: a.Case.Cause, Found: a.Case.Found}
	}
	t.known[key].Cases = append(t.known[key].Cases, Deviation{a.Case.File + "/" + a.Case.ID, a.Case.Source, a.Case.Known, worst})
}

// lines returns the quantities, in the order of the rules.
func (t *tally) lines() (out []Line) {
	for _, c := range t.cells {
		c.line.All = c.all.stats()
		for o := range c.of {
			c.line.Of[o] = c.of[o].stats()
		}
		out = append(out, c.line)
	}
	order := func(name string) int {
		return slices.IndexFunc(rules, func(r struct{ function, key, quantity string }) bool { return r.quantity == name })
	}
	sort.Slice(out, func(i, j int) bool { return order(out[i].Name) < order(out[j].Name) })
	return out
}

// deviations returns what is known to deviate, in order of cause and case.
func (t *tally) deviations() (out []Deviations) {
	for _, key := range slices.Sorted(maps.Keys(t.known)) {
		of := t.known[key].Cases
		sort.Slice(of, func(i, j int) bool { return of[i].Case < of[j].Case })
		out = append(out, *t.known[key])
	}
	return out
}
