package shortest

import (
	"cmp"
	"context"
	"slices"
	"sync"
	"time"

	"lehr/anneal/program"
	"lehr/anneal/verify"
)

// keeper judges beside a long search what it has found so far, so that one that is
// interrupted has an answer that was judged, and need not judge one then: for twelve
// kinds of piece that takes half a second. What it does changes no answer of a search
// that comes to its end.
type keeper struct {
	mu      sync.Mutex
	found   *program.Schedule // the shortest so far, nil if none
	seconds float64
	before  []program.Schedule // those that were the shortest before, the last ones
	short   []timed            // the shortest that any start found, the shortest first
	judged  *verify.Report     // the shortest that was judged and keeps every limit, nil if none
}

// Most searches end before keepAfter, and nothing is judged twice. After each judgment
// the keeper rests keepRest times as long.
const (
	keepAfter = 500 * time.Millisecond
	keepRest  = 4
)

// keepBefore is how many that were the shortest before are kept, keepShort how many of
// what any start found.
const (
	keepBefore = 12
	keepShort  = 24
)

// offer takes what is shorter than all that a start had found before.
func (k *keeper) offer(s program.Schedule, seconds float64) {
	k.mu.Lock()
	defer k.mu.Unlock()
	at, _ := slices.BinarySearchFunc(k.short, seconds, func(x timed, t float64) int { return cmp.Compare(x.t, t) })
	k.short = slices.Insert(k.short, at, timed{s, seconds})
	k.short = k.short[:min(len(k.short), keepShort)]
	if k.found == nil || seconds < k.seconds {
		if k.found != nil {
			k.before = append(k.before, *k.found)
			k.before = k.before[max(0, len(k.before)-keepBefore):]
		}
		k.found, k.seconds = &s, seconds
	}
}

// take returns what was found, nil if it is what it was.
func (k *keeper) take(was *program.Schedule) *program.Schedule {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.found == was {
		return nil
	}
	return k.found
}

// report is the shortest that was judged, nil if none was.
func (k *keeper) report() *verify.Report {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.judged
}

// keep takes a report that keeps every limit and is of the shortest found by now.
func (k *keeper) keep(rep *verify.Report) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.judged = rep
}

// judgeBeside begins to judge what is found, until the function that it returns is called,
// which waits for that, or the search is interrupted.
func (sv *solver) judgeBeside() (end func()) {
	ctx, cancel := context.WithCancel(sv.ctx)
	done := make(chan struct{})
	go func() {
		defer close(done)
		var was *program.Schedule
		for rest := keepAfter; ; {
			select {
			case <-ctx.Done():
				return
			case <-time.After(rest):
			}
			rest = keepAfter
			s := sv.keeper.take(was)
			if s == nil {
				continue
			}
			began := time.Now()
			rep, err := sv.judged(ctx, *s, 0)
			if was = s; err == nil && rep.Within {
				sv.keeper.keep(rep)
			}
			rest = max(rest, keepRest*time.Since(began))
		}
	}()
	return func() {
		if cancel(); sv.ctx.Err() == nil {
			<-done
		}
	}
}

// judged names the segments of what was found and judges it, slowed so many times
// at most for the kilns that the search does not follow.
func (sv *solver) judged(ctx context.Context, s program.Schedule, most int) (*verify.Report, error) {
	set := 0.0
	for _, k := range sv.evaluator.Groups {
		set = max(set, k.Piece.Glass.Strain.Number)
	}
	s.Segments = slices.Clone(s.Segments)
	label(s.Segments, set, sv.frozenBelow())
	return sv.inAnyKiln(ctx, s, most)
}
