package outage

import (
	"context"
	"math"
	"slices"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/internal/parallel"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// Times are hours from now.
type Times struct {
	Lasts            time.Duration // in the night in front
	Earliest, Latest time.Duration // in the kilns that this one may be
}

// timesOf are those of what takes so long in each night.
func timesOf(took []time.Duration) Times {
	return Times{took[0], slices.Min(took), slices.Max(took)}
}

// opened judges opening the kiln where a way ends, in every night, and finds until when
// it stays closed where that is over a limit.
func (c Case) opened(ctx context.Context, w Way) (Way, error) {
	w.Opens = w.Times
	out := make([]*verify.Report, len(w.reports))
	err := parallel.Each(ctx, len(out), func(i int) (err error) {
		out[i], err = verify.Opened(ctx, w.reports[i])
		return err
	})
	if err != nil || slices.Equal(out, w.reports) { // none is opened hot
		return w, err
	}
	if w.Report, err = verify.KeptClosed(ctx, worst(out), out); err != nil {
		return w, err
	}
	closed, ok := w.Report.Notes.Find(finding.KeepClosed)
	switch {
	case !ok:
	case closed.Temp.IsZero():
		w.Opens = Times{}
	default:
		took := slices.Clone(w.took)
		for i, n := range c.Nights {
			took[i] += unit.Seconds(n.Studio.Kiln.Fall.Time(out[i].Schedule.Last(), closed.Temp, unit.Rate(math.Inf(1))))
		}
		w.Opens = timesOf(took)
	}
	return w, nil
}

// stayShut keeps the kiln closed until it is as cool as the room, whatever opening it
// does, where a piece has been over its limit of tension or a way takes one over it: what
// may have cracked can burst at the opening.
func (a *Answer) stayShut(w Way) Way {
	if !a.cracked() && !w.BreaksNow() {
		return w
	}
	rep, most, over := *w.Report, 0, false
	for i, p := range rep.Pieces {
		over = over || p.Over.Has(finding.OverOpening)
		if p.Tension.Use > rep.Pieces[most].Tension.Use {
			most = i
		}
	}
	rep.Notes = slices.DeleteFunc(slices.Clone(rep.Notes), func(f finding.Finding) bool {
		return f.Kind == finding.KeepClosed || f.Kind == finding.OpenedAt && !over // nor is what it would bear a comfort
	})
	rep.Notes.First(finding.OfPiece(finding.KeepClosed, most))
	w.Report, w.Opens = &rep, Times{}
	return w
}
