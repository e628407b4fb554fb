package verify

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"lehr/anneal/evening"
	"lehr/anneal/finding"
	"lehr/anneal/internal/parallel"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// coreOf returns how hot a piece is throughout when the program starts, zero if
// it is even with the kiln or nobody said. As hot throughout as its middle is the
// most heat that it can hold, and what evens out last.
//
// Nobody's word is simulated: that a piece comes straight from the flame says how
// long it takes to even out at most, which counts, but not what it goes through
// until then.
func (f firing) coreOf(p piece.Piece) unit.Temp {
	core, from := p.Core, f.schedule.From
	if f.even || p.Textbook || p.Even || core.IsZero() {
		return unit.Temp{}
	}
	excess := float64(core.Sub(from))
	if p.In > 0 {
		excess *= stillHot(p.In, eFold(p, from))
	}
	if math.Abs(excess) < 0.5 {
		return unit.Temp{}
	}
	return from.Add(unit.Delta(excess))
}

// uneven is by how much the middle of a piece straight from the flame may still be
// hotter than its surface at a time of the program [s], in its worst case: what
// the simulation finds where somebody says that it is as hot. Of one of which
// somebody did, the program's own simulation knows.
func (f firing) uneven(g *Group, at float64) (unit.Delta, error) {
	p := g.Piece
	core := coreIn(p, f.into)
	if core.IsZero() || !p.Core.IsZero() || core.Less(f.schedule.From) {
		return 0, nil
	}
	p.Core, f.even = core, false
	start := f.coreOf(p)
	if start.IsZero() { // it went in long before
		return 0, nil
	}
	curves, err := f.lagsOf(g, f.pathUntil(at), start)
	if err != nil {
		return 0, err
	}
	most, lags := 0.0, make([]float64, len(g.glasses))
	for _, c := range curves {
		for i := range lags {
			lags[i] = c[i].At(at)
		}
		most = math.Max(most, math.Abs(g.worstLag(lags)))
	}
	return unit.Delta(most), nil
}

// pathUntil returns the temperatures of the program until a time [s], but for a
// hold that they end with: two programs that differ in it alone have one path.
func (f firing) pathUntil(at float64) []program.Point {
	var path []program.Point
	for _, q := range f.timeline.Points {
		if q.Time < at {
			path = append(path, q)
		}
	}
	if end := (program.Point{Time: at, Temp: f.timeline.At(at)}); len(path) == 0 || path[len(path)-1].Temp != end.Temp {
		path = append(path, end)
	}
	return path
}

// lagsOf returns how a piece that is as hot as start when the program begins evens
// out on a path and at the temperature where that ends: for each place in the kiln,
// for each glass.
func (f firing) lagsOf(g *Group, path []program.Point, start unit.Temp) ([][]sim.Lags, error) {
	key := fmt.Sprint(path, f.offsets, start)
	if known, ok := g.uneven.Load(key); ok {
		return known.([][]sim.Lags), nil
	}
	fold := eFold(g.Piece, f.schedule.From).Seconds()
	for folds := lagFolds; ; folds *= 2 {
		curves, left, err := f.followLags(g, path, start, folds*fold)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", g.Piece.What, err)
		}
		if left < lagLeft || folds >= mostFolds {
			g.uneven.Store(key, curves)
			return curves, nil
		}
	}
}

// A piece is followed for lagFolds e-folds of its own, and for twice as many until
// less is left of the heat of the flame than lagLeft [K]: on a shelf it gives heat
// away through one face, and takes four times as long. What is left after mostFolds
// counts for good.
const (
	lagFolds  = 8.0
	mostFolds = 64 * lagFolds
	lagLeft   = 0.05
)

// followLags follows a piece for some time [s] after the end of a path. left is the
// most that is left then.
func (f firing) followLags(g *Group, path []program.Point, start unit.Temp, after float64) (curves [][]sim.Lags, left float64, err error) {
	last := path[len(path)-1]
	until := last.Time + after
	f.timeline = program.Timeline{Points: append(slices.Clone(path), program.Point{Time: until, Temp: last.Temp})}
	kinks := slices.DeleteFunc(slices.Clone(f.kinks), func(t float64) bool { return t >= last.Time })
	if last.Time > 0 {
		kinks = append(kinks, last.Time)
	}
	kinks = append(kinks, until)
	curves = make([][]sim.Lags, len(f.offsets))
	for i := range curves {
		curves[i] = make([]sim.Lags, len(g.glasses))
	}
	err = parallel.Each(context.Background(), len(curves)*len(g.glasses), func(n int) error {
		i, j := n/len(g.glasses), n%len(g.glasses)
		q, gl := f.problem(g, f.offsets[i], 0), g.glasses[j]
		q.Start, q.Kiln.Kinks = func(float64) float64 { return start.Kelvin() }, kinks
		q.Material, q.Light, q.Variants = gl.material, gl.light, []sim.Variant{heatAlone}
		_, res, err := g.simulate(q, heatSteps)
		curves[i][j] = res.Lags
		return err
	})
	for _, c := range curves {
		for _, l := range c {
			left = max(left, l.At(until))
		}
	}
	return curves, left, err
}

