package words

import (
	"fmt"
	"math"

	"lehr/anneal/finding"
	"lehr/anneal/piece"
)

// reason says why a number of the program is what it is.
func (w Words) reason(f finding.Finding) string {
	w = w.asKeyed()
	switch f.Kind {
	case finding.SameSoak:
		return "the same soak goes on: one segment takes no longer hold"
	case finding.SoakAtAnneal:
		return fmt.Sprintf("%s is the annealing point of %s, where stress relaxes in minutes", w.temp(f.Temp), f.Name)
	case finding.SoakOfRule:
		return fmt.Sprintf("%s is the soak of the rule %s", w.temp(f.Temp), f.Name)
	case finding.SoakHottest:
		return fmt.Sprintf("%s is the hottest soak that %s bears", w.temp(f.Temp), w.name(f.Piece))
	case finding.SoakMarks:
		return fmt.Sprintf("%s is as hot as %s can be held for hours without marks (10^%.1f Pa·s), less the kiln's error", w.temp(f.Temp), f.Name, piece.SoakHotLog10)
	case finding.SoakNeeded:
		return fmt.Sprintf("%s is what %s needs", duration(f.Time), w.name(f.Piece))
	case finding.SoakRelaxes:
		return fmt.Sprintf("simulated, it relaxes %.2f %% of a starting stress and leaves the core within %s of the surface", math.Floor(f.Number*1e4)/100, w.delta(max(f.Delta, 0.01)))
	case finding.SoakQuickest:
		return fmt.Sprintf("with the cooling that follows, the quickest way to relax %.4g %% of a starting stress and to leave the core within %s of the surface", 100*f.Number, w.delta(f.Delta))
	case finding.HeatedFull:
		return "heated as fast as the kiln can, which the glass bears"
	case finding.HeatedWithin:
		return fmt.Sprintf("heated at %s, which keeps the tension inside within the limit and is no faster than the kiln", w.rate(f.Rate))
	case finding.SameHold:
		return "the same hold goes on: one segment takes no longer one"
	case finding.HeatedInLimit:
		return fmt.Sprintf("heated at %s, which keeps the tension in %s within the limit and is no faster than the kiln", w.rate(f.Rate), w.name(f.Piece))
	case finding.HeatedSlowed:
		return fmt.Sprintf("slowed to %s until the simulated tension in %s was within its limit", w.rate(f.Rate), w.name(f.Piece))
	case finding.StaysAsStudio:
		if w.fields != nil {
			return w.temp(f.Temp) + " is the holding temperature given"
		}
		return w.temp(f.Temp) + " is the holding temperature of the studio file"
	case finding.StaysUsual:
		return fmt.Sprintf("%s is where %s is usually held", w.temp(f.Temp), f.Name)
	case finding.StaysHottest:
		return fmt.Sprintf("%s is the hottest that %s bears", w.temp(f.Temp), w.name(f.Piece))
	case finding.StaysMarkFree:
		return fmt.Sprintf("%s is as hot as %s can stay for hours without marks from shelf or fiber (10^%.1f Pa·s), less the kiln's error", w.temp(f.Temp), f.Name, f.Number)
	case finding.EvensOut:
		return fmt.Sprintf("%s is what %s needs to even out", duration(f.Time), w.name(f.Piece))
	}
	return w.ramp(f)
}

// ramp says why a ramp is as fast as it is.
func (w Words) ramp(f finding.Finding) string {
	switch f.Kind {
	case finding.RuleHolds:
		return "a hold of the rule " + f.Name
	case finding.SameRamp:
		return "a step of the same ramp"
	case finding.RuleRequires:
		return fmt.Sprintf("the rule %s asks for it%s", f.Name, w.in(f.Piece))
	case finding.ControllerFastest:
		return "as fast as the controller can be set; the glass would bear more"
	case finding.KilnFallsSo:
		return "as fast as the kiln falls by itself here, or faster: more would gain nothing"
	case finding.LeftToKiln:
		text := "the kiln falls by itself no faster than the glass bears"
		if f.Yes {
			text = "the program ends here, with the power off: from here on " + text
		}
		if f.Most > 0 {
			text += ", one tenth faster than measured too; simulated, the greatest tension is " + w.of(f.Stress, f.Most)
		}
		return text
	case finding.SetsSlowly:
		return fmt.Sprintf("slow while the glass sets, to %s below the strain point: keeps the tension left%s at %s", w.delta(f.Delta), w.in(f.Piece), w.of(f.Stress, f.Most))
	case finding.SetsFaster:
		return "about twice as fast, while some of the glass still sets" + w.in(f.Piece)
	case finding.SlowedForResidual:
		return fmt.Sprintf("slowed with the ramps before it, to keep the tension left%s at %s; simulated, its own greatest tension is %s", w.in(f.Piece), w.of(f.Stress, f.Most), w.of(f.Own, f.OwnMost))
	case finding.SlowedForTension:
		return fmt.Sprintf("the glass is rigid: slowed until the simulated tension%s is within its limit, %s", w.in(f.Piece), w.of(f.Stress, f.Most))
	case finding.ClosedFormRate:
		return fmt.Sprintf("the glass is rigid: the rate at which the closed form puts the tension%s at its limit; simulated, the greatest is %s", w.in(f.Piece), w.of(f.Stress, f.Most))
	case finding.SetsTogether:
		return fmt.Sprintf("the glass sets: with the other ramps it brings the tension left in %s to %s", w.name(f.Piece), w.of(f.Stress, f.Most))
	case finding.TensionReaches:
		lead := "the glass is rigid"
		if f.Yes {
			lead = "heated so that the tension inside stays within its limit"
		}
		return fmt.Sprintf("%s: the tension in %s reaches %s", lead, w.name(f.Piece), w.of(f.Stress, f.Most))
	}
	return ""
}

// conflict says why a load cannot share a program.
func (w Words) conflict(f finding.Finding) string {
	switch f.Kind {
	case finding.SoakBandLow:
		return fmt.Sprintf("%s must be soaked at %s or above to relax within hours (10^%.1f Pa·s)", w.named(f.Piece), w.temp(f.Temp), f.Number)
	case finding.SoakBandHigh:
		return fmt.Sprintf("%s begins to mark and sag in hours above %s (10^%.1f Pa·s)", w.named(f.Piece), w.temp(f.Temp), f.Number)
	case finding.SoakBandHottest:
		return fmt.Sprintf("%s bears no soak above %s, as the load says", w.name(f.Piece), w.temp(f.Temp))
	case finding.SoakBandError:
		return "the kiln may be off by " + w.delta(f.Delta)
	case finding.SoakBandNarrow:
		return "at least " + w.delta(f.Delta) + " must remain between them"
	case finding.SoakTooLong:
		needs := fmt.Sprintf("%s needs a soak of %s at %s", w.name(f.Piece), duration(f.Time), w.temp(f.Temp))
		if f.Other == finding.None {
			return needs + ", and bears " + duration(f.Bears)
		}
		return fmt.Sprintf("%s, but %s bears only %s", needs, w.name(f.Other), duration(f.Bears))
	case finding.NoSoakBorne:
		return fmt.Sprintf("no soak from %s to %s relaxes and evens out every piece within the %s that %s bears", w.temp(f.Temp), w.temp(f.Limit), duration(f.Bears), w.name(f.Piece))
	case finding.NoneWithin:
		return "no shared program keeps every piece within its limits"
	}
	return ""
}
