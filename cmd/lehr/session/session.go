// Package session joins what is known of a session at the bench: what the studio
// file says, the pieces of the load, and the load file.
package session

import (
	"slices"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/safety/checklist"
)

// Now is the clock of records and of dates. Tests set it.
var Now = time.Now

// Error is a fact of a file that cannot be read.
type Error struct {
	OfLoad bool // of the load file, else of the studio file
	err    error
}

func (e *Error) Error() string { return "[session] " + e.err.Error() }
func (e *Error) Unwrap() error { return e.err }

// Facts joins what is known of a session. The studio's kiln and glass
// count least, then the [session] of the studio file, then the pieces of the
// load, then its [session]. load may be nil.
//
// Errors: *sessionError.
func Facts(load *piece.Load, st kiln.Studio) (checklist.Facts, error) {
	today := Now()
	f := checklist.Facts{Units: st.Units, Today: today, KilnPower: st.Kiln.Power, Glass: checklist.Family(st.Glass)}
	studio, err := checklist.FactsFrom(st.Session, checklist.FromStudio, today)
	if err != nil {
		return f, &Error{false, err}
	}
	f = f.Over(studio)
	if load == nil {
		return f, nil
	}
	own, err := checklist.FactsFrom(load.Session, checklist.FromLoad, today)
	if err != nil {
		return f, &Error{true, err}
	}
	return f.Over(PieceFacts(load)).Over(own), nil
}

// PieceFacts is what the pieces of a load tell of the session: the greatest
// measure of any of them, and the glass that asks for most at the torch.
func PieceFacts(load *piece.Load) checklist.Facts {
	var f checklist.Facts
	rank := []string{"", "other", "soft", "lead", "borosilicate", "quartz"}
	for _, p := range load.Pieces {
		f.LargestPiece = max(f.LargestPiece, p.Size, p.Across)
		if word := checklist.Family(p.Glass.Name); slices.Index(rank, word) > slices.Index(rank, f.Glass) {
			f.Glass = word
		}
	}
	return f
}

// EmergencyNumber is the emergency number of a load, else of its studio, though another
// fact of either may not be readable. load may be nil.
func EmergencyNumber(load *piece.Load, st kiln.Studio) string {
	if load != nil {
		if n := numberOf(load.Session, checklist.FromLoad); n != "" {
			return n
		}
	}
	return numberOf(st.Session, checklist.FromStudio)
}

func numberOf(facts map[string]any, from checklist.Origin) string {
	f, err := checklist.FactsFrom(map[string]any{"emergency_number": facts["emergency_number"]}, from, Now())
	if err != nil {
		return ""
	}
	return f.EmergencyNumber
}

// Call says whom to call, and from where.
func Call(number string) string {
	if number == "" {
		number = "the emergency number (not given: emergency_number)"
	}
	return "CALL " + number + ". Gas, CO or fire: get out first."
}
