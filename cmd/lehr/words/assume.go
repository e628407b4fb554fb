package words

import (
	"fmt"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// assumption says what was assumed.
func (w Words) assumption(f finding.Finding) string {
	switch f.Kind {
	case finding.FallMeasured:
		return "the kiln falls by itself " + w.rep.Studio.Kiln.Fall.Text(w.sys) + "; stress is computed for a fall one tenth faster, as on a night with less in the kiln"
	case finding.FallGuessed:
		return fmt.Sprintf("nobody measured how the kiln falls by itself: stress is computed for one that follows the program exactly and for ones that fall with time constants of %s to %s, and the worst counts; the hours are those of %s (all common practice; give %s)", duration(kiln.QuickestFall), duration(kiln.SlowestFall), duration(f.Time), w.fields.onPage(fall))
	case finding.FallRange:
		return fmt.Sprintf("nobody measured how the kiln falls by itself: the program was computed for time constants of %s to %s (common practice), and what is shown is the one that uses the limits most; give %s", duration(f.Time), duration(f.Bears), w.fields.onPage(fall))
	case finding.BeyondMeasured:
		return "the program begins hotter than the kiln's cooling was measured; its law is carried on up to " + w.temp(f.Temp)
	case finding.PlacesDiffer:
		return "every piece was simulated at both ends of the kiln's error, " + w.delta(f.Delta) + " hotter and colder than the reading at the hottest time"
	case finding.PlacesEven:
		return "the kiln is taken to be as hot everywhere as its reading; give " + w.fields.onPage("{kiln.spread-} and {kiln.probe_error}")
	case finding.WorstVariants:
		return "worst case over the viscosity curves, the ranges of annealing point" + w.alone() + ", liquid expansion, conductivity, specific heat, stiffness and expansion of each glass, the pace of its structure, and how clear it is where nobody said"
	case finding.MarginKept:
		return marginLeft(f)
	case finding.TensionLimitGiven:
		return "tension is held to " + w.stress(f.Stress) + " in the worst case, as given, in the place of the published limits"
	case finding.ResidualLimitGiven:
		return "tension left is held to " + w.stress(f.Stress) + " in the worst case, as given, in the place of the published limit; a line of lehr kiln in the studio file carries the kiln's factor"
	case finding.HeatsAsProgrammed:
		return "stress is computed for a kiln that heats exactly as told: nobody gave its " + w.fields.Say("{kiln.fastest_heating-}")
	case finding.ControllerWaits:
		return "the controller waits at the end of a ramp until the kiln has arrived; if yours does not, give it the longer time"
	case finding.ElectricityUnknown:
		return "electricity is not estimated: give fastest_heating, or holding and holding_duty, beside power in [kiln] of the studio file"
	case finding.ElectricityEstimated:
		return w.electricity()
	case finding.SoakCounted:
		return "bears " + duration(f.Bears) + " above the strain point, slow cooling and the time since in = counted"
	case finding.CoreAssumed:
		return "goes in at most " + w.temp(f.Temp) + " hot inside, where it softens: the soak lasts until that has evened out, but temperatures and tensions, also those of --csv, begin as even as the kiln; they follow its first minutes where core says how hot it is"
	case finding.BeyondRange:
		return fmt.Sprintf("%s is known from %s to %s and keeps its end value beyond", f.Like, w.temp(f.Temp), w.temp(f.Limit))
	case finding.AnnealingPoint:
		off := ""
		if f.Delta != 0 {
			off = " ± " + w.delta(f.Delta)
		}
		return fmt.Sprintf("annealing point %s%s; if its maker's sheet says otherwise, put that into a glass file", w.temp(f.Temp), off)
	case finding.NegativeOptic:
		return "its stress-optic coefficient is negative: tension looks as compression does in other glass; the retardation is given without its sign"
	case finding.SectionComputed:
		return fmt.Sprintf("computed as it is, in its section: tension at the surface %.2f of the bound by which programs are found, stress left %.2f", f.Number, float64(f.Stress))
	case finding.SpectraBorrowed:
		return "no relaxation times of its own are published: those of soda-lime glass stand for them; a glass file may give others"
	case finding.NoRelaxation:
		return "no liquid expansion known, so structural relaxation is left out"
	case finding.OneGlass:
		if f.Yes {
			return "the pieces of which nothing is said to be in them are of one glass throughout"
		}
		return "each piece is of one glass: what lies in it and expands differently adds stress that no annealing removes; say what does (lehr help pieces)"
	case finding.OpeningComputed:
		return fmt.Sprintf("opening the kiln is computed as air that falls to the room in half a minute, a film of %g W/m²K and radiation, for an hour; taking a piece out or setting it on a cold plate is not computed", f.Number)
	case finding.DoorComputed:
		text := fmt.Sprintf("the room fills %.3g %% of what a piece sees while the hot kiln is open", 100*f.Number)
		if f.Yes {
			text += ", as nobody said (" + w.fields.onPage("{kiln.door_view}") + ")"
		}
		return text + "; it falls in 5 s and comes back in 5 min, and of that and the reading's dip the deeper counts; the air that streams in is not computed"
	case finding.StaysUntilUsed:
		return "the kiln then stays at " + w.temp(f.Temp) + " until the pieces are used; this is no annealing program"
	case finding.SearchedShortest:
		return "the shortest program was searched for, not proved: its numbers use up the limits, so the kiln, the sizes and the glass must be as told"
	case finding.ShapeUntested:
		return "the rule for its shape was held against no finite elements of such a piece"
	}
	return ""
}

// fall names the settings that say how a kiln falls.
const fall = "{kiln.cooling_time_constant-} or {kiln.cooling_points}"

// electricity states the model behind the estimate.
func (w Words) electricity() string {
	k := w.rep.Studio.Kiln
	e, _ := w.rep.Energy()
	how := fmt.Sprintf("full power heating at %s at %s", w.rate(k.HeatRate(e.At)), w.temp(e.At))
	if e.ByDuty {
		how = fmt.Sprintf("%.3g %% of the power holding %s", k.HoldingDuty*100, w.temp(e.At))
	}
	capacity, per := e.Capacity/3600, "K"
	if w.sys == unit.US {
		capacity, per = capacity*float64(unit.FahrenheitDelta(1)), "°F"
	}
	text := fmt.Sprintf("electricity is an estimate: the kiln counts as one lump with a heat capacity of %.2g Wh/%s, so that %s of power fits %s, and loses heat as it falls by itself; a kiln whose walls are not warmed through takes more; heat before the program is not counted",
		capacity, per, k.Power.Text(w.sys), how)
	if !k.Measured {
		text += "; its fall is common practice, not measured"
	}
	return text
}

// rule says what a rule assumes, and which slab a piece counts as in it.
func (w Words) rule(f finding.Finding) string {
	const both = "slab cooled from both faces"
	switch f.Kind {
	case finding.TakenFor:
		return f.Name + " is taken for " + f.Like + ", which it is like"
	case finding.PropertyHeld:
		return f.Name + " beyond its range is taken as at the end of the range"
	case finding.ResidualRaised:
		how := "derived, upper bound of the expansion above the transformation"
		if f.Yes {
			how = "measured on soda-lime glass"
		}
		return fmt.Sprintf("left stress raised %s times for structural relaxation (%s)", number(f), how)
	case finding.NotRaised:
		return "no structural relaxation: the expansion above the transformation is not known"
	case finding.SteadyRates:
		return "steady rates; the start-up of each ramp is neglected"
	case finding.LowestDiffusivity:
		return "lowest thermal diffusivity of each range"
	case finding.SlowedRanges:
		return fmt.Sprintf("slow ranges at %s of the plain rate, since some of the stress still sets below the slow range", number(f))
	case finding.BetweenRows:
		return "between two rows of the table, rate as 1/thickness²; ranges of the thicker row"
	case finding.TableSlowed:
		return fmt.Sprintf("rates times %s, because the glass expands more than that of the table", number(f))
	case finding.RampsOfStress:
		return "the chart gives no ramp rates: they are those of the rule design-stress for this piece"
	case finding.CountsOneFace:
		return "cooled from one face: a slab of twice its thickness"
	case finding.CountsBothFaces:
		return both
	case finding.CountsOwnColumn:
		return "slab cooled from one face, a column of its own in the table"
	case finding.CountsWhole:
		return fmt.Sprintf("whole diameter as a %s; by equal surface stress it would be %.3g of that", both, f.Number)
	case finding.CountsEqual:
		return fmt.Sprintf("%.3g of its diameter as a %s (equal surface stress); the cautious habit counts the whole diameter", f.Number, both)
	}
	return ""
}

// number is the number of a finding, or the range that several like it span.
func number(f finding.Finding) string {
	if f.To > f.Number {
		return fmt.Sprintf("%.3g to %.3g", f.Number, f.To)
	}
	return fmt.Sprintf("%.3g", f.Number)
}
