package words

import (
	"fmt"
	"strings"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/rescue"
	"lehr/glass/unit"
)

// WayOn names a way after the power failed.
func WayOn(w rescue.Way) string {
	return [...]string{rescue.GoOn: "go on with the program from here", rescue.SoakAgain: "heat back to the soak, and all of the program", rescue.LetFall: "let it fall, closed and off"}[w]
}

// Outage says in one sentence what the power failure did to a glass and why the
// ways on differ.
func (w Words) Outage(c rescue.Case, glass string, failed, found unit.Temp) string {
	head := fmt.Sprintf("the power failed at %s and the kiln reads %s: ", w.temp(failed), w.temp(found))
	switch c {
	case rescue.SetBefore:
		return head + glass + " had set before the power failed, so the fall adds little to what stays in it, and a new soak would only strain it"
	case rescue.NothingLost:
		return head + glass + " is still so soft that its stress relaxes, so nothing is lost, and a short soak makes up for the fall"
	case rescue.SettingNow:
		return head + glass + " is setting now, and too fast, so every minute costs; heating it back at once strains it less than it ever will again"
	}
	if c == rescue.NotSoaked {
		return head + "the soak had not begun, so nothing is annealed yet; heated back slowly it takes the whole program, or it waits for one from a cold kiln"
	}
	return head + glass + " has set too fast; what that leaves in it grows no more by waiting, but cooling on and heating back both pull on it, so the limits decide"
}

// StopController says what a controller must not do.
const StopController = "Stop the controller before the power is back: one that resumes by itself heats at full power, for which nothing here was computed."

// LookForCracks says what a piece needs that may have cracked; closed is until when the
// kiln stays closed, as [Closed] has it.
func LookForCracks(closed string) string {
	return "It may have cracked, and no program repairs that. Do not heat it again before you have looked, and do not open the kiln to look: it stays closed " + closed + ", whatever the clock says. Then wear eye protection; a cracked piece can burst in the hand. What is whole can be annealed later (lehr plan --into \"cold kiln\")."
}

// These say in which order ways stand of which none keeps every limit.
const (
	KeepsTension = "No way keeps every limit. Over the limit of tension a piece breaks now: the first way keeps that one, and what it leaves in a piece over the other can be annealed later."
	KeepsStress  = "No way keeps every limit; the first keeps those of tension and of what is left."
	KeepsNone    = "No way keeps the limit of tension, over which a piece breaks now; first stands the one that exceeds it least. Stay away from the kiln meanwhile, and leave it closed."
	LeavesAlone  = "No way keeps the limit of tension, over which a piece breaks now; letting it fall exceeds it by hardly more than the least, and stands first, as what may have cracked is best left alone. Stay away from the kiln meanwhile, and leave it closed."
)

// KeepsShut says why a way stands first of which only the opening exceeds a limit, at a
// reading; closed is until when the kiln stays closed.
func KeepsShut(opening, closed string) string {
	return "No way keeps every limit if the kiln is opened at " + opening + "; the first does while it stays closed: keep it closed " + closed + "."
}

// WhileShut says until when the kiln stays closed for that to hold.
func WhileShut(closed string) string {
	return "That holds while the kiln stays closed: keep it closed " + closed + "."
}

// FiredTogether says what a power failure is answered for in a load that cannot share
// one program; logged says that its past is what a log has.
func FiredTogether(logged bool) string {
	text := "This load cannot share one program and was fired together all the same. "
	if !logged {
		text += "Until the power failed the kiln is taken to have done the best single program for all of it (lehr share). "
	}
	return text + "Of the programs for all of it and for each firing of its split, what is left of this one does least harm from here:"
}

// MayBurst says what pieces need that a program may crack.
const MayBurst = "What may crack can burst in the kiln, at the opening or days later: with it in the kiln, open no earlier than when the room is reached, whatever stands above, with eyes, face and hands protected, and keep such pieces covered and apart."

// AgainByThemselves says what pieces need that are to be annealed again.
const AgainByThemselves = "What is to be annealed again is planned later, by glass and by itself: lehr plan, into = \"cold kiln\" and wear = \"unknown history\" in the load, as it brings tension of its own. Until then it can break without warning: keep it covered and apart, handle it little, with eyes and hands protected."

// NoRate says that heating back exceeds the limit of tension at any rate.
func (w Words) NoRate(slowest unit.Rate) string {
	return "no rate of heating back keeps the limit of tension, not even " + slowest.Text(w.sys)
}

// OffFor says for how long the power was off: from one hour to another if they are
// known, first and to counted in midnights from the start of the load.
func (w Words) OffFor(long time.Duration, from, to *unit.Clock, first, days int) string {
	text := "Without power for " + duration(unit.WholeMinutes(long))
	if from == nil || to == nil {
		return text + "."
	}
	text += ", from " + w.clock(*from, first) + " to " + w.clock(*to, days)
	if w.load.Start != nil {
		return text + " (the load began at " + w.load.Start.Text(w.sys) + ")."
	}
	return text + "."
}

