// Package rescue says which ways there are when the power failed: to go on from
// here, to soak again, or to let the kiln fall, and which to try first.
//
// It knows two temperatures, where the kiln was when it failed and where it was
// found, and the fixed points of the glass. What each way costs in hours and
// stress is for a simulation to say; this package tells which are ruled out and
// why.
package rescue

import (
	"fmt"
	"time"

	"lehr/glass/unit"
)

// Way is one way on.
type Way int

// The ways.
const (
	GoOn      Way = iota // the rest of the program, from where the kiln is
	SoakAgain            // back to the soak, then the whole program
	LetFall              // leave it closed and let it fall to the room
)

// String names the way.
func (w Way) String() string { return [...]string{"go on", "soak again", "let it fall"}[w] }

// Case is what happened to the glass.
type Case int

// The cases.
const (
	// SetBefore: the glass had set when the power failed. Nothing that the fall
	// did stays in it, and a new soak would only strain it.
	SetBefore Case = iota
	// NothingLost: the glass is still so soft that it forgets.
	NothingLost
	// SettingNow: the glass is just setting, too fast. Heating it back at once is
	// the cheapest it will ever be.
	SettingNow
	// SetTooFast: the glass has set, too fast. There is no hurry in either
	// direction: what is left in it no longer grows.
	SetTooFast
	// NotSoaked: it failed on the way up to the soak. Nothing is annealed in it.
	NotSoaked
)

// String names the case.
func (c Case) String() string {
	return [...]string{"set before it failed", "nothing lost", "setting now", "set too fast", "not soaked yet"}[c]
}

// Bounds are the temperatures that part the cases.
type Bounds struct {
	Set    unit.Temp // failed below: the glass had set
	Soft   unit.Temp // found above: it forgets
	Waning unit.Temp // found below: it has set for good
}

// BoundsOf returns the bounds of a glass: set 10 K under its strain point, soft
// halfway from there to its annealing point, set for good 60 K under the strain
// point. For borosilicate 3.3 these are 500, 535 and 450 °C.
//
// Valid: the annealing point above the strain point.
//
// Source: simulated outages of two spheres of borosilicate 3.3 in kilns with
// time constants of 1, 2 and 4 h [derived]; for other glasses the distances from
// the fixed points are kept, which no study has checked.
//
// Checked: testdata/cases/rescue.toml
func BoundsOf(strain, anneal unit.Temp) Bounds {
	return Bounds{Set: strain.Add(-10), Soft: strain.Add(anneal.Sub(strain) / 2), Waning: strain.Add(-60)}
}

// Advice is which ways there are, the one to try first in front.
type Advice struct {
	Case Case
	Ways []Way
	// Hold is the least hold of a new soak; a piece whose core was still hot when
	// the power failed takes the time in which it evens out, if that is longer.
	// Zero if a new soak is ruled out.
	Hold time.Duration
	// AtOnce says that the new soak must begin now. Otherwise waiting costs nothing.
	AtOnce bool
	// Simulate says that the limits decide which way is first.
	Simulate bool
	// StopController says that a controller which resumes by itself at full power
	// must be stopped: heating is limited by what the pieces bear.
	StopController bool
}

// StateError is a state that cannot be.
type StateError struct{ Reason, Next string }

func (e *StateError) Error() string { return e.Reason }

// Hint names the one thing to do.
func (e *StateError) Hint() string { return e.Next }

// Advise returns which ways there are for a glass whose kiln failed at one
// temperature and was found at another.
//
// Errors: *StateError if it was found hotter than it failed, or a temperature
// is missing.
//
// Checked: testdata/cases/rescue.toml
func Advise(failed, found unit.Temp, b Bounds) (Advice, error) {
	switch {
	case failed.IsZero() || found.IsZero():
		return Advice{}, &StateError{"needs the temperature at which the power failed and the one found", ""}
	case failed.Less(found):
		return Advice{}, &StateError{fmt.Sprintf("found at %s, hotter than it was when the power failed, %s", unit.AsTyped(found), unit.AsTyped(failed)),
			"the controller has heated since: switch it to hold, and give the log of the night"}
	case failed.Less(b.Set):
		return Advice{Case: SetBefore, Ways: []Way{GoOn, LetFall}, StopController: true}, nil
	case b.Soft.Less(found):
		return Advice{Case: NothingLost, Ways: []Way{SoakAgain, GoOn, LetFall}, Hold: 15 * time.Minute}, nil
	case !found.Less(b.Waning):
		return Advice{Case: SettingNow, Ways: []Way{SoakAgain, LetFall, GoOn}, Hold: 30 * time.Minute, AtOnce: true, StopController: true}, nil
	}
	return Advice{Case: SetTooFast, Ways: []Way{LetFall, SoakAgain, GoOn}, Hold: 30 * time.Minute, Simulate: true, StopController: true}, nil
}

// BeforeSoak is the advice for a glass whose kiln failed on the way up to the soak:
// the whole program is still to come, and may come later, from a cold kiln.
func BeforeSoak() Advice {
	return Advice{Case: NotSoaked, Ways: []Way{SoakAgain, LetFall, GoOn}, Hold: 30 * time.Minute, Simulate: true, StopController: true}
}

// heatingRate returns the fastest heating at which the tension in the middle of
// a piece stays within a limit, when some is left there already. perRate is the
// tension there for a steady rate of one kelvin per second [Pa s/K]; it grows
// with the square of the size.
//
//	rate = (limit − left)/perRate
//
// It is zero if left has reached the limit: then no rate keeps it.
//
// Valid: perRate above zero; panics otherwise.
//
// Source: superposition of the tension left and that of a steady ramp [derived].
//
// Checked: testdata/cases/rescue.toml
func heatingRate(limit, residual unit.Stress, perRate float64) unit.Rate {
	if !(perRate > 0) {
		panic(fmt.Sprintf("rescue: tension per rate %g must be above zero", perRate))
	}
	return unit.Rate(max(0, float64(limit-residual)) / perRate)
}