// heatAlone is glass in which nothing relaxes: no temperature depends on it, and
// half the work is saved. The steps are those where something does, which may change
// a temperature by a tenth of what they may otherwise.
var (
	heatAlone = sim.Variant{Name: "heat alone", A: 40}
	heatSteps = sim.Settings{MaxChange: 0.8, Lags: true}
)

// coreIn returns how hot the middle of a piece is when it goes in, zero if it is
// even with the kiln.
func coreIn(p piece.Piece, into piece.Into) unit.Temp {
	switch {
	case p.Textbook || p.Even:
		return unit.Temp{}
	case p.Core.IsZero() && into == piece.HotKiln && p.Glass.Soften.Known():
		return evening.FromFlame(p.Glass.Soften.Temp()).At
	}
	return p.Core
}

// stillHot is the most that is left of a difference between a piece and its kiln
// after a time: the slowest mode of a body whose surface follows the kiln begins
// with at most twice the difference (a sphere), and five e-folds count as even.
func stillHot(in, eFold time.Duration) float64 {
	if in >= evening.EvenFolds*eFold {
		return 0
	}
	return math.Min(1, 2*math.Exp(-in.Seconds()/eFold.Seconds()))
}

// followsBy is what multiplies the heat transfer of a surface that follows its kiln:
// so much that what it takes to pass is no longer seen beside what the inside takes.
const followsBy = 1e4

// eFold returns the time in which a piece evens out to 1/e in a kiln at a
// temperature. It is that of average glass, opaque where somebody says so, whose
// conductivity keeps the value of its end beyond its range.
func eFold(p piece.Piece, at unit.Temp) time.Duration {
	m, _, err := piece.Material(p.Glass)
	if err != nil {
		return 0
	}
	s, kelvin := piece.Surface(p.Glass), at.Kelvin()
	h := evening.HeatTransferAt(at, s.Emissivity)
	if s.Follows {
		h *= followsBy
	}
	k := m.Conductivity(kelvin)
	if p.Light == piece.Opaque && p.Glass.ConductivityPhonon.Known() {
		k = p.Glass.ConductivityPhonon.At(kelvin)
	}
	return evening.EFold(p.Body().Sim, k, k/(m.Density*m.SpecificHeat(kelvin)), h)
}

// EvenAt returns when a piece is even with the kiln, in time of the program; zero
// if it is when that starts. A piece that went in at a temperature far above the
// softening point of its glass takes more than five e-folds.
func EvenAt(p piece.Piece, into piece.Into, at unit.Temp) time.Duration {
	core := coreIn(p, into)
	if core.IsZero() || p.Core.IsZero() && core.Less(at) {
		return 0
	}
	fold := eFold(p, at)
	even := evening.EvenAt(-p.In, fold, evening.Core{At: core})
	if more := math.Log(math.Abs(float64(core.Sub(at)))/evenExcess) - evening.EvenFolds; more > 0 {
		even += time.Duration(more * float64(fold))
	}
	return max(0, even)
}

// evenExcess is the difference that five e-folds take down to what counts as even
// [K]: that between the softening and the annealing point of borosilicate 3.3.
var evenExcess = 260 * math.Exp(-evening.EvenFolds)

// explainFlame says when the last piece that went in hot is even, what was assumed
// of it, and where nothing relaxes while pieces wait.
func (rep *Report) explainFlame(f firing) {
	if rep.Load.Into != piece.HotKiln {
		return
	}
	from := rep.Schedule.From
	last, most := finding.None, time.Duration(0)
	for i, p := range rep.Load.Pieces {
		if even := EvenAt(p, rep.Load.Into, from); even > most {
			last, most = i, even
		}
		if p.Core.IsZero() && !coreIn(p, rep.Load.Into).IsZero() {
			rep.Assumptions.Add(finding.OfGlass(finding.CoreAssumed, p.Glass.Name).At(p.Glass.Soften.Temp()))
		}
		if strain := p.Glass.Strain.Temp(); float64(strain.Sub(from)) > 1 && !rep.Replayed {
			waits := finding.OfGlass(finding.WaitsSet, p.Glass.Name).At(from).Against(strain).Which(p.Core.IsZero())
			if r := rep.Pieces[i]; !p.Core.IsZero() && r.Over.Has(finding.OverTension) {
				waits = waits.Pulled(r.Tension.Worst, r.Tension.Pair.Worst)
			}
			rep.Notes.Add(waits)
		}
	}
	if last != finding.None {
		mark, soaked, _ := f.soakMark(rep.Load.Pieces[last])
		rep.Notes.First(finding.OfPiece(finding.LastEven, last).Lasting(unit.WholeMinutes(most), 0).Which(soaked && mark >= most.Seconds()))
	}
}