// clock is a time of day, some midnights later.
func (w Words) clock(c unit.Clock, midnights int) string {
	switch midnights {
	case 0:
		return c.Text(w.sys)
	case 1:
		return c.Text(w.sys) + " the next day"
	}
	return fmt.Sprintf("%s, %d days later", c.Text(w.sys), midnights)
}

// ClockAfter is the time of day so long after another.
func (w Words) ClockAfter(from unit.Clock, d time.Duration) string {
	return w.clock(from.Add(d))
}

// OtherReading says that what was read is not what the program reads at that hour.
func (w Words) OtherReading(program, read unit.Temp, at unit.Clock) string {
	return fmt.Sprintf("CHECK the hour and the reading: the program reads %s at %s, you read %s. What follows rests on what you read.", w.temp(program), at.Text(w.sys), w.temp(read))
}

// OffBetween says so where nobody knows the hours.
func (w Words) OffBetween(shortest, longest time.Duration) string {
	text := "about " + duration(unit.WholeMinutes(shortest))
	if longest-shortest >= 10*time.Minute {
		text = "by what kilns do, between " + duration(unit.WholeMinutes(shortest)) + " and " + duration(unit.WholeMinutes(longest))
	}
	return "How long it fell is not given: " + text + ". Give both hours, if you know them, such as " + w.fields.onPage("{--now=04:30 310 °C}") + "."
}

// OddFall doubts the hours of two readings.
func (w Words) OddFall(tau time.Duration) string {
	return "Check both hours: a kiln that falls so has a time constant of " + duration(unit.WholeMinutes(tau)) + "; most have 1 h 30 min to 8 h. Everything below rests on it."
}

// FellSo says how the kiln is taken to fall on.
func (w Words) FellSo(tau, slower time.Duration) string {
	return fmt.Sprintf("from here the kiln falls as it fell between the two readings, with a time constant of %s, or slower, up to %s", duration(unit.WholeMinutes(tau)), duration(unit.WholeMinutes(slower)))
}

// OpenAt says until when the kiln stays closed, as [Closed] has it, and when that is.
func (w Words) OpenAt(closed string, lasts, earliest, latest time.Duration, now *unit.Clock) string {
	return "Leave it closed " + closed + ", whatever the clock says: " + w.fromNow(lasts, earliest, latest, now) + "."
}

// Below says of a kiln that only falls that it is no hotter than where it is opened.
func (w Words) Below(reads, opening string) string {
	if reads == opening {
		return "It reads " + reads + ", at which this kiln is opened"
	}
	return "It reads " + reads + ", below the " + opening + " at which this kiln is opened"
}

// OpenShut is OpenAt where a piece may have cracked: when the way ends at a reading is
// said, at which the kiln is not opened.
func (w Words) OpenShut(closed, reads string, lasts, earliest, latest time.Duration, now *unit.Clock) string {
	return "Leave it closed " + closed + ", whatever the clock says: what may have cracked can burst at the opening. It reads " + reads + " " +
		w.fromNow(lasts, earliest, latest, now) + ", and stays closed."
}

// OpenCold is OpenAt where no reading was found at which it can be opened: when the way
// ends at one is said, and down to which one opening it was looked at.
func (w Words) OpenCold(closed, reads, down string, lasts, earliest, latest time.Duration, now *unit.Clock) string {
	return "Leave it closed " + closed + ", whatever the clock says: opening it exceeds a limit at every reading computed, down to " + down +
		". It reads " + reads + " " + w.fromNow(lasts, earliest, latest, now) + "."
}

// fromNow is a time from now, with what it lies between.
func (w Words) fromNow(lasts, earliest, latest time.Duration, now *unit.Clock) string {
	if latest <= time.Minute {
		return "now"
	}
	text := "in about " + duration(unit.WholeMinutes(lasts))
	if now != nil {
		clock, days := now.Add(unit.WholeMinutes(lasts))
		text += ", at " + w.clock(clock, days)
	}
	if latest-earliest < 10*time.Minute {
		return text
	}
	text += " (" + duration(unit.WholeMinutes(earliest)) + " to " + duration(unit.WholeMinutes(latest))
	if now != nil {
		a, n := now.Add(unit.WholeMinutes(earliest))
		b, m := now.Add(unit.WholeMinutes(latest))
		text += ": " + w.clock(a, n) + " to " + w.clock(b, m)
	}
	return text + ")"
}

// AfterSoak says when the power is taken to have failed in a load that was heated
// from cold.
const AfterSoak = "Taken to have failed on the way down, after the soak. If it was on the way up, nothing is annealed yet: give start in the load, and both hours."

// StayOff says what keeps a kiln off that is left to fall.
const StayOff = "Switch the kiln off where its power comes in, so that it stays off when the power is back, and write on it that it stays off and closed, with a phone number."

// OverBrief names what is exceeded in a piece, in few words.
func (w Words) OverBrief(over finding.List) string {
	var out []string
	for _, f := range over {
		switch f.Kind {
		case finding.UnprovenTension:
			out = append(out, "tension (average glass keeps its limit)")
		case finding.UnprovenResidual:
			out = append(out, "tension left (average glass keeps its limit)")
		default:
			out = append(out, w.Say(f))
		}
	}
	return strings.Join(out, ", ")
}
