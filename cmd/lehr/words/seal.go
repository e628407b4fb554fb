package words

import (
	"fmt"
	"strings"

	"lehr/anneal/seal"
	"lehr/anneal/seal/contents"
	"lehr/glass/unit"
)

// Seal says what a finding says of a piece with something in it, in sentences. r
// is the report that it stands in, in what the piece holds.
func (w Words) Seal(f seal.Finding, r seal.Report, in contents.Contents) string {
	units := func(x float64) string { return fmt.Sprintf("%.2g units (10⁻⁷/K)", x*1e7) }
	switch f.Kind {
	case seal.PullsLoose:
		return fmt.Sprintf("The glass pulls on the %s, with up to %s: it will pull loose, and show a gap or a halo. Once it is loose the numbers at the stone no longer hold.", f.Of, w.stress(-f.Stress))
	case seal.BuriedTension:
		return fmt.Sprintf("Around the %s the glass carries up to %s, buried, clean and dry; such tension does hold in pieces, and this is no promise. A crack can run from a stone of more than %s radius; this one has %s. What starts it is a flaw %s deep (bubble, grit, a sharp corner), at once; over years %s where moist air reaches it.",
			f.Of, w.stress(f.Stress), w.fine(f.Lengths[0]), w.fine(f.Lengths[1]), w.fine(f.Lengths[2]), w.fine(f.Lengths[3]))
	case seal.LayerTension:
		return fmt.Sprintf("Buried, %s carries up to %s. No limit is known for a clean buried seal; about %s is usual in seals of two glasses. A flaw %s deep would break it at once.", f.Of, w.stress(f.Stress), w.stress(10*unit.Megapascal), w.fine(f.Lengths[2]))
	case seal.Cracks:
		return fmt.Sprintf("It will crack, in the kiln or days after: %s carries %s for good in average glass, and the strongest of the tested beams of kiln-cast glass broke at %s.", sentenceCase(f.Of), w.stress(f.Stress), w.stress(seal.StrengthReached))
	case seal.SurfaceOverStone:
		return fmt.Sprintf("The stone lies close under the surface: there the glass carries up to %s, more than at the stone. Over it lies %s; the surface wants %s.", w.stress(f.Stress), RoundDown(f.Lengths[0], w.sys), RoundUp(f.Lengths[1], w.sys))
	case seal.HalfSpent:
		return fmt.Sprintf("The surface carries up to %s, more than half of its limit, before a scratch or a knock.", w.stress(f.Stress))
	case seal.TestSealBreaks:
		return fmt.Sprintf("%s differs by %s over the fall: test seals of two glasses are likely to break from %s on.", f.Of, units(f.Number), units(seal.SealMismatchLimit(r.Falls.Fall)))
	case seal.Stays:
		return fmt.Sprintf("No annealing removes this. At half the cooling rate the glass sets %s lower, which takes %.1f %% off.", f.Delta.Text(w.sys), f.Number*100)
	case seal.Kinder:
		per := w.stress(max(f.Stress, -f.Stress))
		for _, x := range in.Inside {
			if x.Material.Name == f.Of {
				return fmt.Sprintf("Kindest in place of the %s is a stone that expands as the glass does. One that expands less is squeezed: each unit (10⁻⁷/K) less puts %s of tension on the glass at it. One that expands more comes loose.", f.Of, per)
			}
		}
		way := "less"
		if f.Stress < 0 {
			way = "more"
		}
		return fmt.Sprintf("Kinder in place of %s is what expands %s: each unit (10⁻⁷/K) %s takes %s off the greatest tension, that of the %s.", f.Of, way, way, per, f.With)
	case seal.UnstatedColor:
		return fmt.Sprintf("Nobody stated how much %s expands: it is taken as the clear glass, with %s either way. Ask its maker, or look at a test piece between crossed polarizers.", f.Of, units(f.Number))
	case seal.WeakData:
		return fmt.Sprintf("The expansion of %s is no measurement of yours: judge by the range, not by the middle.", f.Of)
	case seal.LimitUnstated:
		return fmt.Sprintf("Nobody stated what the surface of %s bears for years: %s is that of other glasses.", f.Of, w.stress(r.Limit))
	case seal.EdgeRaises:
		return fmt.Sprintf("A flat %s has an edge, which raises the tension at it %.1f times over that of a round one: round it more.", f.Of, f.Number)
	case seal.EdgeUnknown:
		return fmt.Sprintf("Nobody said how round the edge of the %s is: a radius of %s is assumed.", f.Of, w.fine(f.Lengths[0]))
	case seal.Crowded:
		return fmt.Sprintf("The stones should lie %s apart from middle to middle, three diameters; nearer, the tension of each adds to that of the other.", RoundUp(f.Lengths[1], w.sys))
	case seal.DryFirst:
		return fmt.Sprintf("The %s holds water: it must be dry, and warmed through slowly, before glass closes over it. lehr seal --warm shows how.", f.Of)
	case seal.Yields:
		return fmt.Sprintf("The %s would have to carry %s and yields before: the numbers at it are an upper bound.", f.Of, w.stress(f.Stress))
	case seal.FilmIsNothing:
		return fmt.Sprintf("A film of %s so thin does nothing to the glass.", f.Of)
	case seal.FoilRim:
		return fmt.Sprintf("The rim and the folds of the %s are not computed; from %s of thickness on they matter.", f.Of, w.fine(f.Lengths[1]))
	case seal.SofterDecides:
		return fmt.Sprintf("%s is softer by %s and sets last: it decides where the misfit begins to count.", sentenceCase(f.Of), f.Delta.Text(w.sys))
	case seal.StructureAdds:
		return fmt.Sprintf("The annealing points of the two lie %s apart. While one still contracts as a liquid it may shrink up to %s more; that is not in the numbers.", f.Delta.Text(w.sys), units(f.Number))
	case seal.StripeEdges:
		return fmt.Sprintf("Where the edge of a stripe or skin of %s ends on the surface, the %s beside it carries up to %s, about %s deep: half of what the stripe carries, over one thickness (judged).", f.Of, f.With, w.stress(f.Stress), w.fine(f.Lengths[0]))
	case seal.SkinAsBound:
		return fmt.Sprintf("The skin of %s on a round rod counts as thin on a thick body, which bounds it.", f.Of)
	}
	return string(f.Kind) + ": " + f.Of
}

