package plan

import (
	"math"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/formula"
	"lehr/anneal/piece"
	"lehr/anneal/rule"
	"lehr/anneal/verify"
	"lehr/glass"
	"lehr/glass/unit"
)

// A soak is called short below this, or where a published chart asks for more
// than twice as long.
const shortSoak = time.Hour

// How long a soak could be is told in whole hours above manyHours, else in half
// hours: no finer than it is known to, and rounded down.
const (
	manyHours = 10 * time.Hour
	longStep  = time.Hour
	shortStep = 30 * time.Minute
)

// noteSoakRoom says beside a short soak how long it could be without harm, and
// how long published charts make it: a person who has always soaked for a night
// would otherwise believe the program wrong.
func (pl *planner) noteSoakRoom(rep *verify.Report) {
	hold := pl.st.Controller.Hold(pl.draft.hold)
	least, most := pl.chartSoaks()
	if hold >= shortSoak && most <= 2*hold {
		return
	}
	room, by := pl.soakRoom(rep, hold)
	if room < hold+hold/2 {
		return
	}
	f := finding.Of(finding.SoakRoom).At(pl.draft.soak).Lasting(hold, room).In(by)
	f.Number, f.To = least.Round(time.Minute).Seconds(), most.Round(time.Minute).Seconds()
	rep.Notes.Add(f)
}

// soakRoom returns how long the soak could be before a piece has been soft for
// as long as it may be, or before one has borne as long as the load says, of which
// the slow ramp and the time before the program are a part; by is that piece, None
// where it is softness that ends it.
//
// A piece is taken to sag after glass.Sagging at 10^11 Pa·s or softer; what it
// flows in a time is that time over the viscosity, so at 10^12 it takes ten
// times as long. Waiting in the hot kiln counts.
func (pl *planner) soakRoom(rep *verify.Report, hold time.Duration) (room time.Duration, by int) {
	hottest := pl.draft.soak.Add(unit.Delta(float64(pl.st.Kiln.Spread)/2 + float64(pl.st.Kiln.ProbeError)))
	room, by = pl.st.Controller.Longest, finding.None
	for i, p := range pl.load.Pieces {
		log10, err := piece.Log10Viscosity(p.Glass, hottest)
		if err == nil {
			flows := glass.Sagging.Hours() * math.Pow(10, log10-glass.NeverHours)
			if waits, err := piece.Log10Viscosity(p.Glass, rep.Schedule.From.Add(hottest.Sub(pl.draft.soak))); err == nil {
				flows = math.Max(0, flows-p.In.Hours()*math.Pow(10, log10-waits))
			}
			if flows < room.Hours() {
				room, by = time.Duration(flows*float64(time.Hour)), finding.None
			}
		}
		if p.LongestSoak > 0 {
			if left := hold + p.LongestSoak - rep.Held(i); left < room {
				room, by = left, i
			}
		}
	}
	if room > manyHours {
		return room.Truncate(longStep), by
	}
	return room.Truncate(shortStep), by
}

// chartSoaks returns the shortest and the longest soak that published charts ask
// for the piece that decides the soak, zero where none covers it.
func (pl *planner) chartSoaks() (least, most time.Duration) {
	p := pl.load.Pieces[pl.draft.holdBy]
	b := p.Body()
	q := rule.Request{Glass: p.Glass, Shape: b.Form, Size: b.Size, OneFace: b.OneFace, CountFull: pl.o.CountFull && b.Form != formula.FormSlab,
		DesignCooling: pl.limits.Tension, DesignResidual: pl.limits.Residual, TensionFactor: b.TensionFactor, ResidualFactor: b.ResidualFactor}
	for _, r := range rule.All() {
		if r.Name == rule.Stress {
			continue
		}
		res, err := r.Apply(q)
		if err != nil {
			continue
		}
		if soak := res.Stages[0].Hold; least == 0 || soak < least {
			least = soak
		}
		most = max(most, res.Stages[0].Hold)
	}
	return least, most
}
