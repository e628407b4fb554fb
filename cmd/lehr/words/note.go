package words

import (
	"fmt"
	"math"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/spread"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// note says what the reader should know first. It is a list, a sentence a kind.
func (w Words) note(f finding.Finding) string {
	w = w.asKeyed()
	switch f.Kind {
	case finding.OpenedAt:
		b := verify.Tension{Expected: f.Own, Worst: f.Stress, Pair: spread.Pair{Expected: f.OwnMost, Worst: f.Most}}
		b.Use = b.Pair.Use(b.Expected, b.Worst)
		return fmt.Sprintf("opened at %s the tension in %s may reach %s", w.temp(f.Temp), w.name(f.Piece), Tension(b, w.sys))
	case finding.KeepClosed:
		return w.keepClosed(f)
	case finding.DoorOpened:
		return w.doorOpened(f)
	case finding.HeatsAsGuessed:
		return fmt.Sprintf("segment %d heats as fast as the kiln can, which was taken to be %s; a kiln that heats faster strains the glass more: give %s", f.Segment+1, w.rate(f.Rate), w.fields.onPage("{kiln.fastest_heating}"))
	case finding.KilnLate:
		return w.late(f)
	case finding.DownToRoom:
		return "the program leads down to " + w.temp(f.Temp) + ", the room; a kiln never quite gets there, so the last hours are an estimate"
	case finding.NotJudgedToEnd:
		return "the program ends at " + w.temp(f.Temp) + ": tension left and soak were not judged; write the rest of the cooling into the schedule, or off = true with the temperature at which the kiln is opened, to have them judged"
	case finding.ClosedFormDiffers:
		what := "tension while cooling"
		if f.Yes {
			what = "tension left"
		}
		return fmt.Sprintf("%s: %s: simulated %s, closed form %s; they differ by more than two times, the simulation decides", w.name(f.Piece), what, w.stress(f.Stress), w.stress(f.Most))
	case finding.PowerShort:
		return "somewhere the program needs more power than the elements have by this estimate; look at " + w.fields.onPage("{kiln.fastest_heating-} and {kiln.power}")
	case finding.WaitsAt:
		where := "the soak temperature"
		if !f.Temp.IsZero() {
			where = w.temp(f.Temp)
		}
		key := "holding in [kiln]"
		if w.fields != nil {
			key = w.fields.onPage("{kiln.holding}")
		}
		return "finished pieces are taken to wait at " + where + " (" + key + ")"
	case finding.LastEven:
		at := "after " + duration(f.Time)
		if w.load.Start != nil {
			clock, _ := w.load.Start.Add(f.Time)
			at = fmt.Sprintf("at %s (%s)", clock.Text(w.sys), duration(f.Time))
		}
		if f.Yes {
			at += "; slow cooling begins after that"
		}
		return "the last piece in is even " + at
	case finding.NoStressBefore:
		text := "finished work is taken to go in without stress of its own, which would add to the tension while heating; if nobody knows how a piece was annealed, say " + w.fields.onPage("{piece.wear=unknown history}")
		if w.fields == nil {
			text += " in a load file"
		}
		return text
	case finding.WaitsSet:
		text := fmt.Sprintf("pieces wait at %s, below the strain point of %s, %s: nothing relaxes there, however long they wait", w.temp(f.Temp), f.Name, w.temp(f.Limit))
		if f.Stress > 0 {
			text += fmt.Sprintf(", and one that goes in hot inside reaches %s: let the kiln wait at the annealing point (%s), or put the piece in when it is cooler inside", w.stress(f.Stress), w.fields.onPage("{kiln.holding}"))
		}
		if f.Yes {
			text += ", and what their first minutes there did to them is not judged: say core, how hot inside they went in"
		}
		return text
	case finding.SoakLengthened:
		return fmt.Sprintf("the soak was lengthened from %s to %s: by the stiffer viscosity curve the shorter one does not relax %.4g %% of a starting stress, or not evenly", duration(f.Bears), duration(f.Time), f.Number*100)
	case finding.RoundingCosts:
		return fmt.Sprintf("whole degrees per hour cost %s here: if the controller takes a ramp as minutes, say %s", duration(f.Time), w.fields.onPage("{controller.rate=minutes per ramp}"))
	case finding.StaysAboveMarks:
		return fmt.Sprintf("the kiln stays at %s, above %s, where %s takes marks from shelf or fiber in hours (10^%.1f Pa·s)", w.temp(f.Temp), w.temp(f.Limit), f.Name, f.Number)
	case finding.LightUnsaid:
		what := "tension"
		if f.Yes {
			what = "tension left"
		}
		return fmt.Sprintf("say how clear %[1]s is: not knowing it is %[3]d %% of its %[2]s", w.name(f.Piece), what, int(math.Round(100*f.Number)))
	case finding.SoakRoom:
		return w.soakRoom(f)
	case finding.OtherScale:
		return fmt.Sprintf("%s is %s, where this glass cannot be soaked, and %s could be: was the temperature meant in the other degrees?",
			unit.AsTyped(f.Temp), otherDegrees(f.Temp, f.Temp), otherDegrees(f.Limit, f.Temp))
	case finding.LightCosts:
		dark := "no sooner"
		if f.Bears > 0 {
			dark = duration(f.Bears) + " sooner"
		}
		return fmt.Sprintf("how clear the pieces are: it would end %s sooner if they are clear, %s if dark; say %s, \"dark\" or \"opaque\"", duration(f.Time), dark, w.fields.onPage("{piece.light=clear}"))
	case finding.RangeCosts:
		return fmt.Sprintf("the range of the %s: %s; a maker's sheet or a measurement takes it away, entered in a glass file with its \u00b1", Unknown(spread.Unknown(f.Name)), duration(f.Time))
	case finding.KilnDecides:
		if f.Time == 0 {
			return "how this kiln falls by itself was not measured, and in no kiln it may be does the program keep its limits"
		}
		return fmt.Sprintf("it depends on how this kiln falls by itself, which was not measured: within limits with a time constant of %s to %s, not with every other from %s to %s; let it fall once with the power off, and give the readings as %s", duration(f.Time), duration(f.Bears), duration(kiln.QuickestFall), duration(kiln.SlowestFall), w.fields.onPage("{kiln.cooling_points}"))
	case finding.ShutAir:
		return fmt.Sprintf("%s is hollow: if it has no hole, air shut in cold presses %.2g times as hard at %s, %s in the wall, which is in no number here; in the flame it can bulge or burst. Leave a hole until it has cooled, or keep the face away", w.name(f.Piece), f.Number, w.temp(f.Temp), w.stress(f.Stress))
	case finding.HotterThanKilns:
		return fmt.Sprintf("the program reaches %s, and kilns for glass commonly bear up to %s: kiln, elements, shelf, wash and thermocouple must each be rated for it by their makers", w.temp(f.Temp), w.temp(f.Limit))
	case finding.StillHot:
		return fmt.Sprintf("when the kiln reads %s, %s can be %s inside: gloves or tongs, away from what is cold or wet", w.temp(f.Temp), w.name(f.Piece), w.temp(f.Limit))
	case finding.MendRate:
		return fmt.Sprintf("segment %d at %s passes, with little to spare; %s", f.Segment+1, w.rate(unit.Rate(math.Abs(float64(f.Rate)))), longer(f.Time))
	case finding.MendHold:
		return fmt.Sprintf("a hold of %s in segment %d passes, with little to spare; %s", duration(f.Bears), f.Segment+1, longer(f.Time))
	case finding.MendOff:
		return fmt.Sprintf("segment %d down to %s before the power goes off passes, with little to spare; %s", f.Segment+1, w.temp(f.Temp), longer(f.Time))
	case finding.MendOpening:
		if f.Temp.IsZero() {
			return "opened when it is as cool as the room, it passes"
		}
		return fmt.Sprintf("opened at %s at most, %s, it passes as it is", w.temp(f.Temp), AfterEnd(f))
	case finding.MendRates:
		return fmt.Sprintf("no single change passes; every cooling rate at %.0f %% does, with little to spare; %s", 100*f.Number, longer(f.Time))
	case finding.MendPlan:
		return fmt.Sprintf("no single change passes; lehr plan makes a program of %s that does", duration(f.Time))
	case finding.MendNone:
		return "no single change passes, and lehr plan finds no program that does"
	case finding.Stair:
		return fmt.Sprintf("the controller takes no rate below %s; segments that ramp at it and then hold are as slow on the whole; %s than with any rate", w.rate(f.Rate), longer(f.Time))
	case finding.KilnHighest:
		return fmt.Sprintf("the soak is at the highest temperature of the kiln, %s (highest in [kiln]), instead of %s, and as much longer as that takes", w.temp(f.Temp), w.temp(f.Limit))
	case finding.StaysOn:
		text := fmt.Sprintf("the controller then holds %s until somebody switches it off (after = \"hold\")", w.temp(f.Temp))
		if f.Yes {
			text += ": the kiln stays hot, and its elements on"
		}
		return text
	case finding.StaysOnAfter:
		return fmt.Sprintf("segment %d falls with the power off, and this controller holds %s instead (after = \"hold\"): switch it off by hand when the segment before has ended, or the kiln stays hot", f.Segment+1, w.temp(f.Temp))
	case finding.SwitchesOff:
		return fmt.Sprintf("the controller switches off after its last segment (after = \"off\"): pieces stay at %s no longer than the last hold, so key in a hold as long as you work", w.temp(f.Temp))
	case finding.Eased:
		return fmt.Sprintf("cooling that the kiln cannot follow is keyed in as what it was measured to do, less %.0f %%, so that it keeps up, as a controller that watches for lag wants; %s than a kiln left to itself", 100*f.Number, longer(f.Time))
	case finding.MarginKept:
		return marginLeft(f)
	case finding.FewSegments:
		return fmt.Sprintf("the controller has %.0f segments, so ramps were joined at the slower rate; %s than with as many as it likes", f.Number, longer(f.Time))
	case finding.PlacesCost:
		return fmt.Sprintf("how far the places of the kiln and its probe may be off: %s", duration(f.Time))
	case finding.TextbookOnly:
		return w.name(f.Piece) + " is computed as the body of a textbook, without rim, bed and ranges: this is no verdict about a real piece"
	}
	return ""
}

// SoakRoom says beside the program, in a line, how long a short soak could be.
func (w Words) SoakRoom(f finding.Finding) string {
	text := "Up to " + duration(f.Bears) + " of soak is borne"
	if f.Piece != finding.None {
		text += " (" + w.name(f.Piece) + ")"
	}
	if f.To > 0 {
		text += "; published charts: " + charts(f)
	}
	return text + " (--why)."
}

// soakRoom says the same with its reasons.
func (w Words) soakRoom(f finding.Finding) string {
	text := fmt.Sprintf("the soak is %s because stress relaxes in minutes at %s and the pieces are even by then; it could last %s, ", duration(f.Time), w.temp(f.Temp), duration(f.Bears))
	if f.Piece != finding.None {
		text += "which is what " + w.name(f.Piece) + " bears"
	} else {
		text += "if no color shifts by it: until then the softest piece flows less than in an hour at 10^11 Pa·s, from which on it is taken to sag"
	}
	if f.To > 0 {
		text += "; published charts for this piece hold it " + charts(f) + ", as lehr rules shows, and by this computation the time beyond relaxes nothing more, if the kiln is as given; the schedule of the maker of the glass comes first"
	}
	return text
}

// charts is the soak that published charts ask for, or its range.
func charts(f finding.Finding) string {
	least, most := duration(unit.Seconds(f.Number)), duration(unit.Seconds(f.To))
	if least == most {
		return most
	}
	return least + " to " + most
}

// otherDegrees writes a temperature in the degrees in which typed was not.
func otherDegrees(t, typed unit.Temp) string {
	if unit.TypedIn(typed) == unit.US {
		return t.Text(unit.Metric)
	}
	return t.Text(unit.US)
}

// late says that the kiln cannot follow a segment, and what it does instead.
func (w Words) late(f finding.Finding) string {
	what, where := "heats", ""
	if f.Rate < 0 {
		what = "falls"
	}
	if !f.Temp.IsZero() {
		where = " below " + w.temp(f.Temp)
	}
	about := ""
	if !f.Yes { // nobody has measured this kiln
		about = "about "
	}
	if f.Number > 0 { // all the way: the rate keyed in decides nothing
		least, per := unit.Rate(f.Number).In(w.keyed)
		return fmt.Sprintf("segment %d: the kiln takes %s%s at any rate from %.0f %s", f.Segment+1, about, duration(f.Time), math.Ceil(least), per)
	}
	return fmt.Sprintf("segment %d, %s: the kiln %s slower than %s%s; it takes %s%s, %s longer than told", f.Segment+1, f.Name, what,
		w.rate(unit.Rate(math.Abs(float64(f.Rate)))), where, about, duration(f.Time), duration(f.Bears))
}

// longer says how much longer a program takes.
func longer(t time.Duration) string {
	if t < time.Minute {
		return "it takes no longer"
	}
	return "it takes " + duration(unit.WholeMinutes(t)) + " longer"
}

// marginLeft says how much of every limit a plan was to leave, and whether it does.
func marginLeft(f finding.Finding) string {
	if !f.Yes {
		return fmt.Sprintf("the margin of %.3g %% of every limit of tension (--margin) could not be kept", 100*f.Number)
	}
	return fmt.Sprintf("%.3g %% of every limit of tension is left unused (--margin)", 100*f.Number)
}
