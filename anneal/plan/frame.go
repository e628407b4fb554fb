package plan

import (
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/glass/unit"
)

// Frame is what a search for a program may choose from, and where the rule
// would begin.
type Frame struct {
	From             unit.Temp     // where the program begins
	Coolest, Hottest unit.Temp     // soak temperatures that kiln and every piece bear
	Longest          time.Duration // longest soak that every piece bears, 0 for no limit
	LongestBy        int           // index of the piece that bears least
	Soak             unit.Temp     // the rule's, as are the next two
	Hold             time.Duration
	Ramps            []FrameRamp
	Heating          unit.Rate // fastest heating of kiln and controller
}

// FrameRamp is one cooling ramp of the rule before rounding.
type FrameRamp struct {
	To   unit.Temp
	Rate unit.Rate // positive
}

// NewFrame asks the rule about the load without judging the answer. Errors as
// [Plan]; a soak longer than a piece bears is none here.
func NewFrame(l *piece.Load, st kiln.Studio, o Options) (Frame, error) {
	pl := planner{load: l, st: st, o: o, limits: o.Limits.Or(st.Limits)}
	bare := *l
	bare.Pieces = append([]piece.Piece(nil), l.Pieces...)
	var f Frame
	for i := range bare.Pieces {
		p := &bare.Pieces[i]
		if p.LongestSoak > 0 && (f.Longest == 0 || p.LongestSoak < f.Longest) {
			f.Longest, f.LongestBy = p.LongestSoak, i
		}
		p.LongestSoak = 0
	}
	pl.load = &bare
	if err := pl.require(); err != nil {
		return f, err
	}
	if err := pl.propose(); err != nil {
		return f, err
	}
	b, err := band(bare.Pieces, st)
	if err != nil {
		return f, err
	}
	margin := unit.Delta(b.margin)
	f.Coolest, f.Hottest = b.low.Add(margin), b.high.Add(-margin)
	if most := st.HighestSet(); !most.IsZero() && most.Less(f.Hottest) {
		f.Hottest = most
	}
	if f.Hottest.Less(pl.draft.soak) {
		f.Hottest = pl.draft.soak
	}
	if pl.draft.soak.Less(f.Coolest) {
		f.Coolest = pl.draft.soak
	}
	f.From, f.Soak, f.Hold = pl.draft.from, pl.draft.soak, pl.draft.hold
	f.Heating = st.Kiln.Heating
	if st.Kiln.HeatingGiven {
		f.Heating *= kiln.Followed
	}
	f.Heating = min(f.Heating, st.Controller.Fastest)
	for _, r := range pl.draft.ramps {
		f.Ramps = append(f.Ramps, FrameRamp{r.to, unit.Rate(r.rate)})
	}
	return f, nil
}
