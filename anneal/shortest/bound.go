package shortest

import (
	"math"
	"time"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/piece"
	"lehr/anneal/verify"

	"lehr/glass/unit"
)

// Floor is the time that no program can beat, by closed forms alone: nothing
// in it comes from the simulator or from the search.
//
// For each group of pieces it adds, for average glass, the least time
// that the soak can take at any temperature allowed and the least time to cool
// from there, and takes the largest sum. The parts:
//
//   - Kiln: at every temperature the kiln heats and falls no faster than it
//     can. Exact for the kiln as given.
//   - Soak: the share of stress left after a time at constant temperature, six
//     terms or one, no hotter than the hotter of start and soak. Exact for a
//     glass in equilibrium; one that is not relaxes slower.
//   - Tension: weighting the heat equation by the profile ψ of steady cooling
//     (κ∇²ψ = −1) gives, for a constant diffusivity and without approximation,
//     ∫ψ(T₀−T₁) = ∫(mean T − surface T) dt: the ψ-weighted mean cools by no more
//     than the tension allows, at the steady rate, whatever the transients. At
//     the end the middle may trail the kiln by its steady lag and by that of its
//     surface; that time is given back. With properties that vary the largest
//     diffusivity of the moment is taken. The compression that the limit of
//     tension left allows at the surface is added to the limit.
//   - Tension left: in quasi-steady cooling the tension left is A ∫ r k dT,
//     where A r is left by a steady rate r and k, whose integral is 1, says at
//     which temperatures stress sets. Under that budget and the other caps the
//     least time has r ∝ 1/√k (Cauchy and Schwarz). k is that of the relaxation
//     of shear alone at the steady rate that just meets the limit, narrower
//     than the true one, which gives a lower time.
//
// The last part is an estimate from below, not a theorem: it neglects that k
// moves with the rate, and takes the structural share from the proportion of
// [formula.StructuralFactor]. It is therefore lowered by the share that allowance
// returns: of 500 random loads (TestRandomLoads) three lay below it otherwise,
// by up to 2 %.
type Floor struct {
	Total time.Duration
	Soak  time.Duration // heating and soak in that total
	Kiln  time.Duration // what the kiln alone would take, without any piece
	What  string        // the piece that decides
}

// allowance returns the share of the closed-form stress that the floor gives away:
// 5 % of the tension left, and of all tension 20 % for a tube, for whose ring the slab
// of its wall stands, and 60 % for a flat piece: its closed forms carry factors for the
// rim, 1.6 and 1.55, and a thick one may have less.
func allowance(k *verify.Group) float64 {
	if _, flat := k.Piece.Outline(); flat {
		return 0.6
	}
	if k.Body.Sim.Inner > 0 {
		return 0.2
	}
	return solidAllowance
}

const solidAllowance = 0.05

// floor computes the Floor of the load. Once the context has ended it leaves out
// what it has not come to, which leaves a floor all the same.
func (sv *solver) floor() Floor {
	k := sv.st.Kiln
	open := sv.st.Opening
	from := sv.frame.From
	base := sv.frame.Coolest
	if base.Less(from) {
		base = from
	}
	if sv.frame.Hottest.Less(base) {
		base = sv.frame.Hottest
	}
	best := Floor{}
	best.Kiln = unit.Seconds(k.Ramp(from, base, inf) + k.Ramp(base, open, -inf))
	best.Total = best.Kiln
	groups := sv.evaluator.Groups
	total, soak := make([]float64, len(groups)), make([]float64, len(groups))
	_ = parallel.Each(sv.ctx, len(groups), func(i int) error {
		total[i], soak[i] = sv.floorOf(groups[i], base.Kelvin(), sv.frame.Hottest.Kelvin())
		return nil
	})
	for i, g := range groups {
		if t := unit.Seconds(total[i]); t > best.Total {
			best.Total, best.Soak, best.What = t, unit.Seconds(soak[i]), g.Piece.What
		}
	}
	return best
}

var inf = unit.Rate(math.Inf(1))

// soakSteps are the steps of the soaks that floorOf tries [K]. Each is taken to relax as
// its hot end and to cool from its cold one, which lowers the floor: of four loads it
// was 0.1 % higher by steps of 1 K, and as much lower by 5 K.
const soakSteps = 2.5

