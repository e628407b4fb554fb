package verify

import (
	"context"
	"slices"

	"lehr/anneal/finding"
	"lehr/anneal/program"
	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// Opened adds to a report of [Replay] that reaches its end what opening the kiln does
// there, and judges it with that. One that ends too cool for it to be computed, or
// that is not to be opened there, is returned as it is.
//
// Errors: those of the simulation, and that of the context.
func Opened(ctx context.Context, of *Report) (*Report, error) {
	f := newReplay(of.Schedule, of.Studio, of.Load, of.Limits, true)
	at, opens := f.opensAt(of.Studio)
	if !opens || of.EndsHot() {
		return of, nil
	}
	rep := of.copied()
	if err := f.open(ctx, rep.Pieces, nil, sim.Settings{}); err != nil {
		return nil, err
	}
	rep.Within = true
	for i := range rep.Pieces {
		rep.Pieces[i].judge(rep.Limits)
		rep.Within = rep.Within && rep.Pieces[i].Within
	}
	rep.noteOpened(at)
	return rep, nil
}

// KeptClosed notes of a report in which each piece is at its worst in several reports of
// [Opened], one for each kiln that it may be, what opening it does, and until when it
// stays closed after that where it exceeds a limit: the highest round reading at which it
// does in none of them. Each falls to there as it does by itself, or, where nobody
// measured it, as it last fell.
//
// Errors: those of the simulation, and that of the context.
func KeptClosed(ctx context.Context, of *Report, kilns []*Report) (*Report, error) {
	if !slices.ContainsFunc(kilns, func(k *Report) bool { return k.Notes.Has(finding.OpenedAt) }) {
		return of, nil
	}
	rep := of.copied()
	rep.Notes = slices.DeleteFunc(rep.Notes, func(f finding.Finding) bool { return f.Kind == finding.OpenedAt })
	rep.noteOpened(rep.Schedule.Last())
	measured := len(kilns) == 1 && rep.Studio.Kiln.Measured
	return rep, rep.keepClosed(ctx, measured, func(to unit.Temp) (out []firing, err error) {
		for _, k := range kilns {
			out = append(out, k.fallenTo(to)...)
		}
		return out, nil
	})
}

// fallenTo is a night that goes on after its end until the kiln reads a temperature.
func (rep *Report) fallenTo(to unit.Temp) (out []firing) {
	s := rep.Schedule
	end := s.Last()
	on := func(more ...program.Segment) {
		s := s
		s.Segments = append(slices.Clone(s.Segments), more...)
		out = append(out, newReplay(s, rep.Studio, rep.Load, rep.Limits, true))
	}
	if !to.Less(end) {
		on()
		return out
	}
	if last := s.Segments[len(s.Segments)-1]; !rep.Studio.Kiln.Measured && last.Rate < 0 {
		on(program.Segment{To: to, Rate: last.Rate})
	}
	on(rep.ownFall(to)...)
	return out
}

// ownFall is how the kiln falls by itself from the end of a night to a lower reading.
func (rep *Report) ownFall(to unit.Temp) []program.Segment {
	k, end := rep.Studio.Kiln, rep.Schedule.Last()
	if k.Measured {
		k = k.Emptier()
	}
	return lines(k.Fall.Curve(end, k.Fall.Alone(end, to))).Segments
}

// OwnFall is a night whose kiln is left to itself until it reads a temperature, for
// [Report.History].
func (rep *Report) OwnFall(to unit.Temp) *Report {
	night := *rep
	night.Schedule.Segments = slices.Concat(rep.Schedule.Segments, rep.ownFall(to))
	return &night
}
