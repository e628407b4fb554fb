package verify

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sort"

	"lehr/anneal/finding"
	"lehr/anneal/internal/parallel"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/sim"
	"lehr/anneal/spread"
	"lehr/glass"
	"lehr/glass/unit"
)

// coolToOpen is up to where opening the kiln is not computed: the step to the
// room is then smaller than those a program makes.
var coolToOpen = unit.Celsius(60)

// The opening of a kiln: its air falls to the room in half a minute, and the
// piece is watched for an hour, by when a thick one too has seen its worst.
const (
	openingFall  = 30.0   // [s]
	openingWatch = 3600.0 // [s]
)

// openAir is the heat transfer of a piece in a kiln that stands open [W/m²K].
//
// Source: common practice, the upper end of handbook values for free
// convection; radiation is added.
const openAir = 10.0

// opensAt returns the reading at which the kiln is opened when the program has
// ended. ok is false when that is cool, or when the kiln stays closed and falls
// further by itself.
func (f firing) opensAt(st kiln.Studio) (at unit.Temp, ok bool) {
	last := f.schedule.Segments[len(f.schedule.Segments)-1].To
	return last, f.cools && f.into != piece.WarmOnly && coolToOpen.Less(last) && last.Sub(st.Opening) <= 1
}

// open simulates opening the kiln at the end of the program in average glass, and
// books the greatest tension that this causes in each piece, with the worst case
// that was found for the program. Before its last soak a replay may have been pulled in
// quite another way, so that its worst case is found for what comes after, and is no less
// than that of the opening itself; like has those that were found for a like one.
func (f firing) open(ctx context.Context, reports, like []PieceReport, settings sim.Settings) error {
	first := map[piece.ThermalKey]int{}
	var different []int
	for i, r := range reports {
		if _, seen := first[r.Piece.ThermalKey()]; !seen {
			first[r.Piece.ThermalKey()] = i
			different = append(different, i)
		}
	}
	err := parallel.Each(ctx, len(different), func(n int) error {
		r := &reports[different[n]]
		var why *spread.Combined
		switch {
		case !f.replayed:
			why = &r.Tension.Why
		case like != nil:
			why = &like[different[n]].Opening.Why
		}
		for _, off := range f.offsets {
			l, n, err := f.opened(r.group, off, settings, why)
			if err != nil {
				return fmt.Errorf("%s: opening the kiln: %w", r.Piece.What, err)
			}
			p := r.group.pairs.within(f.limits)
			for i := n; i < len(l.middle.surface.bySpan); i++ {
				h := l.span(i, p)
				r.Opened = max(r.Opened, h.worst)
				if b := tensionOf(h); b.Use > r.Opening.Use {
					r.Opening = b
				}
			}
		}
		return nil
	})
	for i := range reports {
		if j := first[reports[i].Piece.ThermalKey()]; i != j {
			reports[i].Opened, reports[i].Opening = reports[j].Opened, reports[j].Opening
		}
	}
	return err
}

// opened runs the program with the kiln opened at its end. n is the first span
// between kinks in which it is open. The worst case is found for that where it is not
// known.
func (f firing) opened(g *Group, off float64, settings sim.Settings, why *spread.Combined) (l loads, n int, err error) {
	mark, _, _ := f.soakMark(g.Piece)
	p := f.problem(g, off, mark)
	p.Surface = openSurface(g.Piece.Glass)
	n = len(p.Kiln.Kinks)
	end := p.Kiln.Kinks[n-1]
	program, room := p.Kiln.At, f.room.Kelvin()
	hot := program(end)
	p.Kiln.At = func(t float64) float64 {
		if t <= end {
			return program(t)
		}
		return hot + (room-hot)*math.Min(1, (t-end)/openingFall)
	}
	p.Kiln.Kinks = append(append([]float64(nil), p.Kiln.Kinks...), end+openingFall, end+openingFall+openingWatch)
	if why != nil {
		l, err = g.loads(p, settings, &factors{surface: *why, inside: *why, residual: *why, residualSurface: *why, markLag: 1, maxLag: 1}, false)
		return l, n, err
	}
	if l, err = g.loads(p, settings, nil, false); err != nil {
		return l, n, err
	}
	soaked := sort.SearchFloat64s(p.Kiln.Kinks[:n], mark+rounding)
	if soaked == n { // it never was
		soaked = 0
	}
	before, err := l.between(g, soaked, n)
	if err != nil {
		return l, n, err
	}
	if l, err = l.between(g, n, len(p.Kiln.Kinks)); err != nil {
		return l, n, err
	}
	pairs := g.pairs.within(f.limits)
	most := tightest(before.surface(pairs), before.inside(pairs), before.even(pairs)).why
	for _, c := range []*spread.Combined{&l.worst.surface, &l.worst.inside} {
		if most.Factor > c.Factor {
			*c = most
		}
	}
	return l, n, nil
}