// floorOf is the floor of one group, for soaks from low to high.
func (sv *solver) floorOf(k *verify.Group, low, high float64) (total, soak float64) {
	tau, terms := k.Relaxation()
	from := sv.frame.From.Kelvin()
	cool := sv.coolFloor(k, high)
	total = math.Inf(1)
	for at := low; at < high+soakSteps; at += soakSteps {
		// Relaxing as at the hot end of the step, cooling from its cold end.
		hot := math.Max(math.Min(at+soakSteps, high), from)
		unrelaxed := 1 - sv.evaluator.Limits().Relaxed
		hold, _, _ := bisect(0, endlessHold, func(lo, hi float64) bool { return hi-lo > holdExact*hi && hi >= leastFloorHold }, func(hold float64) (bool, error) {
			sum := 0.0
			for _, t := range terms {
				sum += t.Weight * math.Exp(-hold/(tau(hot)*t.Time))
			}
			return sum <= unrelaxed, nil
		})
		at := math.Min(at, high)
		up := sv.heatFloor(k, from, at)
		if s := up + hold + cool(at); s < total {
			total, soak = s, up+hold
		}
	}
	return total, soak
}

// The hold of the floor is bisected from decades, which no glass of a load needs, to a
// millionth, which is no longer seen in the sum, or to a millisecond, which is none.
const (
	endlessHold    = 1e9 // [s]
	holdExact      = 1e-6
	leastFloorHold = 1e-3 // [s]
)

// heatFloor is the least time from the start to the soak.
func (sv *solver) heatFloor(k *verify.Group, from, to float64) float64 {
	kiln := sv.st.Kiln.Ramp(unit.Kelvin(from), unit.Kelvin(to), inf)
	if to-from < smallHeat {
		return kiln
	}
	end := math.Min(to, piece.SetPoint(k.Piece.Glass).Kelvin())
	sum, lower := 0.0, 1.0
	if a := allowance(k); a > solidAllowance {
		lower = 1 - a
	}
	for t := from; t < end; t++ {
		kappa := k.Kappa(t, 0)
		_, inner, _, _ := k.Steady(1, kappa)
		r := float64(sv.evaluator.Limits().Tension) / (lower * float64(inner))
		sum += 1 / math.Min(r, float64(sv.st.Kiln.HeatRate(unit.Kelvin(t))))
	}
	insideLag, surfaceLag := k.Lag(k.Kappa(end, 0), end)
	rest := sv.st.Kiln.Ramp(unit.Kelvin(end), unit.Kelvin(to), inf)
	return math.Max(kiln, sum+rest-insideLag-surfaceLag)
}

// profile is the fastest cooling by the closed forms, cell by cell of even
// height, from the top down.
type profile struct {
	top, height float64
	rate, kappa []float64
}

// The steps of the profile [K], fine against the 30 K over which glass sets: by four
// times as many the floor is the same to 0.01 %, by a quarter of them to 0.02 %. The
// inside is up to trails hotter, which is where its diffusivity is looked for.
const (
	profileSteps = 1.0
	trails       = 20.0
)

// profile computes the fastest cooling of one group from top to the opening
// temperature.
func (sv *solver) profile(k *verify.Group, top float64) profile {
	open := sv.st.Opening.Kelvin()
	lim := sv.evaluator.Limits()
	n := max(2, int(math.Ceil((top-open)/profileSteps)))
	h := (top - open) / float64(n)
	cap, kernel, kappas := make([]float64, n), make([]float64, n), make([]float64, n)
	residualPerRate := make([]float64, n) // what a steady rate leaves, per K/s
	tau, terms := k.Relaxation()
	lower := 1 - allowance(k)
	steadyRate := 0.0 // that uses up the limit of tension left
	for i := range cap {
		t := top - (float64(i)+0.5)*h
		kappa := k.Kappa(t, trails)
		kappas[i] = kappa
		surface, _, residual, compressed := k.Steady(1, kappa)
		residualPerRate[i] = lower * float64(residual)
		if k.Body.Sim.Inner > 0 {
			surface *= unit.Stress(lower)
		}
		allowed := float64(lim.Tension) + compressed*float64(lim.Residual)
		cap[i] = math.Inf(1)
		if t < piece.SetPoint(k.Piece.Glass).Kelvin() { // above, stress relaxes as it arises
			cap[i] = allowed / float64(surface)
		}
		cap[i] = math.Min(cap[i], float64(sv.st.Kiln.Fall.Rate(unit.Kelvin(t+h/2))))
		steadyRate = math.Max(steadyRate, float64(lim.Residual)/residualPerRate[i])
	}
	// Share of the stress that arises at a temperature and survives to the room.
	xi := make([]float64, len(terms))
	last := 1.0
	for i := n - 1; i >= 0; i-- {
		t := top - (float64(i)+0.5)*h
		m := 0.0
		for j, term := range terms {
			xi[j] += h / steadyRate / (tau(t) * term.Time)
			m += term.Weight * math.Exp(-xi[j])
		}
		residualPerRate[i] *= last - m
		kernel[i] = (last - m) / h
		last = m
	}
	return profile{top, h, quickest(cap, kernel, residualPerRate, float64(lim.Residual)), kappas}
}

