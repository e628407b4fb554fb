package verify

import (
	"errors"
	"fmt"

	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// stoppedError says in which segment, and how long after its start, a program
// could not be computed any further.
type stoppedError struct {
	segment, of int // from 1
	at          float64
	err         error
}

func (e *stoppedError) Error() string {
	return fmt.Sprintf("segment %d of %d, %s after the start: %v", e.segment, e.of, unit.FormatDuration(unit.WholeMinutes(unit.Seconds(e.at))), e.err)
}

func (e *stoppedError) Unwrap() error { return e.err }

// manySegments is the number of segments above which fewer of them are the better
// advice: nobody keys in so many, a file made by a program may have them.
const manySegments = 200

// Hint names what the person can do.
func (e *stoppedError) Hint() string {
	if e.of > manySegments {
		return "write the program with fewer segments"
	}
	return "look at that segment: a ramp too steep, or a temperature out of reach"
}

// placed gives an error of the simulation the segment in which it stopped.
func (f firing) placed(err error) error {
	var stop *sim.StopError
	if !errors.As(err, &stop) {
		return err
	}
	for i, span := range f.timeline.Spans {
		if stop.Time < span.End || i == len(f.timeline.Spans)-1 {
			return &stoppedError{i + 1, len(f.timeline.Spans), stop.Time, err}
		}
	}
	return err
}
