package words

import (
	"fmt"

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
		return head + glass + " had set before the power failed, so the fall leaves next to nothing in it, and a new soak would only strain it"
	case rescue.NothingLost:
		return head + glass + " is still so soft that its stress relaxes, so nothing is lost, and a short soak makes up for the fall"
	case rescue.SettingNow:
		return head + glass + " is setting now, and too fast, so every minute costs; heating it back at once strains it less than it ever will again"
	}
	return head + glass + " has set too fast; what is left in it grows no more, so there is no hurry in either direction, and the limits decide"
}

// StopController says what a controller must not do.
const StopController = "Stop the controller before the power is back: one that resumes by itself heats at full power, which is the one way to break these pieces."

// LookForCracks says what comes before any program.
const LookForCracks = "Look for a crack before anything else: no program repairs one."

// NoWayKeeps says in which order ways stand of which none keeps every limit.
const NoWayKeeps = "No way keeps every limit; first stands the one whose stress exceeds its limit least."
