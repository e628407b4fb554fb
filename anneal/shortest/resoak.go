package shortest

import (
	"slices"
	"time"

	"lehr/anneal/program"
	"lehr/glass/unit"
)

// By how much another soak is hotter, and how often the search goes on from one that gained.
var resoakBy = []float64{-10, -5, 5, 10} // [K]

const resoaks = 3

// resoak goes down the slopes from the best program with other soaks: a cooling that was
// found for one is not the best for another, and an exchange moves only three numbers with
// it.
func (sv *solver) resoak() error {
	for range resoaks {
		before := sv.seconds
		for _, s := range sv.resoaked(*sv.best) {
			if err := sv.slide(s); err != nil {
				return err
			}
		}
		if before-sv.seconds < againGain*before {
			return nil
		}
		if err := sv.polish(); err != nil {
			return err
		}
		if err := sv.exchange(); err != nil {
			return err
		}
	}
	return nil
}

// resoaked lists programs with other soaks, as long as the ladder says, and where one ramp
// heats to them at the limit of tension.
func (sv *solver) resoaked(s program.Schedule) (out []program.Schedule) {
	n := coolingFrom(s.Segments) - 1
	if n < 0 {
		return nil
	}
	was := s.Segments[n]
	for _, by := range resoakBy {
		to, longer, _, ok := sv.soakElsewhere(s, n, unit.Delta(by))
		if !ok || longer <= 0 || n+1 < len(s.Segments) && !s.Segments[n+1].To.Less(to) {
			continue
		}
		t := program.Schedule{From: s.From, Segments: slices.Clone(s.Segments)}
		t.Segments[n].To, t.Segments[n].Hold = to, max(time.Minute, sv.st.Controller.Hold(time.Duration(longer*float64(was.Hold))))
		if n == 0 {
			t.Segments[n].Rate = sv.heatedAtOnce(t)
		}
		out = append(out, t)
	}
	return out
}
