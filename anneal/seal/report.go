package seal

import (
	"lehr/anneal/seal/contents"
	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/unit"
)

// Body is the clear shape that everything lies in: a sphere by its diameter, a
// long round piece by its diameter, a flat one by its whole thickness.
type Body struct {
	Form sim.Form
	Size unit.Length
}

// Problem is a piece with what is in it, and how it cools.
type Problem struct {
	Clear    *glass.Glass
	Body     Body
	Contents contents.Contents
	// History is the temperature at the seal; empty, the piece cools at Rate
	// throughout (default 60 °C/h).
	History History
	Rate    unit.Rate
	// At is the temperature at a relative depth of the body, 0 the middle and 1 the
	// surface, where the places differ; it stands before History.
	At func(depth float64) History
	// ClosedAt is how hot the glass is when it closes over what is inside
	// (default: where it has 10^4 Pa·s).
	ClosedAt unit.Temp
	// Limit is the tension that the outer surface may carry (default
	// [contents.SurfaceLimit]); Already what the program itself leaves there.
	Limit, Already unit.Stress
}

// Range is a stress with the ends of what may be.
type Range struct{ Low, Expected, High unit.Stress }

// size returns the greatest size of any of the three.
func (r Range) size() unit.Stress { return max(r.High, -r.High, r.Low, -r.Low) }

// PlaceKind is where in a piece a stress is.
type PlaceKind string

// The kinds of place. Those at the surface are held against a limit; the others
// are buried.
const (
	OuterSurface PlaceKind = "outer surface"
	OverStone    PlaceKind = "surface over the stone"
	AlongStripe  PlaceKind = "along the stripe"
	BesideStripe PlaceKind = "beside the stripe"
	InCore       PlaceKind = "core"
	InsideOf     PlaceKind = "inside of the layer"
	OutsideOf    PlaceKind = "outside of the layer"
	AtStone      PlaceKind = "glass at the stone"
	InFoil       PlaceKind = "in the foil"
)

// AtSurface reports whether people and moist air reach the place.
func (k PlaceKind) AtSurface() bool {
	return k == OuterSurface || k == OverStone || k == AlongStripe || k == BesideStripe
}

// Place is the stress at one place, tension positive.
type Place struct {
	Kind PlaceKind
	In   string // the material that carries it
	Next string // the one it meets there, "" for air
	// Depth is how far from the middle of the piece it is, 1 at the surface.
	Depth float64
	Hoop  Range // round the piece or the stone; in the plane of a flat layer
	// Radial is across the seal: negative presses it together.
	Radial Range
}

// Verdict is the judgment of the outer surface, and of what cracks wherever it
// lies: a place inside is judged by nothing else.
type Verdict int

// The verdicts, the worst last.
const (
	Within Verdict = iota + 1
	NotJudged
	NotProven // fits middle values, not the range
	Over
)

// String returns the name of the verdict here: for tests and debugging.
func (v Verdict) String() string {
	return [...]string{"none", "Within", "NotJudged", "NotProven", "Over"}[v]
}

// FindingKind is what there is to say about a piece.
type FindingKind string

