package spread

import (
	"math"
	"time"

	"lehr/glass/unit"
)

// Toughness of glass: the K = stress × √length [Pa√m] at which a crack runs at
// once, dry, and below which it stands still for good even wet.
//
// Source: Dry: a borosilicate annealed at 550 °C, chevron-notch paper, abstract
// [verified]. Wet: fracture literature, 0.18 to 0.35 [memory]; no limit rests on
// it.
const (
	toughDry = 0.64e6
	toughWet = 0.25e6
)

// flaw is a shape of crack, by the factor of its K = factor × stress × √(π a).
type flaw float64

// The shapes of linear elastic fracture mechanics.
//
// Source: textbook forms [memory; the round crack is re-derived in
// basis_test.go].
const (
	RoundInside flaw = 2 / math.Pi // 2 σ √(a/π), a its radius
	HalfRound   flaw = 0.73        // at the surface, a its depth
	LongScratch flaw = 1.12        // or an edge, a its depth
)

// size returns the largest flaw of this shape that stays as it is in an even
// tension: its depth, or its radius inside.
func (f flaw) size(tension unit.Stress, toughness float64) unit.Length {
	x := toughness / (float64(f) * float64(tension))
	return unit.Length(x * x / math.Pi)
}

// anyFlaw returns the tension in the middle of a sphere of this diameter at
// which no flaw grows, however large: a crack that outgrows the core runs into
// compression.
//
// The tension is S (1 − r²/c²), c = R/√2. A round crack of radius a across it has
// K = 2S √(a/π) (1 − 2a²/3c²), greatest at a² = 0.3 c². The free surface adds
// about 4 %, which is not in it.
//
// Source: limits study, sec. 2.2 [derived].
func anyFlaw(diameter unit.Length, toughness float64) unit.Stress {
	return unit.Stress(toughness / sphereFlaw(float64(diameter)))
}

// sphereFlaw returns the greatest K over S of a round crack in a sphere.
func sphereFlaw(diameter float64) float64 {
	c := diameter / 2 / math.Sqrt2
	a := math.Sqrt(0.3) * c
	return 2 * math.Sqrt(a/math.Pi) * (1 - 2*a*a/(3*c*c))
}

// anyFlawSlab is anyFlaw for a slab cooled from both faces: c = d/(2√3), and a
// long crack has K = S √(πa) (1 − a²/2c²), greatest at a² = 0.4 c².
func anyFlawSlab(thickness unit.Length, toughness float64) unit.Stress {
	return unit.Stress(toughness / slabFlaw(float64(thickness)))
}

func slabFlaw(thickness float64) float64 {
	c := thickness / (2 * math.Sqrt(3))
	a := math.Sqrt(0.4) * c
	return math.Sqrt(math.Pi*a) * (1 - a*a/(2*c*c))
}

// lasting returns the stress that lasts for a time, of one that lasts for
// another, when strength falls with a root of time (16 in design guides).
func lasting(strength unit.Stress, tested, load time.Duration, root float64) unit.Stress {
	return unit.Stress(float64(strength) * math.Pow(tested.Seconds()/load.Seconds(), 1/root))
}

// permitted returns a characteristic strength as building rules reduce it for
// the length of the load and by a partial factor.
func permitted(characteristic unit.Stress, duration, partial float64) unit.Stress {
	return characteristic * unit.Stress(duration/partial)
}

// held returns the tension at an edge that is fully held while the rest of a
// pane is warmer.
func held(young, expansion float64, difference unit.Delta) unit.Stress {
	return unit.Stress(young * expansion * float64(difference))
}

// seen returns the mean stress along a path from the retardation it shows, a
// length over a length. stressOptic is in 1/Pa.
func seen(retardation, path unit.Length, stressOptic float64) unit.Stress {
	return unit.Stress(float64(retardation) / float64(path) / stressOptic)
}

// The brightest ring of a sphere with the tension S in its middle shows
// 2/(3√3) = 0.385 C D S over a path of 0.577 D: two thirds of S.
const (
	ringShare = 2.0 / 3
	ringPath  = 0.5773502691896258 // 1/√3
)

// middle returns the tension in the middle of a sphere whose brightest ring
// shows this mean stress along its path.
func middle(seen unit.Stress) unit.Stress { return seen / ringShare }

// middleOf returns the tension in the middle of a sphere from the retardation of
// its brightest ring, seen in liquid of equal index.
func middleOf(retardation, diameter unit.Length, stressOptic float64) unit.Stress {
	return middle(seen(retardation, unit.Length(ringPath*float64(diameter)), stressOptic))
}

// knocked returns the greatest tension in the middle of a sphere whose surface
// suddenly gets warmer: (2/3) E α ΔT/(1−ν) times the greatest lag of its middle
// behind its mean.
//
//	T_mean − T_middle = ΔT Σ (2(−1)ⁿ⁺¹ − 6/(n²π²)) e^(−n²π² Fo)
//
// Source: Carslaw & Jaeger 1959, sec. 9.3 [memory], for the series.
func knocked(young, poisson, expansion float64, rise unit.Delta) unit.Stress {
	return unit.Stress(young * expansion * float64(rise) / (1 - poisson) * knockShare())
}

// knockShare finds the greatest of the series, which has one top.
func knockShare() float64 {
	at := func(fo float64) float64 {
		sum := 0.0
		for n := 1; n < 60; n++ {
			x := float64(n*n) * math.Pi * math.Pi
			sign := 2.0
			if n%2 == 0 {
				sign = -2
			}
			sum += (sign - 6/x) * math.Exp(-x*fo)
		}
		return 2.0 / 3 * sum
	}
	low, high := 0.005, 0.5
	for range 100 {
		a, b := low+(high-low)/3, high-(high-low)/3
		if at(a) < at(b) {
			low = a
		} else {
			high = b
		}
	}
	return at((low + high) / 2)
}
