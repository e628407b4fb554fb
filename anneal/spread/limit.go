package spread

import (
	"math"

	"lehr/glass"
	"lehr/glass/unit"
)

// Pair is what a tension is held against: once for average glass and once for
// the worst case.
type Pair struct{ Expected, Worst unit.Stress }

// Wear is what a piece is asked to bear beside its program.
type Wear int

const (
	Ordinary Wear = iota // made, kept and used as glass is
	Abused               // sawn, ground, mailed, left in a frozen car: after the kiln
	Worked               // already scratched, ground or sawn when it goes back into the kiln
	Doubtful             // reheated, and nobody knows what stress it brings
)

// Support is one fact that a limit rests on, with its source.
type Support struct {
	Text   string // what it says, in its own units, and where
	Cite   string // what it is about and where, without its numbers
	Status glass.Status
	Of     Kind // the glass it was found for
}

// Kind is the kind of glass a fact was found for.
type Kind int

const (
	AnyGlass Kind = iota
	Hard          // borosilicate 3.3 and its like
	Soft          // soda-lime, and by analogy every glass that expands like it
)

// softFrom is the expansion [1/K] from which a glass counts as soft. The hard
// glasses of the table end at 4.9e-6 and float begins at 8.3e-6; crown, between
// them at 7.1e-6, is soft.
const softFrom = 6.5e-6

// kindOf returns the kind of a glass by its expansion.
func kindOf(g *glass.Glass) Kind {
	if g.Expansion.Number >= softFrom {
		return Soft
	}
	return Hard
}

// Limit is one of the four limits of tension.
type Limit struct {
	Key  string // "surface-hours", "inside-hours", "left-inside" or "left-surface"
	Name string // in words
	// Ordinary, Abused and Worked are the pairs of [Wear]; a Worked piece is
	// held to the Abused pair for what is left in it.
	// A Doubtful piece is held to half the ordinary tension in the kiln, as it may
	// bring as much again; once it has soaked it is like any other.
	Ordinary, Abused, Worked, Doubtful Pair
	// FullTo is the diameter up to which the worst case holds; above, it falls
	// with the root of FullTo over the diameter. 0: it does not.
	FullTo unit.Length
	// Reserve is what is kept back, in an artist's words. Every limit leaves to it
	// scars, drafts, a controller a few degrees off, and many pieces in one load: 20
	// balls have 20 times the skin, 30 to 45 % weaker at the weakest spot.
	Reserve  string
	Supports []Support
}

const mpa = unit.Megapascal

// fullTo is the greatest sphere in which no flaw runs at the full worst case.
const fullTo = 90 * unit.Millimeter

var (
	permanent = Support{"7 N/mm² permitted in pressure equipment of borosilicate 3.3: EN 1595, as the maker's data page for tubing and rod of DIN ISO 3585 quotes it",
		"borosilicate 3.3 in pressure equipment: EN 1595, as a maker's page for tubing quotes it", glass.Quoted, Hard}
	float = Support{"7 MPa for a long time in soda-lime float, 19 in design, 41 on average after a minute: float glass maker's technical bulletin ATS-129 (2008 and 2013)",
		"float over years: its maker's technical bulletin ATS-129", glass.Verified, Soft}
	roughened = Support{"half of it for a roughened surface: EN 16612 and a design guide, as coded in calculation programs",
		"rough surface: EN 16612 and a design guide, as coded in programs", glass.Quoted, AnyGlass}
	tough = Support{"toughness of a borosilicate annealed at 550 °C, dry, 0.64 MPa√m: chevron-notch paper, abstract",
		"toughness: chevron-notch paper on borosilicate, abstract", glass.Verified, Hard}
	toughSoft = Support{"toughness of soda-lime glass without water, 0.77 MPa√m, three tests: J. Eng. Mater. Technol. 112 (2), 151, abstract; the limit takes the 0.64 of borosilicate",
		"toughness: J. Eng. Mater. Technol. 112 (2), 151, on soda-lime glass, abstract", glass.Verified, Soft}
	noFlaw = Support{"no flaw of any size grows in a tension of the shape that cooling makes (AnyFlaw)",
		"no flaw grows: fracture mechanics", glass.Derived, AnyGlass}
	beam = Support{"weakest of the beams cast in a kiln 9.4 MPa in a short test, float, and 10.1, borosilicate: Bristogianni and others (2020), Glass Struct. Eng. 5, 445, tables",
		"beams cast in a kiln: Bristogianni and others (2020), Glass Struct. Eng. 5, 445", glass.Verified, AnyGlass}
	hours = Support{"of that, 6.3 MPa over ten hours by the 16th root of time: a design guide, as coded in a calculation program",
		"over hours: a design guide, as coded in a program", glass.Quoted, AnyGlass}
	blanks = Support{"lens blanks are coarse above 20 nm/cm, 0.75 MPa in the middle of a sphere: introduction to ISO 10110",
		"lens blanks: introduction to ISO 10110", glass.Verified, AnyGlass}
	bottles = Support{"one temper number of bottles is 2.1 MPa in the middle of a sphere of borosilicate, 3.0 of soda-lime: ASTM C148",
		"bottles: ASTM C148", glass.Derived, AnyGlass}
)