// warmUps are the words of [WarmUp].
var warmUps = [...]string{
	seal.FreeWater:     "water between the grains leaves",
	seal.ShrinkCracks:  "stones kept in water crack from shrinking",
	seal.PoreWater:     "water in open pores leaves",
	seal.ClosedPores:   "superheated water in closed pores bursts a stone",
	seal.LastWater:     "the last water leaves",
	seal.KeepHot:       "from here to the flame without cooling",
	seal.DryingRate:    "drying sets the rate",
	seal.ThermalRate:   "the thickest sets the rate by its thermal tension",
	seal.OrdinaryRate:  "an ordinary rate; everything here would bear more",
	seal.SizeSetsHolds: "the largest stone sets the holds",
}

// WarmUp says why a stage of a warm-up is as it is.
func WarmUp(why seal.Why) string {
	if why < 0 || int(why) >= len(warmUps) {
		return "for a reason that has no words here"
	}
	return warmUps[why]
}

// SealPlace says where in a piece a misfit is.
func SealPlace(p seal.Place) string {
	switch p.Kind {
	case seal.AtStone:
		return p.In + " at the " + p.Next
	case seal.InCore:
		return "core of " + p.In
	case seal.InsideOf:
		return p.In + ", inside"
	case seal.OutsideOf:
		return p.In + ", outside"
	}
	return string(p.Kind) + " of " + p.In
}

// fine is a length that may be a crack's.
func (w Words) fine(l unit.Length) string {
	if l < 0.1*unit.Millimeter && w.sys == unit.Metric {
		return fmt.Sprintf("%.2g µm", float64(l/unit.Micrometer))
	}
	if l < 0.0995*unit.Inch && w.sys == unit.US {
		return fmt.Sprintf("%.2g in", l.Inches())
	}
	return l.Text(w.sys)
}

// sentenceCase gives a name at the beginning of a sentence its capital, unless
// it is one with digits.
func sentenceCase(name string) string {
	if name == "" || name[0] < 'a' || name[0] > 'z' || strings.ContainsAny(name, "0123456789") {
		return name
	}
	return strings.ToUpper(name[:1]) + name[1:]
}
