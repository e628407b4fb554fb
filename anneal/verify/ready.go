package verify

import (
	"time"

	"lehr/anneal/finding"
	"lehr/glass/unit"
)

// Ready is the answer to whether the kiln can be opened by a time of day.
type Ready struct {
	By     unit.Clock
	Latest unit.Clock // when the program must start at the latest
	Before int        // how many midnights lie between Latest and By
	Given  bool       // the load says when it starts; else it starts at Latest
	Met    bool
	Spare  time.Duration // between the end and By; negative when it is late
	Then   unit.Temp     // what the kiln reads at By when it is late
	// Range is when the kiln can be ready where nobody measured how it falls, nil
	// where somebody did.
	Range *ReadyRange
	Ways  []Way // what lets it be met, cheapest first
	// Searched is how long the program of a search within the same limits takes that
	// was tried and is too long, too; else zero.
	Searched time.Duration
	Stopped  bool // before every way was tried
	// Least is how long the program takes with both limits of tension at
	// the highest that is tried; zero unless not even that would do.
	Least time.Duration
	// Kiln is how long the kiln alone takes, without any piece, from the start of
	// the program to the opening temperature; zero unless that is already too
	// long.
	Kiln time.Duration
}

// ReadyRange is when a kiln that nobody measured can be ready: Ready itself is that
// of the likeliest one.
type ReadyRange struct {
	Quickest, Slowest time.Duration // of the program in the quickest and the slowest kiln that it may be
	Latest            unit.Clock    // when the program must start at the latest for the slowest
	Before            int           // how many midnights lie between that and the hour
	Decides           bool          // some of these kilns are ready by the hour, and some are not
}

// Means is what lets a program end in time.
type Means int

// The means, from what costs least.
const (
	BySearch  Means = iota // a shorter program within the same limits
	ByMargin               // less of every limit is left unused
	ByOpening              // the kiln is opened warmer
	ByLimit                // one or two limits give
)

// Way is what lets the program end in time, no more of it than needed.
type Way struct {
	By     Means
	Margin float64       // that is left then
	Gives  []Give        // the limits that give
	Open   unit.Temp     // where the kiln is opened then; zero by other means
	Total  time.Duration // of the program then
	// Opened is the tension in the piece that opening the kiln there brings nearest
	// to its limit; zero where it is cool enough for nobody to ask.
	Opened Tension
	// Still says how hot the piece that trails most is inside then, if that is to
	// be spoken of: a finding of kind StillHot, else none.
	Still finding.List
}

// Has reports whether one of the ways is by a means.
func (r *Ready) Has(by Means) bool {
	for i := range r.Ways {
		if r.Ways[i].By == by {
			return true
		}
	}
	return false
}

// toldApart is how far the ends of a program in the quickest and in the slowest kiln
// lie apart before both are told: with less nobody plans otherwise, and with more a
// kiln that is a quarter of an hour late would not be spoken of.
const toldApart = 10 * time.Minute

// Between is how long the program takes in the quickest and in the slowest kiln that
// one which nobody measured may be; ok is false where that is known, or as good as
// the same.
func (rep *Report) Between() (first, last time.Duration, ok bool) {
	if len(rep.Kilns) == 0 {
		return 0, 0, false
	}
	first, last = rep.Kilns[0].Total, rep.Kilns[len(rep.Kilns)-1].Total
	return first, last, last-first >= toldApart
}

// Limit is one of the two limits of tension.
type Limit int

// The two limits.
const (
	LimitTension Limit = iota
	LimitResidual
)

// Give is a limit and what the shorter program reaches instead.
type Give struct {
	Limit         Limit
	From, Reaches unit.Stress // in average glass
	AtWorst       bool        // no: in the worst case
	Ask           unit.Stress // the limit of the worst case to ask for instead
}
