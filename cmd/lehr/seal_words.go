package main

import (
	"fmt"
	"strings"

	"lehr/anneal/seal"
	"lehr/glass/unit"
)

// words says what a finding says.
func (v sealView) words(f seal.Finding, r seal.Report) string {
	return v.sentence(f, r)
}

func (v sealView) sentence(f seal.Finding, r seal.Report) string {
	stress := func(s unit.Stress) string { return s.Text(v.system) }
	length := func(l unit.Length) string {
		if l < 0.1*unit.Millimeter && v.system == unit.Metric {
			return fmt.Sprintf("%.2g µm", float64(l/unit.Micrometer))
		}
		if l < 0.0995*unit.Inch && v.system == unit.US {
			return fmt.Sprintf("%.2g in", l.Inches())
		}
		return l.Text(v.system)
	}
	units := func(x float64) string { return fmt.Sprintf("%.2g units (10⁻⁷/K)", x*1e7) }
	switch f.Kind {
	case seal.PullsLoose:
		return fmt.Sprintf("The glass pulls on the %s, with up to %s: it will pull loose, and show a gap or a halo. Once it is loose the numbers at the stone no longer hold.", f.Of, stress(-f.Stress))
	case seal.BuriedTension:
		return fmt.Sprintf("Around the %s the glass carries up to %s, buried, clean and dry; such tension does hold in pieces, and this is no promise. A crack can run from a stone of more than %s radius; this one has %s. What starts it is a flaw %s deep (bubble, grit, a sharp corner), at once; over years %s where moist air reaches it.",
			f.Of, stress(f.Stress), length(f.Lengths[0]), length(f.Lengths[1]), length(f.Lengths[2]), length(f.Lengths[3]))
	case seal.LayerTension:
		return fmt.Sprintf("Buried, %s carries up to %s. No limit is known for a clean buried seal; about %s is usual in seals of two glasses. A flaw %s deep would break it at once.", f.Of, stress(f.Stress), stress(10*unit.Megapascal), length(f.Lengths[2]))
	case seal.SurfaceOverStone:
		return fmt.Sprintf("The stone lies close under the surface: there the glass carries up to %s, more than at the stone. Over it lies %s; the surface wants %s.", stress(f.Stress), length(f.Lengths[0]), length(f.Lengths[1]))
	case seal.HalfSpent:
		return fmt.Sprintf("The surface carries up to %s, more than half of its limit, before a scratch or a knock.", stress(f.Stress))
	case seal.TestSealBreaks:
		return fmt.Sprintf("%s differs by %s over the fall: test seals of two glasses are likely to break from %s on.", f.Of, units(f.Number), units(seal.SealMismatchLimit(r.Falls.Fall)))
	case seal.Stays:
		return fmt.Sprintf("No annealing removes this. At half the cooling rate the glass sets %s lower, which takes %.1f %% off.", f.Delta.Text(v.system), f.Number*100)
	case seal.Kinder:
		per := stress(max(f.Stress, -f.Stress))
		for _, in := range v.cases[0].problem.Contents.Inside {
			if in.Material.Name == f.Of {
				return fmt.Sprintf("Kindest in place of the %s is what expands as the glass does. Less is squeezed: each unit (10⁻⁷/K) less puts %s on the glass at it. More comes loose.", f.Of, per)
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
		return fmt.Sprintf("Nobody stated what the surface of %s bears for years: %s is that of other glasses.", f.Of, stress(r.Limit))
	case seal.EdgeRaises:
		return fmt.Sprintf("A flat %s has an edge, which raises the tension at it %.1f times over that of a round one: round it more.", f.Of, f.Number)
	case seal.EdgeUnknown:
		return fmt.Sprintf("Nobody said how round the edge of the %s is: a radius of %s is assumed.", f.Of, length(f.Lengths[0]))
	case seal.Crowded:
		return fmt.Sprintf("The stones should lie %s apart from middle to middle, three diameters; nearer, the tension of each adds to that of the other.", length(f.Lengths[1]))
	case seal.DryFirst:
		return fmt.Sprintf("The %s holds water: it must be dry, and warmed through slowly, before glass closes over it. lehr seal --warm shows how.", f.Of)
	case seal.Yields:
		return fmt.Sprintf("The %s would have to carry %s and yields before: the numbers at it are an upper bound.", f.Of, stress(f.Stress))
	case seal.FilmIsNothing:
		return fmt.Sprintf("A film of %s so thin does nothing to the glass.", f.Of)
	case seal.FoilRim:
		return fmt.Sprintf("The rim and the folds of the %s are not computed; from %s of thickness on they matter.", f.Of, length(f.Lengths[1]))
	case seal.SofterDecides:
		return fmt.Sprintf("%s is softer by %s and sets last: it decides where the misfit begins to count.", sentenceCase(f.Of), f.Delta.Text(v.system))
	case seal.StructureAdds:
		return fmt.Sprintf("The annealing points of the two lie %s apart. While one still contracts as a liquid it may shrink up to %s more; that is not in the numbers.", f.Delta.Text(v.system), units(f.Number))
	case seal.StripeEdges:
		return fmt.Sprintf("Where the edge of a stripe or skin of %s ends on the surface, the %s beside it carries up to %s, about %s deep: half of what the stripe carries, over one thickness (judged).", f.Of, f.With, stress(f.Stress), length(f.Lengths[0]))
	case seal.SkinAsBound:
		return fmt.Sprintf("The skin of %s on a round rod counts as thin on a thick body, which bounds it.", f.Of)
	}
	return string(f.Kind) + ": " + f.Of
}

// sentenceCase gives a name at the beginning of a sentence its capital, unless
// it is one with digits.
func sentenceCase(name string) string {
	if name == "" || strings.ContainsAny(name, "0123456789") {
		return name
	}
	return strings.ToUpper(name[:1]) + name[1:]
}

// showWarmUp prints the stages that dry and warm what goes inside.
func (a *app) showWarmUp(v sealView) error {
	a.section("Drying and warming, from the room to the flame")
	_, per := unit.Rate(0).In(v.system)
	_, degree := seal.Room().In(v.system)
	var rows [][]string
	for i, s := range v.warm.Stages {
		to, _ := s.To.In(v.system)
		q, _ := s.Rate.In(v.system)
		hold := "until the flame"
		if s.Hold > 0 {
			hold = hours(s.Hold)
			if i == len(v.warm.Stages)-1 {
				hold += ", then until the flame"
			}
		}
		var why []string
		for _, w := range s.Reasons {
			why = append(why, string(w))
		}
		rows = append(rows, []string{fmt.Sprint(i + 1), whole(q), whole(to), hold, strings.Join(why, "; ")})
	}
	if err := a.table([]column{numberColumn("#"), numberColumn(per), numberColumn("to " + degree), longColumn("hold"), longColumn("because")}, rows); err != nil {
		return err
	}
	ready := "after " + hours(v.warm.Total)
	if v.start != nil {
		at, days := v.start.Add(v.warm.Total)
		ready = fmt.Sprintf("at %s%s, %s after %s", at.Text(v.system), [...]string{"", " the next day"}[min(days, 1)], hours(v.warm.Total), v.start.Text(v.system))
		if days > 1 {
			ready = fmt.Sprintf("at %s on day %d, %s after %s", at.Text(v.system), days+1, hours(v.warm.Total), v.start.Text(v.system))
		}
	}
	bears := "more than " + unit.KelvinPerHour(300).Text(v.system)
	if v.warm.Rate < unit.KelvinPerHour(300) {
		bears = v.warm.Rate.Text(v.system)
	}
	text := fmt.Sprintf("Ready for the flame %s. By thermal tension alone the %s would bear %s; rates and holds for drying are judged from what was published of such stones, for yours was not measured.", ready, v.warm.Slow, bears)
	if held := v.glass.Garage; !held.Low.IsZero() {
		if i, fits := v.warm.Beside(held.Low, held.High); !fits {
			text += fmt.Sprintf(" It needs a kiln of its own: stage %d is colder than finished %s is held, %s to %s.", i+1, v.glass.Name, held.Low.Text(v.system), held.High.Text(v.system))
		}
	}
	a.prose(0, text)
	return nil
}
