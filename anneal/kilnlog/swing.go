package kilnlog

import (
	"math"
	"slices"
	"time"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// Swing is how far the relay of a controller makes the reading swing about what
// it aims at. The zero value is none that stands out of the noise.
type Swing struct {
	Amplitude unit.Delta // half of the way from the lowest to the highest
	Period    time.Duration
}

// What a swing must be to be told from noise.
const (
	shortestSwing = 2 * time.Minute
	longestSwing  = 30 * time.Minute
	leastSwing    = 1.0  // [K]
	alikeSwing    = 0.5  // correlation of the readings one period apart
	hottestPart   = 150. // [K] below the hottest reading, where the elements work
	mostSwung     = 1500 // readings looked at
)

// swing looks for a regular swing in the hottest part of a log: what is left of
// the readings beside straight lines over half an hour, repeated after a
// period.
func swing(r []kiln.Reading, usual time.Duration, noise unit.Delta) Swing {
	if usual <= 0 || 4*usual > longestSwing {
		return Swing{}
	}
	rest, longest := residues(r, usual), int(longestSwing/usual)
	if len(rest) < 3*longest/2 || len(rest) < 20 {
		return Swing{}
	}
	lag := repeats(rest, longest)
	if lag == 0 || time.Duration(lag)*usual < shortestSwing {
		return Swing{}
	}
	// Readings half a period apart differ by twice the swing, and by little of
	// what is slow.
	half := max(1, lag/2)
	sum := 0.0
	for i := half; i < len(rest); i++ {
		sum += (rest[i] - rest[i-half]) * (rest[i] - rest[i-half])
	}
	sum = sum/float64(len(rest)-half) - 2*float64(noise*noise)
	amplitude := math.Sqrt(math.Max(0, sum)/2) / math.Sin(math.Pi*float64(half)/float64(lag))
	if amplitude < leastSwing {
		return Swing{}
	}
	return Swing{Amplitude: unit.Delta(amplitude), Period: time.Duration(lag) * usual}
}

// residues returns how far the readings of the first long stretch without a gap in
// the hottest part lie above a straight line through those around each [K].
func residues(r []kiln.Reading, usual time.Duration) (rest []float64) {
	hot := slices.MaxFunc(r, func(a, b kiln.Reading) int { return a.At.Compare(b.At) }).At
	lo, hi := 0, 0
	from := time.Duration(-1)
	for i := range r {
		if float64(hot.Sub(r[i].At)) > hottestPart || i > 0 && r[i].Time-r[i-1].Time > 2*usual {
			if len(rest) > 60 {
				break
			}
			rest, from = rest[:0], -1
			continue
		}
		if from < 0 {
			from = r[i].Time
		}
		for r[lo].Time < r[i].Time-noisyHalf {
			lo++
		}
		for hi < len(r) && r[hi].Time <= r[i].Time+noisyHalf {
			hi++
		}
		if r[i].Time-from < noisyHalf {
			continue
		}
		rest = append(rest, r[i].At.Kelvin()-fitLine(r[lo:hi]).at(r[i].Time))
		if len(rest) >= mostSwung {
			break
		}
	}
	return rest
}

// repeats returns after how many readings they repeat, 0 if they do not: the first
// lag after the correlation has gone below zero at which it is greatest.
func repeats(rest []float64, longest int) (at int) {
	best, below := alikeSwing, false
	for lag := 1; lag <= min(longest, len(rest)/2); lag++ {
		c := alike(rest, lag)
		below = below || c < 0
		if below && c > best {
			best, at = c, lag
		} else if at > 0 && c < 0 {
			break
		}
	}
	return at
}

// alike is the correlation of numbers a lag apart.
func alike(x []float64, lag int) float64 {
	a, b, ab := 0.0, 0.0, 0.0
	for i := lag; i < len(x); i++ {
		a += x[i] * x[i]
		b += x[i-lag] * x[i-lag]
		ab += x[i] * x[i-lag]
	}
	if a == 0 || b == 0 {
		return 0
	}
	return ab / math.Sqrt(a*b)
}
