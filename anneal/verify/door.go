package verify

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"lehr/anneal/evening"
	"lehr/anneal/finding"
	"lehr/anneal/internal/parallel"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/sim"
	"lehr/anneal/spread"
	"lehr/glass/unit"
)

// AtDoor is the greatest tension in a piece that one opening of the hot kiln
// before the program causes.
type AtDoor struct {
	At time.Duration // when it opened, in time of the program: zero or below
	Bears
}

// worstDoor is the opening that brings the piece nearest to a limit, the zero
// value if there is none.
func (r *PieceReport) worstDoor() (worst AtDoor) {
	for _, d := range r.Doors {
		if d.Use > worst.Use {
			worst = d
		}
	}
	return worst
}

// Evening simulates the openings of the hot kiln before the program in the pieces
// that lie in it by then, and judges the greatest tension of each by the limits of
// the report. Without a word of a door it does nothing. A piece that goes in sees
// none of its own opening: it comes from the air.
//
// Each piece starts even with the kiln, or as hot as somebody said. What the
// openings leave in it does not count on: above the annealing point it is gone in
// minutes, and below the strain point little was set.
//
// Valid: openings up to [kiln.LongestOpen], at most to the start of the program.
//
// Errors: *kiln.DipError for a dip below the room, *evening.OpeningError for
// openings that cannot be, and that of the context.
func Evening(ctx context.Context, rep *Report) error {
	openings, ok := rep.Load.Openings(rep.Studio.Door)
	if !ok || rep.Replayed {
		return nil
	}
	door := rep.Load.Door.Or(rep.Studio.Door)
	from, room := rep.Schedule.From, rep.Studio.Kiln.Fall.Room
	if err := door.CheckDip(from, room); err != nil {
		return fmt.Errorf("an opening of the hot kiln: dip %w", err)
	}
	f := newFiring(rep.Schedule, rep.Studio, rep.Load, rep.Limits)
	first := map[piece.ThermalKey]int{}
	var different []int
	for i, r := range rep.Pieces {
		if _, seen := first[r.Piece.ThermalKey()]; !seen {
			first[r.Piece.ThermalKey()] = i
			different = append(different, i)
		}
	}
	err := parallel.Each(ctx, len(different), func(n int) (err error) {
		r := &rep.Pieces[different[n]]
		for _, off := range f.offsets {
			if err := f.doors(r, openings, off); err != nil {
				return fmt.Errorf("%s: opening the kiln before the program: %w", r.Piece.What, err)
			}
		}
		return nil
	})
	var bad *evening.OpeningError
	if errors.As(err, &bad) {
		return fmt.Errorf("an opening of the hot kiln: %w", bad)
	}
	if err != nil {
		return err
	}
	for i := range rep.Pieces {
		r := &rep.Pieces[i]
		if j := first[r.Piece.ThermalKey()]; i != j {
			r.Doors = slices.Clone(rep.Pieces[j].Doors)
		}
		if len(r.Doors) > 0 {
			r.judge(rep.Limits)
		}
	}
	rep.noteDoors(openings, door)
	return nil
}

// afterDoor is how long a piece is watched after an opening is over.
const afterDoor = 5 * time.Minute

// doors simulates one piece from when it went in until the last opening is over,
// at a place in the kiln, and keeps the worse of what is known and that.
func (f firing) doors(r *PieceReport, openings []evening.Opening, off float64) error {
	in := r.Piece.In
	var seen []evening.Opening
	for _, o := range openings {
		if o.At > -in && o.At <= 0 {
			seen = append(seen, o)
		}
	}
	if len(seen) == 0 || r.Piece.Textbook {
		return nil
	}
	last := seen[len(seen)-1]
	_, _, gone := last.Depth(f.schedule.From, f.room)
	place := f.place(off)
	c, err := kiln.NewCurve(f.untilProgram(in, max(time.Minute, last.At+gone+afterDoor), place))
	if err != nil {
		return err
	}
	skin, err := evening.Seen(c, f.room, seen)
	if err != nil {
		return err
	}
	p := f.problem(r.group, off, 0)
	from := p.Start(0)
	if !r.Piece.Core.IsZero() && !r.Piece.Even {
		from = r.Piece.Core.Kelvin()
	}
	p.Start = func(float64) float64 { return from }
	shift := in.Seconds()
	p.Kiln = sim.Kiln{At: func(t float64) float64 { return skin.At(t - shift) }}
	for _, q := range skin.Points()[1:] {
		p.Kiln.Kinks = append(p.Kiln.Kinks, (q.Time + in).Seconds())
	}
	why := r.Tension.Why
	l, err := r.group.loads(p, DefaultSettings, &factors{surface: why, inside: why, left: why, leftSurface: spread.Combined{Factor: 1}, markLag: 1, maxLag: 1}, false)
	if err != nil {
		return err
	}
	l = l.raisedBy(r.asItIs, r.group)
	if len(r.Doors) == 0 {
		for _, o := range seen {
			r.Doors = append(r.Doors, AtDoor{At: o.At})
		}
	}
	pairs := r.group.pairs.within(f.limits)
	at := -1
	for i := range l.middle.surface.bySpan {
		begins := 0.0
		if i > 0 {
			begins = p.Kiln.Kinks[i-1]
		}
		for at+1 < len(seen) && begins >= (seen[at+1].At+in).Seconds()-1e-3 {
			at++
		}
		if at < 0 || begins >= (seen[at].At+in+gone).Seconds()-1e-3 {
			continue // before the first, or between two that are far apart
		}
		if h := l.span(i, pairs); h.use() > r.Doors[at].Use {
			r.Doors[at].Bears = bearsOf(h)
		}
	}
	return nil
}

// untilProgram are the points of the kiln at a place from when a piece went in to
// a time of the program, the kiln waiting at its holding until that starts.
func (f firing) untilProgram(in, until time.Duration, place func(float64) float64) []kiln.Reading {
	at := func(t time.Duration, kelvin float64) kiln.Reading {
		return kiln.Reading{At: unit.Kelvin(place(kelvin)), Time: t}
	}
	out := []kiln.Reading{at(-in, f.schedule.From.Kelvin())}
	for _, q := range f.timeline.Points {
		if t := unit.Seconds(q.Time); t > out[len(out)-1].Time && t < until {
			out = append(out, at(t, q.Temp))
		}
	}
	if first := (program.Point{Temp: f.schedule.From.Kelvin()}); in > 0 && (len(out) == 1 || out[1].Time > 0) {
		out = slices.Insert(out, 1, at(0, first.Temp))
	}
	return append(out, at(until, f.timeline.At(until.Seconds())))
}

// noteDoors says in a line what opening the kiln before the program did.
func (rep *Report) noteDoors(openings []evening.Opening, door kiln.Door) {
	one := openings[0]
	probe, skin, _ := one.Depth(rep.Schedule.From, rep.Studio.Kiln.Fall.Room)
	n := finding.Of(finding.DoorOpened).At(rep.Schedule.From).Against(rep.Schedule.From.Add(-probe)).Apart(skin).Counting(float64(len(openings)))
	most := 0.0
	n.Time = one.Open
	for i := range rep.Pieces {
		if d := rep.Pieces[i].worstDoor(); d.Use > most {
			most = d.Use
			n.Piece, n.Bears = i, -d.At
			n = n.Pulled(d.Worst, d.Limit())
		}
	}
	if n.Piece == finding.None {
		return
	}
	rep.Notes.First(n)
	rep.Assumptions.Add(finding.Of(finding.DoorComputed).Counting(one.View).Which(!door.ViewGiven))
}
