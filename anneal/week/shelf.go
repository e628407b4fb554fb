package week

import (
	"math"

	"lehr/glass/unit"
)

// hair forgives the noise of converted lengths.
const hair = 1e-9

// Foot is what a piece covers on the shelf.
type Foot struct {
	Across, Along unit.Length
	Round         bool // a circle of diameter Across
}

// circles returns how many circles lie on a shelf in square rows and in offset
// rows, the latter with the rows either way round.
//
// gap is the least distance between two; they may touch the edge of the shelf,
// which is the part that heats evenly.
//
//	square: ⌊(W + g)/(D + g)⌋ · ⌊(L + g)/(D + g)⌋
//	offset: rows (D + g)√3/2 apart, every second one shorter by one where it
//	does not fit
//
// Source: elementary geometry [derived in shelf_test.go].
//
// Checked: testdata/cases/week.toml
func circles(width, depth, diameter, gap unit.Length) (square, offset int) {
	f := Foot{Across: diameter, Along: diameter, Round: true}
	square = f.row(width, gap) * f.row(depth, gap)
	for _, s := range [][2]unit.Length{{width, depth}, {depth, width}} {
		n := 0
		for offsetRows(f, s[0], gap, n+1) <= float64(s[1]+gap)+hair {
			n++
		}
		offset = max(offset, n)
	}
	return square, offset
}

// row returns how many stand in a row of a length.
func (f Foot) row(length, gap unit.Length) int {
	return max(0, int(math.Floor(float64((length+gap)/(f.Across+gap))+hair)))
}

// offsetRows returns how deep n circles in offset rows are, with one gap
// behind; infinite if not even one fits.
func offsetRows(f Foot, width, gap unit.Length, n int) float64 {
	a := f.row(width, gap)
	if a == 0 {
		return math.Inf(1)
	}
	b := a - 1
	pitch := float64(f.Across + gap)
	if (float64(a)+0.5)*pitch <= float64(width+gap)+hair {
		b = a
	}
	if b == 0 && n > 1 { // one above the other: no gain
		return pitch * float64(n)
	}
	rows := 2 * (n / (a + b))
	switch rest := n % (a + b); {
	case rest > a:
		rows += 2
	case rest > 0:
		rows++
	}
	return pitch + float64(rows-1)*pitch*math.Sqrt(3)/2
}

// band returns how much of the depth of a shelf n pieces of a kind take, with
// one gap behind, when they lie in rows across its width.
func (f Foot) band(width, gap unit.Length, n int) float64 {
	if n == 0 {
		return 0
	}
	rows := func(across, along unit.Length) float64 {
		a := Foot{Across: across}.row(width, gap)
		if a == 0 {
			return math.Inf(1)
		}
		return math.Ceil(float64(n)/float64(a)) * float64(along+gap)
	}
	best := rows(f.Across, f.Along)
	if f.Round {
		return min(best, offsetRows(f, width, gap, n))
	}
	return min(best, rows(f.Along, f.Across))
}

// fits reports whether counts of the kinds lie on a shelf together, and how
// much of its depth stays free, as a share.
func fits(kinds []Kind, counts []int, k Kiln, gap unit.Length) (free float64, ok bool) {
	free = -1
	for _, s := range [][2]unit.Length{{k.Width, k.Depth}, {k.Depth, k.Width}} {
		room := float64(s[1] + gap)
		for i, n := range counts {
			room -= kinds[i].Foot.band(s[0], gap, n)
		}
		if room >= -hair {
			free = max(free, room/float64(s[1]+gap), 0) // a hair short is none over
		}
	}
	return max(0, free), free >= 0
}

// capacity returns how many of a kind alone lie on the shelf of a kiln.
func capacity(kind Kind, k Kiln, gap unit.Length, most int) int {
	if kind.Height > k.Height {
		return 0
	}
	lo, hi := 0, most
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if _, ok := fits([]Kind{kind}, []int{mid}, k, gap); ok {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return lo
}