// Limits returns the four limits. Borosilicate and soft glass have the same:
// soft glass is tougher dry and fares worse wet. Of lead glass, opals and
// glasses of expansion 104 no toughness was read.
//
// Source: limits study, sec. 3 [derived], with the supports named in each. No
// number rests on what was recalled alone: with every support of that status
// struck out, each is still borne by the others. Expected values stay at half
// of what is permitted for good; the worst case has numbers of its own, because
// the halving was there for what is now computed. Half for doubtful pieces is
// what the trade does, which heats them about half as fast [common practice]: the
// tension goes with the rate.
func Limits() []Limit {
	return []Limit{
		{Key: "surface-hours", Name: "tension at the surface while cooling",
			Ordinary: Pair{3.5 * mpa, 5 * mpa}, Abused: Pair{3.5 * mpa, 5 * mpa}, Worked: Pair{2.5 * mpa, 3.5 * mpa}, Doubtful: Pair{1.75 * mpa, 2.5 * mpa},
			Reserve:  "with average glass the skin is pulled half as hard as pressure-vessel rules allow this glass wet and for years; with everything against you, seven tenths. The worst bar of the one tested series of cast glass would still last ten hours of it with a quarter to spare, well-formed ones with four times",
			Supports: []Support{permanent, float, beam, roughened, hours}},
		{Key: "inside-hours", Name: "tension inside, passing and left together",
			Ordinary: Pair{3.5 * mpa, 5 * mpa}, Abused: Pair{3.5 * mpa, 5 * mpa}, Worked: Pair{2.5 * mpa, 3.5 * mpa}, Doubtful: Pair{1.75 * mpa, 2.5 * mpa}, FullTo: fullTo,
			Reserve:  "even a crack across the middle that nobody can see would not run, in a ball up to 3.5 inches, dry",
			Supports: []Support{tough, toughSoft, noFlaw}},
		{Key: "left-inside", Name: "tension left inside",
			Ordinary: Pair{1 * mpa, 2 * mpa}, Abused: Pair{0.6 * mpa, 1 * mpa}, Worked: Pair{0.6 * mpa, 1 * mpa}, Doubtful: Pair{1 * mpa, 2 * mpa}, FullTo: fullTo,
			Reserve:  "with everything against you, two sevenths of what pressure vessels may bear for years, inside the best grade that bottles are sorted by; dry, a buried flaw of any size would bear two and a half times as much, in a ball up to 3.5 inches. For abuse half of that, about where lens blanks begin to be called coarse",
			Supports: []Support{permanent, float, tough, toughSoft, noFlaw, blanks, bottles}},
		{Key: "left-surface", Name: "tension left at the surface",
			Ordinary: Pair{2 * mpa, 3.5 * mpa}, Abused: Pair{1 * mpa, 2 * mpa}, Worked: Pair{1 * mpa, 2 * mpa}, Doubtful: Pair{2 * mpa, 3.5 * mpa},
			Reserve:  "half of what pressure-vessel rules allow this glass wet and for years, at a rim that gets scratched",
			Supports: []Support{permanent, float, roughened}},
	}
}

// For returns what the limit rests on for a glass: the facts of its kind and
// those of any glass, in the order of Supports.
func (l Limit) For(g *glass.Glass) []Support {
	var out []Support
	for _, s := range l.Supports {
		if s.Of == AnyGlass || s.Of == kindOf(g) {
			out = append(out, s)
		}
	}
	return out
}

// At returns the pair for a piece. sphere is its size as [Sphere] gives it.
func (l Limit) At(sphere unit.Length, w Wear) Pair {
	p := l.Ordinary
	switch w {
	case Abused:
		p = l.Abused
	case Worked:
		p = l.Worked
	case Doubtful:
		p = l.Doubtful
	}
	if l.FullTo > 0 && sphere > l.FullTo {
		p.Worst = unit.Stress(float64(p.Worst) * math.Sqrt(float64(l.FullTo)/float64(sphere)))
	}
	return p
}

// slabSphere is the diameter of the sphere that a slab counts as, over its
// thickness: 2.33 in an endless body, more with free surfaces.
const slabSphere = 2.5

// Sphere returns the diameter of the sphere that a piece counts as for the size
// of flaws: of a slab two and a half times its thickness, of a round piece its
// own diameter.
//
// Source: limits study, sec. 2.2 [derived]; anyFlaw gives 2.33.
func Sphere(size unit.Length, slab bool) unit.Length {
	if slab {
		return unit.Length(slabSphere * float64(size))
	}
	return size
}

// Verdict says how a stress stands against its limit.
type Verdict int

const (
	Within    Verdict = iota // both numbers are met
	NotProven                // average glass meets the limit, the worst case does not
	TooMuch                  // average glass does not
)

// Judge compares an expected stress and its worst case with a pair. What is no
// number is too much.
func (p Pair) Judge(expected, worst unit.Stress) Verdict {
	const slack = 1 + 1e-9
	switch {
	case !(expected <= p.Expected*slack) || math.IsNaN(float64(worst)):
		return TooMuch
	case !(worst <= p.Worst*slack):
		return NotProven
	}
	return Within
}

// Use returns how much of the pair is used up: the greater of both shares, 1 at
// a limit. A planner meets both numbers when it is at most 1.
func (p Pair) Use(expected, worst unit.Stress) float64 {
	return math.Max(float64(expected/p.Expected), float64(worst/p.Worst))
}
