package verify

import (
	"context"
	"errors"
	"fmt"
	"time"

	"lehr/anneal/evening"
	"lehr/anneal/finding"
	"lehr/anneal/internal/parallel"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// AtDoor is the greatest tension in a piece that one opening of the hot kiln
// before the program causes.
type AtDoor struct {
	At time.Duration // when it opened, in time of the program: zero or below
	Tension
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

// addDoors simulates the openings of the hot kiln before the program in the pieces
// that lie in it by then, and adds the greatest tension of each to the report, judged
// by its limits. Without a word of a door it is as it was. A piece that goes
// in sees none of its own opening: it comes from the air.
//
// An opening is simulated in a piece that is even with the kiln, by itself and
// after others, and the most of it counts for each: one that comes while the piece
// still feels the one before finds it colder already, and pressed at its surface
// where something relaxed; one that comes later finds glass that is stiffer there,
// by up to a tenth. A piece of which somebody said how hot it was inside is simulated
// from when it went in until it is even, too, and the greater of both counts. What
// the openings leave in it does not count on: above the annealing point it is gone in
// minutes, and below the strain point little was set.
//
// Valid: openings up to [kiln.LongestOpen], at most to the start of the program.
//
// Errors: *kiln.DipError for a dip below the room, *evening.OpeningError for
// openings that cannot be, and that of the context.
func (rep *Report) addDoors(ctx context.Context) error {
	openings, ok := rep.Load.Openings(rep.Studio.Door)
	if !ok || rep.Replayed {
		return nil
	}
	door := rep.Load.Door.Or(rep.Studio.Door)
	from, room := rep.Schedule.From, rep.Studio.Kiln.Fall.Room
	if err := door.CheckDip(from, room); err != nil {
		return fmt.Errorf("an opening of the hot kiln: dip %w", err)
	}
	f := rep.firing()
	first := map[piece.ThermalKey]int{}
	var different []int
	for i, r := range rep.Pieces {
		if key := evenKey(r.Piece); len(seenBy(r.Piece, openings)) > 0 {
			if _, seen := first[key]; !seen {
				first[key] = i
				different = append(different, i)
			}
		}
	}
	some := make([]evening.Opening, len(inRow))
	for j := range some {
		some[j] = openings[0]
		some[j].At = inRow[j] + time.Duration(j)*some[j].Open
	}
	what := make([][]Tension, len(rep.Pieces)) // of each in a row
	err := parallel.Each(ctx, len(different), func(n int) (err error) {
		i := different[n]
		what[i], err = f.doors(&rep.Pieces[i], beforeDoor, some)
		return err
	})
	if err == nil {
		err = parallel.Each(ctx, len(rep.Pieces), func(i int) error {
			return f.eachDoor(&rep.Pieces[i], openings, what[first[evenKey(rep.Pieces[i].Piece)]])
		})
	}
	var bad *evening.OpeningError
	if errors.As(err, &bad) {
		return fmt.Errorf("an opening of the hot kiln: %w", bad)
	}
	if err != nil {
		return err
	}
	for i := range rep.Pieces {
		if r := &rep.Pieces[i]; len(r.Doors) > 0 {
			r.judge(rep.Limits)
		}
	}
	rep.noteDoors(openings, door)
	return nil
}

// beforeDoor is how long a piece that is even lies in the kiln before an opening
// that is simulated by itself: long enough for its glass to settle to where it waits.
const beforeDoor = time.Hour

// inRow are the openings that stand for any: one by itself, and two that follow
// when the structure of the glass still remembers.
var inRow = []time.Duration{0, 10 * time.Minute, 40 * time.Minute}

// evenKey tells pieces apart in which an opening by itself does the same.
func evenKey(p piece.Piece) piece.ThermalKey {
	p.In, p.Core, p.Even = 0, unit.Temp{}, true
	return p.ThermalKey()
}

// seenBy are the openings of those before the program that a piece lies in the
// kiln for.
func seenBy(p piece.Piece, openings []evening.Opening) (out []evening.Opening) {
	if p.Textbook {
		return nil
	}
	for _, o := range openings {
		if o.At > -p.In && o.At <= 0 {
			out = append(out, o)
		}
	}
	return out
}

// eachDoor books what each opening does to a piece: what the one does that is the
// only one, or of more the most that one in a row does, and more while the piece is
// not even yet.
func (f firing) eachDoor(r *PieceReport, openings []evening.Opening, inRow []Tension) error {
	r.Doors = nil
	var uneven []evening.Opening
	seen := seenBy(r.Piece, openings)
	var most Tension
	for i, b := range inRow {
		if (i == 0 || len(seen) > 1) && b.Use > most.Use {
			most = b
		}
	}
	for _, o := range seen {
		r.Doors = append(r.Doors, AtDoor{o.At, most})
		if !r.Piece.Core.IsZero() && o.At < evening.EvenAt(-r.Piece.In, eFold(r.Piece, f.schedule.From), evening.Core{At: r.Piece.Core}) {
			uneven = append(uneven, o)
		}
	}
	if len(uneven) == 0 {
		return nil
	}
	all, err := f.doors(r, r.Piece.In, uneven)
	for i, b := range all {
		if b.Use > r.Doors[i].Use {
			r.Doors[i].Tension = b
		}
	}
	return err
}

// doors simulates a piece in the waiting kiln from a time before the program until
// the last of some openings is over, and returns the greatest tension of each, at
// the worse place in the kiln.
func (f firing) doors(r *PieceReport, in time.Duration, openings []evening.Opening) ([]Tension, error) {
	out := make([]Tension, len(openings))
	_, _, gone := openings[0].Depth(f.schedule.From, f.room)
	for _, off := range f.offsets {
		p := f.problem(r.group, off, 0)
		at := unit.Kelvin(f.place(off)(f.schedule.From.Kelvin()))
		c, err := kiln.NewCurve([]kiln.Reading{{At: at, Time: -in}, {At: at, Time: openings[len(openings)-1].At + gone}})
		if err != nil {
			return nil, err
		}
		skin, err := evening.Seen(c, f.room, openings)
		if err != nil {
			return nil, err
		}
		from, shift := at.Kelvin(), in.Seconds()
		if core := r.Piece.Core; !core.IsZero() && in == r.Piece.In {
			from = core.Kelvin()
		}
		p.Start = func(float64) float64 { return from }
		p.Kiln = sim.Kiln{At: func(t float64) float64 { return skin.At(t - shift) }}
		for _, q := range skin.Points()[1:] {
			p.Kiln.Kinks = append(p.Kiln.Kinks, (q.Time + in).Seconds())
		}
		l, err := r.group.loads(p, sim.Settings{}, nil, false)
		if err != nil {
			return nil, fmt.Errorf("opening the hot kiln: %w", err)
		}
		l = l.raisedBy(r.ratios, r.group)
		pairs, door := r.group.pairs.within(f.limits), -1
		for i := range l.middle.surface.bySpan {
			begins := 0.0
			if i > 0 {
				begins = p.Kiln.Kinks[i-1]
			}
			for door+1 < len(openings) && begins >= (openings[door+1].At+in).Seconds()-1e-3 {
				door++
			}
			if door < 0 || begins >= (openings[door].At+in+gone).Seconds()-1e-3 {
				continue // before the first, or between two that are far apart
			}
			if h := l.span(i, pairs); h.use() > out[door].Use {
				out[door] = tensionOf(h)
			}
		}
	}
	return out, nil
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
