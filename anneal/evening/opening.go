package evening

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// Opening is one opening of a hot kiln.
type Opening struct {
	At   time.Duration // when it opens, in times of the curve: below zero before the program
	Open time.Duration // how long it stands open
	Dip  unit.Delta    // how far the reading falls; 0 if nobody looked
	// View is the share of what the skin of a piece sees that is the room, from 0
	// to 1; 0 if nobody said. The skin loses heat by what it sees, the probe by
	// the air beside it: the one says little of the other.
	View float64
}

// Usual is an opening of which nothing is known but that it happened: 20 s, the
// skin seeing the room in 15 of 100 parts. At 560 °C that acts like a kiln at
// 527 °C.
//
// Source: common practice for the time, 3 to 20 s, no published figure; the view
// is that of a front-loading kiln from the middle of the shelf [derived].
var Usual = Opening{Open: 20 * time.Second, View: 0.15}

// Of returns an opening of a door of which some may be known; what is not is as in
// Usual. A dip that was measured says little of what the skin sees, so the view
// counts beside it unless somebody said it.
func Of(d kiln.Door) Opening {
	d = d.Or(kiln.Door{Open: Usual.Open, View: Usual.View, ViewGiven: true})
	return Opening{Open: d.Open, Dip: d.Dip, View: d.View}
}

// Depth returns how far an opening takes a kiln of a temperature down, as the
// probe reads it and as the skin of a piece sees it, and how long it takes until
// nothing of it is seen.
func (o Opening) Depth(at, room unit.Temp) (probe, skin unit.Delta, gone time.Duration) {
	p, s := o.depth(at, room)
	return unit.Delta(p), unit.Delta(s), o.Open + recoversIn
}

// ForPieces returns the openings that putting pieces in makes: one like usual at
// each time at which a piece goes in, pieces that go in while the kiln is still
// open taken together. usual.At does not matter.
func ForPieces(in []time.Duration, usual Opening) []Opening {
	sorted := slices.Clone(in)
	slices.Sort(sorted)
	var out []Opening
	for _, at := range sorted {
		if n := len(out); n > 0 && at < out[n-1].At+out[n-1].Open {
			continue
		}
		o := usual
		o.At = at
		out = append(out, o)
	}
	return out
}

// How an opening runs.
const (
	fallsIn     = 5 * time.Second // the air is gone so soon
	recoversIn  = 5 * time.Minute // after closing
	longestOpen = kiln.LongestOpen
)

// OpeningError is an opening that cannot be.
type OpeningError struct {
	Opening int // from 1
	Reason  string
	Next    string
}

func (e *OpeningError) Error() string { return fmt.Sprintf("opening %d: %s", e.Opening, e.Reason) }

// Hint names the one thing to do.
func (e *OpeningError) Hint() string { return e.Next }

// Effective returns the temperature of a closed kiln that would act on a skin
// as an open one does of which the skin sees the room in a share of its view:
//
//	T⁴ = (1 − F) T_kiln⁴ + F T_room⁴
//
// Valid: share from 0 to 1; gray surfaces, convection left out.
//
// Source: Stefan-Boltzmann law, view factors [derived].
//
// Checked: opening_test.go
func Effective(at, room unit.Temp, share float64) unit.Temp {
	a, b := at.Kelvin(), room.Kelvin()
	return unit.Kelvin(math.Sqrt(math.Sqrt((1-share)*a*a*a*a + share*b*b*b*b)))
}

// depth is how far an opening takes a kiln of a temperature down, as the probe
// reads it and as the skin of a piece sees it [K]. Where only one of dip and
// view is known, both take it; where both are, the skin takes the deeper one.
func (o Opening) depth(at, room unit.Temp) (probe, skin float64) {
	probe = float64(o.Dip)
	skin = math.Max(probe, float64(at.Sub(Effective(at, room, o.View))))
	if probe == 0 {
		probe = skin
	}
	return probe, skin
}

// Seen returns the kiln as the skin of a piece sees it when it is opened: it
// falls within 5 s, stays while the kiln is open, and comes back in 5 min. c is
// the kiln that stays closed, room what stands outside. Openings may come in
// any order; one that comes while the kiln recovers starts from where it is.
//
// The depth counts, not the time: 20 s strain a piece nearly as much as 60.
//
// Errors: *OpeningError: a dip below the room, longer open than 15 min, opened
// while open, a view or a time that cannot be.
func Seen(c kiln.Curve, room unit.Temp, openings []Opening) (kiln.Curve, error) {
	if err := check(c, room, openings); err != nil {
		return c, err
	}
	sorted := slices.Clone(openings)
	sort.SliceStable(sorted, func(i, j int) bool { return sorted[i].At < sorted[j].At })
	var d dips
	for _, o := range sorted {
		_, skin := o.depth(c.Temp(o.At), room)
		d.open(o, skin)
	}
	return d.take(c), nil
}

