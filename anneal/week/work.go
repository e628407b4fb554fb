package week

import (
	"context"
	"errors"
)

// MostWork is how much a search does at most, in places of a filling looked at;
// each takes one or two nanoseconds. It does not depend on the machine, so neither does
// the plan.
const MostWork int64 = 2_000_000_000

// tellEvery is how much work lies between two looks at the context, and between two
// tellings of progress.
const tellEvery = 30_000_000

// ErrUnasked is what a [Share] answers where it does not ask: the kinds are kept
// apart, and the plan is not proved by that.
var ErrUnasked = errors.New("not asked")

// Progress says how far a plan is.
type Progress struct {
	Sets    int // of kinds of which is known whether they share
	Firings int // of the best plan so far, 0 for none
}

// How says of whom a plan asks what.
type How struct {
	Share    Share
	Progress func(Progress) // told from time to time (default: nobody)
}

// budget is what a search has done and may do.
type budget struct {
	ctx   context.Context
	done  int64
	limit int64
	until int64 // at which the part that runs ends
	told  int64
	ended bool // the context
	tell  func()
}

// spend counts work, and reports whether there may be more.
func (b *budget) spend(n int) bool {
	b.done += int64(n)
	if b.done-b.told >= tellEvery {
		b.told = b.done
		b.look()
	}
	return b.more()
}

// more reports whether there may be more work.
func (b *budget) more() bool { return b.done <= b.until && !b.ended }

// look looks whether the context has ended, and tells progress.
func (b *budget) look() {
	b.ended = b.ended || b.ctx.Err() != nil
	if b.tell != nil && !b.ended {
		b.tell()
	}
}

// allow lets the next part do a share, one in so many, of what is left.
func (b *budget) allow(in int) {
	b.until = b.done + max(0, b.limit-b.done)/int64(in)
}
