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
	head := fmt.Sprintf("it failed at %s and stands at %s: ", w.temp(failed), w.temp(found))
	switch c {
	case rescue.SetBefore:
		return head + glass + " had set before the power failed, so the fall leaves nothing in it, and a new soak would only strain it"
	case rescue.NothingLost:
		return head + glass + " is still so soft that it forgets, and nothing is lost"
	case rescue.SettingNow:
		return head + glass + " is just setting, too fast; heating it back at once is the cheapest it will ever be"
	}
	return head + glass + " has set, too fast; what is left in it no longer grows, so there is no hurry in either direction, and the limits decide"
}

// StopController says what a controller must not do.
const StopController = "Switch the controller to hold before the power is back: one that resumes by itself heats at full power, which is the one way to break these pieces."