// quickest returns the rates r ∝ 1/√k, none above its cap, that leave no more than
// a limit: cell i leaves residualPerRate[i] r.
func quickest(cap, kernel, residualPerRate []float64, limit float64) []float64 {
	const rigid = 1e-12 // [1/K]; nothing sets here
	rate := make([]float64, len(cap))
	fast := make([]float64, len(cap)) // 1/√k
	for i, k := range kernel {
		fast[i] = math.Inf(1)
		if k > rigid {
			fast[i] = 1 / math.Sqrt(k)
		}
	}
	spent := func(mu float64) float64 {
		sum := 0.0
		for i := range rate {
			rate[i] = math.Min(cap[i], mu*fast[i])
			sum += residualPerRate[i] * rate[i]
		}
		return sum
	}
	if spent(math.Inf(1)) > limit {
		_, over, _ := bisect(0, 1, func(lo, hi float64) bool { return hi-lo > 1e-9*hi }, func(mu float64) (bool, error) { return spent(mu) > limit, nil })
		spent(over)
	}
	return rate
}

// startRates is where the search begins: the fastest cooling by the closed forms
// of the groups that need the longest, cell by cell the slowest.
func (sv *solver) startRates(g grid, rule []float64) ([]float64, error) {
	rate := make([]float64, len(rule))
	top := g.node[0]
	for j := range rate {
		rate[j] = math.Max(g.natural[j], rule[j])
	}
	profiles := make([]profile, len(sv.evaluator.Groups))
	err := parallel.Each(sv.ctx, len(profiles), func(i int) error {
		profiles[i] = sv.profile(sv.evaluator.Groups[i], top)
		return nil
	})
	if err != nil {
		return nil, err
	}
	for _, p := range profiles {
		for j := range rate {
			i := int((top - g.middle(j)) / p.height)
			if i < len(p.rate) {
				rate[j] = math.Min(rate[j], p.rate[i])
			}
		}
	}
	for j := range rate {
		rate[j] = math.Max(sv.slowest, math.Min(rate[j], sv.fastest))
	}
	return rate, nil
}

// coolFloor returns the least time to cool from a soak to the opening
// temperature, as a function of the soak temperature, at most top.
func (sv *solver) coolFloor(k *verify.Group, top float64) func(float64) float64 {
	open := sv.st.Opening.Kelvin()
	p := sv.profile(k, top)
	// More than the kiln alone would take, up to each temperature, less what
	// the lag of the piece there gives back; the largest counts.
	return func(soak float64) float64 {
		kiln := sv.st.Kiln.Fall.Time(unit.Kelvin(soak), unit.Kelvin(open), -inf)
		more, best := 0.0, 0.0
		for i := range p.rate {
			t := top - (float64(i)+1)*p.height
			if t >= soak {
				continue
			}
			d := math.Min(p.height, soak-t)
			more += d/p.rate[i] - sv.st.Kiln.Fall.Time(unit.Kelvin(t+d), unit.Kelvin(t), -inf)
			insideLag, surfaceLag := k.Lag(p.kappa[i], t)
			best = math.Max(best, more-insideLag-surfaceLag)
		}
		return kiln + best
	}
}