// The kinds of finding, each with what its Stress, Lengths, Temps and Number
// are.
const (
	// PullsLoose: the glass pulls on it (Stress, negative pressure) and the bond
	// usually opens: gap or halo.
	PullsLoose FindingKind = "pulls loose"
	// BuriedTension: Stress around it; a crack can run from a stone above
	// Lengths[0] in radius, the stone's is Lengths[1]; a flaw Lengths[2] deep
	// breaks it at once and dry, Lengths[3] over years where moist air reaches it.
	BuriedTension FindingKind = "buried tension"
	// LayerTension: a buried layer carries the tension Stress.
	LayerTension FindingKind = "tension in a buried layer"
	// Cracks: Of carries Stress for good by the middle of the ranges, more than
	// [StrengthReached].
	Cracks FindingKind = "cracks"
	// SurfaceOverStone: the surface over the stone carries more (Stress) than the
	// glass at it; Lengths[0] of glass lies over it, less than Lengths[1].
	SurfaceOverStone FindingKind = "surface over the stone"
	// HalfSpent: the surface carries Stress, within its limit and more than half of it.
	HalfSpent FindingKind = "half of the limit"
	// TestSealBreaks: the partner's expansion differs by Number [1/K] over the
	// fall, more than a test seal of two glasses bears.
	TestSealBreaks FindingKind = "test seals break"
	// Stays: no annealing removes it; half the cooling rate moves where the glass
	// sets by Delta and the stress by Number, a share.
	Stays FindingKind = "annealing leaves it"
	// Kinder: which way the partner had better differ. Per unit (1e-7/K) more in
	// it the greatest tension, which With carries, changes by Stress; for a stone,
	// that of the glass at it.
	Kinder FindingKind = "kinder direction"
	// UnstatedColor: nobody stated its expansion; ± Number [1/K] is assumed.
	UnstatedColor FindingKind = "color not stated"
	// WeakData: what is known of it rests on memory or on no measurement.
	WeakData FindingKind = "weak data"
	// LimitUnstated: nobody stated what the surface of this glass bears.
	LimitUnstated FindingKind = "limit not stated"
	// EdgeRaises: the edge of a flat stone raises the tension by Number.
	EdgeRaises FindingKind = "edge"
	// EdgeUnknown: the edge of a flat stone was not stated, Lengths[0] assumed.
	EdgeUnknown FindingKind = "edge not stated"
	// Crowded: stones lie Lengths[0] apart, less than three diameters Lengths[1].
	Crowded FindingKind = "too close"
	// DryFirst: it holds water.
	DryFirst FindingKind = "dry first"
	// Yields: a metal yields before it carries Stress.
	Yields FindingKind = "metal yields"
	// FilmIsNothing: a film of Lengths[0] does not matter to the glass.
	FilmIsNothing FindingKind = "thin film"
	// FoilRim: the rim of a foil Lengths[0] thick is not computed.
	FoilRim FindingKind = "foil rim"
	// SofterDecides: the partner is softer by Delta and sets last.
	SofterDecides FindingKind = "softer partner"
	// StructureAdds: transformation points apart by Delta may add Number [1/K]
	// to the mismatch; not in the figures.
	StructureAdds FindingKind = "structure adds"
	// StripeEdges: beside the edges of a stripe that is pressed together the clear
	// glass carries Stress, over a depth of about Lengths[0] [judgment].
	StripeEdges FindingKind = "edges of the stripe"
	// SkinAsBound: the skin of a round rod counts as a thin stripe, a bound.
	SkinAsBound FindingKind = "skin as stripe"
)

// Finding is one thing to say. What its quantities are stands with its kind.
type Finding struct {
	Kind    FindingKind
	Of      string // what it is about: a material
	With    string // what else
	Stress  unit.Stress
	Lengths [4]unit.Length
	Delta   unit.Delta
	Number  float64
}

// Light is what a polariscope shows of the misfit, seen along the line of the
// greatest retardation, for middle values.
type Light struct {
	Known bool
	// Now is the retardation after this history, Again that after a second
	// annealing at half the rate. What cooling too fast left goes; this stays.
	Now, Again unit.Length
	// Offset is how far from the middle of a sphere or stone that line passes, by a
	// straight ray, as in a liquid of the glass's index; Path, in a
	// flat piece, the length through its edge for which it holds.
	Offset, Path unit.Length
	// Round says that it is the middle of a sphere, and not that of a stone off it.
	Round bool
}

// Report is what there is to know of a piece with something in it.
type Report struct {
	// Setting is where the misfit begins to count, by the two viscosity curves;
	// SettingClosed the second opinion by the closed form, zero where the history
	// is not one steady rate. The greatest fall is the one computed with.
	Setting, SettingLow, SettingClosed unit.Temp
	// Pressure is how hard the glass presses on the first stone, or the first
	// seal from inside.
	Pressure Range
	Places   []Place
	Worst    unit.Stress // greatest tension at the surface, with what was there already
	Limit    unit.Stress
	Verdict  Verdict
	// Greatest is the diameter of the largest stone for this piece as it lies,
	// LeastCover the least glass over this one, LeastApart the least distance of
	// the middles of two; 0 where there is nothing to say.
	Greatest, LeastCover, LeastApart unit.Length
	// Cover is the glass over the first stone as it lies.
	Cover    unit.Length
	Light    Light
	Findings []Finding
	// Falls tells how the misfit grows in the history.
	Falls Setting
}

// AtSurface returns the greatest tension of any place at the surface, in the
// middle and at the upper end of its range. ok is false if the misfit does
// nothing there.
func (r Report) AtSurface() (worst Place, ok bool) {
	for _, p := range r.Places {
		if !p.Kind.AtSurface() {
			continue
		}
		if !ok {
			worst, ok = p, true
			continue
		}
		if p.Hoop.High > worst.Hoop.High {
			expected := worst.Hoop.Expected
			worst = p
			worst.Hoop.Expected = max(expected, p.Hoop.Expected)
		}
		worst.Hoop.Expected = max(worst.Hoop.Expected, p.Hoop.Expected)
	}
	return worst, ok
}

// Find returns the first finding of a kind.
func (r Report) Find(k FindingKind) (Finding, bool) {
	for _, f := range r.Findings {
		if f.Kind == k {
			return f, true
		}
	}
	return Finding{}, false
}