// check refuses openings that cannot be. The numbers are those of the list.
func check(c kiln.Curve, room unit.Temp, openings []Opening) error {
	for i, o := range openings {
		at := c.Temp(o.At)
		bad := func(next, format string, args ...any) error {
			return &OpeningError{i + 1, fmt.Sprintf(format, args...), next}
		}
		switch {
		case o.Open <= 0:
			return bad("give how long the kiln stood open", "open for %s: must be above 0", unit.FormatDuration(o.Open))
		case o.Open > longestOpen:
			return bad("plan from the temperature that it was found at instead", "open for %s: must be at most %s", unit.FormatDuration(o.Open), unit.FormatDuration(longestOpen))
		case !(o.View >= 0 && o.View <= 1):
			return bad("give the share of the room in what the piece sees", "view %g: must be from 0 to 1", o.View)
		case !(o.Dip >= 0) || o.Dip == 0 && o.View == 0:
			return bad("give how far the reading fell, or what share of the room the piece sees", "dip %s: must be above 0", unit.AsTyped(o.Dip))
		case at.Add(-o.Dip).Less(room):
			return bad("give how far the reading fell, not what it fell to", "dip %s from %s: falls below the room, %s", unit.AsTyped(o.Dip), unit.AsTyped(at), unit.AsTyped(room))
		case o.At < c.Start() || o.At > c.End():
			return bad("", "lies outside the time that the kiln is hot")
		}
		for j, other := range openings[:i] {
			if a, b := o, other; a.At < b.At+b.Open && b.At < a.At+a.Open {
				return bad("give one of them", "the kiln is open already, from opening %d", j+1)
			}
		}
	}
	return nil
}

// dips is a depth below a curve as straight lines.
type dips struct {
	at    []time.Duration
	depth []float64
}

func (d *dips) value(t time.Duration) float64 {
	n := len(d.at)
	if n == 0 || t >= d.at[n-1] || t <= d.at[0] {
		return 0
	}
	i, _ := slices.BinarySearch(d.at, t)
	w := float64(t-d.at[i-1]) / float64(d.at[i]-d.at[i-1])
	return d.depth[i-1] + w*(d.depth[i]-d.depth[i-1])
}

func (d *dips) open(o Opening, depth float64) {
	now := d.value(o.At)
	for n := len(d.at); n > 0 && d.at[n-1] >= o.At; n-- { // the recovery is cut off
		d.at, d.depth = d.at[:n-1], d.depth[:n-1]
	}
	depth = math.Max(depth, now)
	d.add(o.At, now)
	d.add(o.At+min(fallsIn, o.Open), depth)
	d.add(o.At+o.Open, depth)
	d.add(o.At+o.Open+recoversIn, 0)
}

func (d *dips) add(t time.Duration, depth float64) {
	if n := len(d.at); n > 0 && t <= d.at[n-1] {
		return
	}
	d.at, d.depth = append(d.at, t), append(d.depth, depth)
}

// take returns the curve less the depth.
func (d *dips) take(c kiln.Curve) kiln.Curve {
	times := slices.Clone(d.at)
	for _, p := range c.Points() {
		times = append(times, p.Time)
	}
	slices.Sort(times)
	times = slices.Compact(times)
	var out []kiln.Reading
	for _, t := range times {
		if t >= c.Start() && t <= c.End() {
			out = append(out, kiln.Reading{At: c.Temp(t).Add(unit.Delta(-d.value(t))), Time: t})
		}
	}
	seen, err := kiln.NewCurve(out)
	if err != nil {
		panic("evening: " + err.Error()) // check has refused what could cause it
	}
	return seen
}

// skinDrop returns how far the skin of a thick piece falls in an open kiln, and
// the heat it loses at first [W/m²]: a half-space that loses heat at a steady
// rate.
//
//	q = F ε σ (T⁴ − T_room⁴) + h (T − T_room)
//	drop = 2 q √(κ t/π)/k
//
// share F is the room in the view of the skin, convection h [W/m²K],
// k [W/mK] and kappa [m²/s] those of the glass.
//
// Valid: t below 0.1 R²/κ; an upper estimate, since the loss falls as the skin
// does.
//
// Source: Carslaw and Jaeger, sec. 2.9 [memory; the cases are re-derived].
//
// Checked: testdata/cases/kiln-openings.toml
func skinDrop(at, room unit.Temp, share, emissivity, convection, k, kappa float64, open time.Duration) (drop unit.Delta, flux float64) {
	a, b := at.Kelvin(), room.Kelvin()
	flux = share*emissivity*sim.StefanBoltzmann*(a*a*a*a-b*b*b*b) + convection*(a-b)
	return unit.Delta(2 * flux * math.Sqrt(kappa*open.Seconds()/math.Pi) / k), flux
}

// openingLoss returns the power that leaves through an opening of an area [m²],
// black inside.
//
// Source: Stefan-Boltzmann law [derived].
//
// Checked: testdata/cases/kiln-openings.toml
func openingLoss(at, room unit.Temp, area float64) unit.Power {
	a, b := at.Kelvin(), room.Kelvin()
	return unit.Power(area * sim.StefanBoltzmann * (a*a*a*a - b*b*b*b))
}
