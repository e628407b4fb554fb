package evidence

import (
	"context"
	"fmt"
	"runtime"
	"strings"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/sim"
	"lehr/anneal/sim/plane"
	"lehr/glass/cases"
)

// pose is one case with what answers it.
type pose struct {
	cases.Case
	answer cases.Compute
}

// unposed are the cases whose answers are no numbers; tests alone pose them.
var unposed = map[string]string{"kilnlog.Read": "how the text of a log is read"}

// poses makes a list of everything that is asked. Some cases are asked twice:
// closed forms of the formulas also of the simulation, and finite elements also
// of the bounds by which programs are found.
func poses(list []cases.Case) ([]pose, error) {
	rooms, steps := Rooms(), sim.Steps()
	var long, out []pose
	for _, c := range list {
		if unposed[c.Func] != "" {
			continue
		}
		pkg, name := c.Package()
		f := rooms[pkg][name]
		if f == nil {
			return nil, fmt.Errorf("case %s in %s.toml: nothing computes %s", c.ID, c.File, c.Func)
		}
		p := pose{c, f}
		if pkg == "axial" { // the longest first, so that no processor waits at the end
			long = append(long, p)
		} else {
			out = append(out, p)
		}
		if again := steps[name]; again != nil && pkg == "anneal" {
			c.Func = "step." + name
			out = append(out, pose{c, again})
		}
		if c.Func == "axial.Row" && c.Known == "" && plane.HasBound(c.Inputs) {
			c.Func, c.Bound = "bound.Row", "at least"
			c.Tolerance.Rel = 0.03 // what the bounds are held to in the tests of package plane
			kept := cases.Values{}
			for key, x := range c.Expected {
				if key != "lag_K" {
					kept[key] = x
				}
			}
			c.Expected = kept
			out = append(out, pose{c, plane.Bounding})
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

func (p *pose) ask() (a Answer) {
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

// Run poses every case of the list and returns what came out. told, if not
// nil, hears after each how many of how many are done; it must bear being
// called from several goroutines. The error is that of ctx, or of a case that
// nothing answers.
func Run(ctx context.Context, list []cases.Case, told func(done, of int)) (*Report, error) {
	asked, err := poses(list)
	if err != nil {
		return nil, err
	}
	answers := make([]Answer, len(asked))
	var count counter
	err = parallel.Each(ctx, len(asked), func(i int) error {
		answers[i] = asked[i].ask()
		if n := count.next(); told != nil {
			told(n, len(asked))
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return sumUp(list, answers)
}
