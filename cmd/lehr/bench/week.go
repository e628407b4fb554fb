package bench

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/notebook"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/anneal/week"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// OrderExample is a file that names every key of an order.
const OrderExample = `  from  = "2026-11-26"       # the first night; nights = 7 by default
  start = "22:00"
  glass = "borosilicate-33"
  gap   = "20mm"             # between two pieces
  [[kiln]]
  name   = "big"
  shelf  = "300mm x 300mm"   # the part that heats evenly
  height = "150mm"           # above it
  empty  = "1 h"             # from the end until it can begin again
  not    = ["2026-11-28"]    # nights on which it is not free
  studio = "big.toml"        # its studio file, if it has one of its own
  [[piece]]
  what     = "sphere 2.5in"
  count    = 30
  ready_by = "2026-11-29"    # or "2026-11-29 8:00"`

// load is what lies in a firing.
func (o *order) load(counts []int) *piece.Load {
	l := &piece.Load{Name: o.name, Into: o.into, Start: &o.start}
	for i, n := range counts {
		if n > 0 {
			p := o.pieces[i]
			p.Count = n
			l.Pieces = append(l.Pieces, p)
		}
	}
	return l
}

// mostPlanned is how many kinds lie at most in the sets that the planner is asked
// about. A kind in a set takes about a thirtieth of a second, if no closed form
// refuses the set.
const mostPlanned = 240

// errTogether is why kinds stay apart of which every program fails.
var errTogether = errors.New("together they do not keep the limits, or cannot be judged")

// share asks the planner whether kinds share a program.
func (o *order) share(ctx context.Context, k int, kinds []int) (hours time.Duration, apart, err error) {
	if o.planned+len(kinds) > mostPlanned && len(kinds) > 1 {
		return 0, week.ErrUnasked, nil
	}
	counts := make([]int, len(o.kinds))
	for _, i := range kinds {
		counts[i] = o.kinds[i].Count
	}
	rep, err := plan.Plan(ctx, o.load(counts), o.studios[k], plan.Options{})
	var conflict *plan.ConflictError
	if !errors.As(err, &conflict) {
		o.planned += len(kinds)
	}
	var slow *kiln.SlowError
	var many *plan.SegmentsError
	switch {
	case conflict != nil, errors.As(err, &slow), errors.As(err, &many):
		return 0, err, nil
	case err != nil:
		return 0, nil, err
	case rep.Verdict() != verify.WithinLimits && len(kinds) > 1:
		return 0, errTogether, nil
	case rep.Verdict() != verify.WithinLimits:
		o.over[[2]int{o.kilns[k].Heat, kinds[0]}] = true
	}
	// Up to the whole minute, as everything here is shown.
	return (rep.Actual.Total() + time.Minute - 1).Truncate(time.Minute), nil, nil
}

// apartText says why kinds do not share a program.
func (o *order) apartText(why error) string {
	var c *plan.ConflictError
	if errors.As(why, &c) {
		return words.AboutLoad(c.Load, o.studios[0].Units).Joined(c.Reasons)
	}
	return why.Error()
}

// Week is lehr week: the order in the named file over nights and kilns; cards is
// the folder into which a load file goes for each firing.
func Week(ctx context.Context, a *desk.App, name, cards, glassFile string) error {
	o, err := readOrder(a, name, glassFile)
	if err != nil {
		return err
	}
	line := &desk.Progress{App: a}
	plan, err := week.Make(ctx, o.kinds, o.kilns, o.gap, week.How{
		Share:    func(k int, kinds []int) (time.Duration, error, error) { return o.share(ctx, k, kinds) },
		Progress: func(p week.Progress) { line.Tell(weekProgress(p)) },
	})
	line.End()
	var alone *week.AloneError
	if errors.As(err, &alone) {
		err = fmt.Errorf("%s: cannot be fired even alone: %s", alone.What, o.apartText(alone.Why))
	}
	if err != nil {
		return fmt.Errorf("%s: %w", desk.ShownName(name), err)
	}
	if cards != "" {
		if err := saveCards(a, o, plan, cards); err != nil {
			return err
		}
	}
	sys := o.studios[0].Units
	if a.JSON {
		err = weekJSON(a, o, plan)
	} else {
		err = showWeek(a, o, plan, sys)
	}
	if err != nil {
		return err
	}
	left := 0
	for _, n := range plan.Left {
		left += n
	}
	return desk.OverIf(left > 0 || len(plan.Late) > 0 || o.anyOver(plan))
}

// weekProgress says how far the plan of an order is.
func weekProgress(p week.Progress) string {
	text := fmt.Sprintf("packing: %d sets of kinds planned", p.Sets)
	if p.Firings > 0 {
		text += ", " + term.Counted(p.Firings, "firing") + " so far (Ctrl-C takes it)"
	}
	return text
}

// isOver reports whether the program of a firing does not keep its limits.
func (o *order) isOver(f week.Firing) bool {
	for i, n := range f.Counts {
		if n > 0 && o.over[[2]int{o.kilns[f.Kiln].Heat, i}] {
			return true
		}
	}
	return false
}

func (o *order) anyOver(plan *week.Plan) bool { return slices.ContainsFunc(plan.Firings, o.isOver) }

// saveCards writes a load file for each night, all or none, into a folder that is
// made if there is none. Kilns may be called by names that make one name of a file,
// as "big one" and "big-one": then it is numbered.
func saveCards(a *desk.App, o *order, plan *week.Plan, folder string) error {
	if _, err := desk.EnsureFolder(folder); err != nil {
		return err
	}
	taken := map[string]bool{}
	for _, f := range plan.Firings {
		name := ""
		for n := 1; n == 1 || taken[name]; n++ {
			name = notebook.FileName(f.Start, o.kilns[f.Kiln].Name, n)
		}
		taken[name] = true
		file := outfile.File{Flag: "--cards", Name: filepath.Join(folder, name), Kind: outfile.TOML, What: "load"}
		if err := a.Files.Put(file, o.card(f)); err != nil {
			return err
		}
	}
	return nil
}

// card writes a firing as a load file.
func (o *order) card(f week.Firing) []byte {
	var b strings.Builder
	q := strict.Quote
	name := o.kilns[f.Kiln].Name + ", " + f.Start.Format(dayForm)
	if o.name != "" {
		name = o.name + ", " + name
	}
	fmt.Fprintf(&b, "# One night of an order. lehr plan takes this file.\nname = %s\nstart = %s\ninto = %s\n", q(name), q(o.start.String()), q(string(o.into)))
	for i, n := range f.Counts {
		if n == 0 {
			continue
		}
		p := o.pieces[i]
		fmt.Fprintf(&b, "\n[[piece]]\nwhat = %s\ncount = %d\nglass = %s\n", q(p.What), n, q(p.Glass.Name))
		if p.Resting != piece.OnShelf {
			fmt.Fprintf(&b, "resting = %s\n", q(string(p.Resting)))
		}
		if p.LongestSoak > 0 {
			fmt.Fprintf(&b, "longest_soak = %s\n", q(unit.Duration(p.LongestSoak).String()))
		}
		if !p.HottestSoak.IsZero() {
			fmt.Fprintf(&b, "hottest_soak = %s\n", q(p.HottestSoak.String()))
		}
		if p.Note != "" {
			fmt.Fprintf(&b, "note = %s\n", q(p.Note))
		}
	}
	return []byte(b.String())
}
