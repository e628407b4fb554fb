package evidence

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/sim"
	"lehr/anneal/sim/plane"
	"lehr/glass/cases"
)

// problem is one case with what answers it.
type problem struct {
	cases.Case
	answer cases.Compute
}

// unposed are the cases whose answers are no numbers; tests alone pose them.
var unposed = map[string]string{
	"kilnlog.Read":      "how the text of a log is read, which tests hold",
	"measured.Reported": "reported, and the program computes nothing of it",
}

// problems makes a list of everything that is asked. Some cases are asked twice:
// closed forms of the formulas also of the simulation, and finite elements also
// of the bounds by which programs are found.
func problems(list []cases.Case) ([]problem, error) {
	rooms, steps := Rooms(), sim.Steps()
	var long, out []problem
	for _, c := range list {
		if unposed[c.Func] != "" {
			continue
		}
		pkg, name := c.Package()
		f := rooms[pkg][name]
		if f == nil {
			return nil, fmt.Errorf("case %s in %s.toml: nothing computes %s", c.ID, c.File, c.Func)
		}
		p := problem{c, f}
		if pkg == "axial" { // the longest first, so that no processor waits at the end
			long = append(long, p)
		} else {
			out = append(out, p)
		}
		if again := steps[name]; again != nil && pkg == "anneal" {
			c.Func = "step." + name
			out = append(out, problem{c, again})
		}
		if c.Func == "axial.Row" && c.Known == "" && plane.HasBound(c.Inputs) {
			c.Func, c.Bound = "bound.Row", cases.AtLeast
			c.Tolerance.Rel = 0.03 // what the bounds are held to in the tests of package plane
			kept := cases.Values{}
			for key, x := range c.Expected {
				if key != "lag_K" {
					kept[key] = x
				}
			}
			c.Expected = kept
			out = append(out, problem{c, plane.Bounding})
		}
	}
	return append(long, out...), nil
}

// attempt is the T of a case that is posed outside a test.
type attempt struct{ faults []string }

type stop struct{}

func (a *attempt) Helper() {}
func (a *attempt) Error(args ...any) {
	a.faults = append(a.faults, strings.TrimSpace(fmt.Sprintln(args...)))
}
func (a *attempt) Errorf(format string, x ...any) {
	a.faults = append(a.faults, fmt.Sprintf(format, x...))
}
func (a *attempt) Fatal(args ...any)              { a.Error(args...); panic(stop{}) }
func (a *attempt) Fatalf(format string, x ...any) { a.Errorf(format, x...); panic(stop{}) }

// Answer is one case posed and judged.
type Answer struct {
	Case    cases.Case
	Numbers []cases.Number
	Wrong   string // "" if the case is met
}

func (p *problem) solve() (a Answer) {
	a.Case = p.Case
	t := &attempt{}
	defer func() {
		if x := recover(); x != nil {
			if _, ok := x.(stop); !ok {
				if e, ok := x.(runtime.Error); ok {
					t.Error(e.Error())
				} else {
					t.Error(x)
				}
			}
		}
		if len(t.faults) > 0 {
			a.Wrong = fmt.Sprintf("case %s in %s.toml: %s", p.ID, p.File, strings.Join(t.faults, "; "))
		}
	}()
	a.Numbers, a.Wrong = p.Compare(p.answer(t, p.Inputs))
	return a
}

// Run poses every case of the list and returns what came out of the quantities
// whose names hold word. told, if not
// nil, hears after each how many of how many are done; it must bear being
// called from several goroutines. The error is that of ctx, or of a case that
// nothing answers.
func Run(ctx context.Context, list []cases.Case, word string, progress func(done, of int)) (*Report, error) {
	asked, err := problems(list)
	if err != nil {
		return nil, err
	}
	asked = slices.DeleteFunc(asked, func(p problem) bool { return !about(&p.Case, word) })
	answers := make([]Answer, len(asked))
	var count counter
	err = parallel.Each(ctx, len(asked), func(i int) error {
		answers[i] = asked[i].solve()
		if n := count.next(); progress != nil {
			progress(n, len(asked))
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return sumUp(list, answers, word)
}

// ErrNoQuantity says that no quantity has such a word in its name.
var ErrNoQuantity = errors.New("no such quantity")

// About returns the cases of the list that are about a quantity whose name
// holds word; all of them, and those that are not posed, if word is empty.
func About(list []cases.Case, word string) ([]cases.Case, error) {
	if word == "" {
		return list, nil
	}
	asked, err := problems(list)
	if err != nil {
		return nil, err
	}
	wanted := map[string]bool{}
	for i := range asked {
		if about(&asked[i].Case, word) {
			wanted[asked[i].File+"/"+asked[i].ID] = true
		}
	}
	if len(wanted) == 0 {
		return nil, ErrNoQuantity
	}
	return slices.DeleteFunc(slices.Clone(list), func(c cases.Case) bool { return !wanted[c.File+"/"+c.ID] }), nil
}

// about reports whether a number of the case is about such a quantity.
func about(c *cases.Case, word string) bool {
	for key := range c.Expected {
		if q, ok := quantityOf(c.Func, key); !ok || strings.Contains(q.Name, word) {
			return true
		}
	}
	return false
}

// Names returns the names of all quantities.
func Names() (out []string) {
	for _, r := range rules {
		if !slices.Contains(out, r.quantity) {
			out = append(out, r.quantity)
		}
	}
	return out
}