// openSurface is how a piece loses heat in the open. It is used for the whole
// program, which it changes little: a piece follows the kiln a little closer.
func openSurface(g *glass.Glass) sim.Surface {
	s := piece.Surface(g)
	s.Follows, s.HeatTransfer = false, openAir
	if s.Emissivity == 0 {
		s.Emissivity = piece.UsualEmissivity
	}
	return s
}

// noteOpened says what opening does to the piece that it brings nearest to its
// limits, whether it is within them or not.
func (rep *Report) noteOpened(at unit.Temp) {
	worst := 0
	for i := range rep.Pieces {
		if rep.Pieces[i].Opening.Use > rep.Pieces[worst].Opening.Use {
			worst = i
		}
	}
	b := rep.Pieces[worst].Opening
	rep.Notes.First(finding.OfPiece(finding.OpenedAt, worst).At(at).Pulled(b.Worst, b.Pair.Worst).Also(b.Expected, b.Pair.Expected))
	rep.Assumptions.Add(finding.Of(finding.OpeningComputed).Counting(openAir))
}

// Closed returns the program with the kiln left closed after it, to fall by itself
// until it reads a temperature.
func (rep *Report) Closed(to unit.Temp) program.Schedule {
	s := rep.Schedule
	s.Segments = append(slices.Clone(s.Segments), program.Segment{Purpose: program.PurposeOff, To: to, Full: true, Off: true})
	for i := range s.Segments {
		if s.Segments[i].Full {
			s.Segments[i].Rate = 0 // what the kiln was taken to do
		}
	}
	return s
}

// closed are the firings that end at a reading for the kiln of a report: by its own
// fall if it was measured, else by that of each that it may be, and as the last ramp
// of the program would go on, which is how a longer one is computed.
//
// Errors: those of [program.Schedule.Fulfilled].
func (rep *Report) closed(to unit.Temp) (out []firing, err error) {
	add := func(s program.Schedule, st kiln.Studio) {
		if s, err2 := s.Fulfilled(st); err2 != nil {
			err = err2
		} else {
			out = append(out, newFiring(s, st, rep.Load, rep.Limits))
		}
	}
	s, st := rep.Closed(to), rep.Studio
	if st.Kiln.Measured && len(rep.Kilns) == 0 {
		add(s, st)
		return out, err
	}
	if n := len(s.Segments) - 2; !st.Kiln.Measured && s.Segments[n].Rate < 0 {
		on := s
		on.Segments = slices.Clone(s.Segments)
		on.Segments[n+1] = program.Segment{Purpose: s.Segments[n].Purpose, Rate: s.Segments[n].Rate, To: to}
		add(on, st)
	}
	st.Kiln.Measured = true
	for _, st.Kiln.Fall.TimeConstant = range kiln.Falls() {
		add(s, st)
	}
	return out, err
}

// overOpened reports whether opening the kiln takes a piece over a limit that it keeps
// without. A margin that a planner leaves does not count.
func (r PieceReport) overOpened(l kiln.Limits) bool {
	r.Opening.toWhole(l.Share())
	shut := r
	shut.Opening, shut.Opened = Tension{}, 0
	r.judge(l)
	shut.judge(l)
	return r.Over.Has(finding.OverOpening) || r.Verdict() > shut.Verdict()
}

