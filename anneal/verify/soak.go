package verify

import (
	"errors"
	"math"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/glass"
	"lehr/glass/unit"
)

// soakSegment returns the last segment of the hold that relaxes the piece most,
// -1 if the program holds nowhere. Segments that hold one temperature one after
// the other are one hold. What a segment is called does not matter.
func soakSegment(s program.Schedule, p piece.Piece) int {
	best, most := -1, 0.0
	for i := 0; i < len(s.Segments); i++ {
		held := s.Segments[i].Hold
		if held <= 0 {
			continue
		}
		for i+1 < len(s.Segments) && s.Segments[i+1].To == s.Segments[i].To && s.Segments[i+1].Hold > 0 {
			i++
			held += s.Segments[i].Hold
		}
		if w := held.Seconds() * fluidity(p.Glass, s.Segments[i].To); w > most {
			best, most = i, w
		}
	}
	return best
}

// The fluidity beyond the range of a viscosity curve [1/Pa s]: above it about that at
// the softening point, 10^6.6 Pa·s, and below it so little that any hold within the
// range relaxes more. It says only
// which holds and readings count as the soak.
const (
	softFluidity  = 1e-6
	rigidFluidity = 1e-30
)

// fluidity returns 1/η [1/Pa s] of the softer curve; beyond the curve's range
// next to nothing below and as much as the softening point above.
func fluidity(g *glass.Glass, t unit.Temp) float64 {
	l, err := piece.Log10Viscosity(g, t)
	var out *glass.RangeError
	switch {
	case err == nil:
		return math.Pow(10, -l)
	case errors.As(err, &out) && g.Anneal.Temp().Less(t):
		return softFluidity
	}
	return rigidFluidity
}

// soakMark says when the soak of a piece ends [s] and whether the core must be
// even then. A program that cools without a hold is asked how much of a
// starting stress it relaxed by its end. ok is false when nothing is to be
// judged.
func (f firing) soakMark(p piece.Piece) (mark float64, even, ok bool) {
	if f.replayed {
		return f.soakedUntil(p)
	}
	if i := soakSegment(f.schedule, p); i >= 0 {
		return f.timeline.Spans[i].End, true, true
	}
	if f.cools {
		return f.kinks[len(f.kinks)-1], false, true
	}
	return 0, false, false
}

// overRounding is how far the kiln may be above the hottest soak of a load: half a
// degree, by which a controller rounds, and a little for the arithmetic.
const overRounding = 0.6 // [K]

// borne compares what the program does to a piece with what the piece bears:
// the hottest and the longest soak that the load states, and softness.
func (f firing) borne(p piece.Piece) (over finding.List) {
	hottest := math.Inf(-1)
	for _, q := range f.timeline.Points {
		hottest = math.Max(hottest, q.Temp)
	}
	error := f.offsets[len(f.offsets)-1]
	if most := p.HottestSoak; !most.IsZero() && hottest+error > most.Kelvin()+overRounding {
		over.Add(finding.Of(finding.OverHottest).At(unit.Kelvin(hottest + error)).Against(most))
	}
	if most := p.LongestSoak; most > 0 {
		if held := f.held(p); held > most {
			over.Add(finding.Of(finding.OverHeld).Lasting(held, most))
		}
	}
	if soft, err := p.Glass.Isokom(glass.NeverHours); err == nil {
		t := f.above(soft.Kelvin() - error)
		if soft.Kelvin()-error < f.schedule.From.Kelvin() {
			t += p.In.Seconds()
		}
		if t > glass.Sagging.Seconds() {
			over.Add(finding.Of(finding.OverSag).Counting(glass.NeverHours).Lasting(unit.WholeMinutes(unit.Seconds(t)), 0))
		}
	}
	if w, ok := f.waits(p); ok {
		over.Add(w)
	}
	return over
}

// Held returns how long a piece of a report is above its strain point in the
// nominal program, ramps and the time before the program counted: what the longest
// soak that it bears is held against.
func (rep *Report) Held(i int) time.Duration {
	return rep.firing().held(rep.Load.Pieces[i])
}

// waits says that pieces wait before the program hotter than they bear for hours,
// if they do; ok is false for one that goes in less than an hour before.
func (f firing) waits(p piece.Piece) (w finding.Finding, ok bool) {
	from := f.schedule.From
	_, most, err := piece.SoakRange(p.Glass)
	if err != nil || f.into != piece.HotKiln || f.replayed || p.InText != "" && p.In < glass.Sagging {
		return w, false
	}
	w = finding.OfGlass(finding.OverWaits, p.Glass.Name).Counting(piece.SoakHotLog10)
	if !p.HottestSoak.IsZero() && p.HottestSoak.Less(most) {
		most, w = p.HottestSoak, finding.Of(finding.OverWaits)
	}
	return w.At(from).Against(most), float64(from.Sub(most)) > 1
}

// notBorne is what the program does that a piece does not bear, and what of it
// was not judged.
func (f firing) notBorne(p piece.Piece) finding.List {
	over := f.borne(p)
	if !f.finished {
		last := f.schedule.Segments[len(f.schedule.Segments)-1].To
		kind := finding.EndsHot
		if f.replayed {
			kind = finding.LogEndsHot
		}
		over.Add(finding.Of(kind).At(last))
	}
	if p.RimUnknown() {
		over.Add(finding.Of(finding.RimNotComputed))
	}
	return over
}

// above returns how long the kiln is hotter than a temperature [s].
func (f firing) above(kelvin float64) float64 {
	sum, p := 0.0, f.timeline.Points
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		dt := b.Time - a.Time
		switch {
		case a.Temp > kelvin && b.Temp > kelvin:
			sum += dt
		case a.Temp > kelvin || b.Temp > kelvin:
			sum += dt * (math.Max(a.Temp, b.Temp) - kelvin) / math.Abs(b.Temp-a.Temp)
		}
	}
	return sum
}