// opensOver reports whether opening the kiln at a reading takes a piece over a limit,
// the kiln left closed after the program until then in each of these firings; anew says
// that the worst case is found for that, not taken from the report.
func (rep *Report) opensOver(ctx context.Context, at unit.Temp, closed func(to unit.Temp) ([]firing, error), anew bool) (bool, error) {
	firings, err := closed(at)
	if err != nil {
		return false, err
	}
	for _, f := range firings {
		f.bodies = true // those of the program
		pieces, err := f.simulateAll(ctx, rep.Load.Pieces, sim.Settings{}, rep, anew && !f.replayed)
		if err == nil {
			err = ctx.Err()
		}
		if err == nil {
			var like []PieceReport
			if !anew {
				like = rep.Pieces
			}
			err = f.open(ctx, pieces, like, sim.Settings{})
		}
		if err != nil {
			return false, f.placed(err)
		}
		for _, r := range pieces {
			if r.overOpened(rep.Limits) {
				return true, nil
			}
		}
	}
	return false, nil
}

// roundReadings are the readings of a display between those of which opening is not
// computed and the end of a program, 5 °C or 10 °F apart, the coolest first.
func roundReadings(end unit.Temp, s unit.System) (out []unit.Temp) {
	cool, step, temp := coolToOpen.Celsius(), 5.0, unit.Celsius
	if s == unit.US {
		cool, step, temp = coolToOpen.Fahrenheit(), 10, unit.Fahrenheit
	}
	for n := math.Floor(cool/step + rounding); ; n++ {
		switch t := temp(n * step); {
		case end.Sub(t) <= rounding:
			return out
		case coolToOpen.Less(t):
			out = append(out, t)
		}
	}
}

// of is the report of some of its pieces.
func (rep *Report) of(which func(i int) bool) *Report {
	out, load := *rep, *rep.Load
	out.Load, out.Pieces, load.Pieces = &load, nil, nil
	for i, r := range rep.Pieces {
		if which(i) {
			out.Pieces, load.Pieces = append(out.Pieces, r), append(load.Pieces, r.Piece)
		}
	}
	return &out
}

// noteClosed names the highest reading at which opening the kiln keeps every limit,
// where it does not at the end of the program. For a replay see [KeptClosed].
func (rep *Report) noteClosed(ctx context.Context) error {
	if rep.Replayed {
		return nil
	}
	return rep.keepClosed(ctx, rep.Studio.Kiln.Measured && len(rep.Kilns) == 0, rep.closed)
}

// keepClosed does so by the firings that end at a reading; measured says that there is
// one such kiln. Opened cooler a piece bears less, so that half of the readings need no
// look each time.
func (rep *Report) keepClosed(ctx context.Context, measured bool, closed func(to unit.Temp) ([]firing, error)) error {
	opened, over := rep.Notes.Find(finding.OpenedAt)
	if !over {
		return nil
	}
	// Of the pieces over a limit there the worst is followed; the others bear cooler what
	// they bear there.
	tooMuch := func(i int) bool { return rep.Pieces[i].overOpened(rep.Limits) }
	some, worst := rep.of(tooMuch), rep.of(func(i int) bool { return i == opened.Piece && tooMuch(i) })
	if len(some.Pieces) == 0 {
		return nil
	}
	if len(worst.Pieces) == 0 {
		worst = some
	}
	end, k := rep.Schedule.Last(), rep.Studio.Kiln
	readings := roundReadings(end, rep.Studio.Controller.Units)
	var err error
	n := sort.Search(len(readings), func(i int) bool {
		if err != nil {
			return true
		}
		var over bool
		over, err = worst.opensOver(ctx, readings[i], closed, false)
		return over
	})
	for ; err == nil && n > 0; n-- {
		if over, err = some.opensOver(ctx, readings[n-1], closed, true); !over {
			break
		}
	}
	if err != nil {
		return err
	}
	f := finding.OfPiece(finding.KeepClosed, opened.Piece).Which(measured)
	switch {
	case n > 0:
		f = f.At(readings[n-1]).Lasting(unit.WholeMinutes(k.Fall.Alone(end, readings[n-1])), 0)
		f.Limit = readings[0]
	case len(readings) > 0:
		f.Limit = readings[0]
	default:
		f.Limit = end
	}
	rep.Notes.First(f)
	return nil
}
