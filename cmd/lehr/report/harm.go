package report

import (
	"fmt"
	"slices"
	"strings"

	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

// SingleTitle is the heading of the answer for who has everything hot already.
const SingleTitle = "All of it in one firing"

// SingleText says which program that is, and why.
func SingleText(load *piece.Load, one *plan.Single) string {
	whose := fmt.Sprintf("that of firing %d", one.Firing+1)
	if one.Firing < 0 {
		whose = "the one below"
	}
	why := "of the programs compared it does least harm"
	if len(one.Harmed)+len(one.Hopeless) == 0 {
		why = "what it does is mended by annealing again, if nothing breaks before"
	}
	when := "If everything is hot already"
	if load.Into == piece.ColdKiln {
		when = "If it must be one firing"
	}
	if len(one.Cracked) > 0 {
		why += ", and may still crack what is marked below"
	}
	return fmt.Sprintf("%s, take %s, %s: %s.", when, whose, unit.FormatDuration(unit.WholeMinutes(one.Report.Actual.Total())), why)
}

// AgainText says what is to be annealed again later in a firing.
func AgainText(f plan.Firing) string {
	var names []string
	for _, p := range f.Report.Pieces {
		names = append(names, CountName(p.Piece))
	}
	return fmt.Sprintf("Anneal again later, from a cold kiln, %s: %s.", unit.FormatDuration(unit.WholeMinutes(f.Report.Actual.Total())), strings.Join(names, ", "))
}

// UntilAgain says what pieces need that are to be annealed again.
const UntilAgain = "Until then these pieces carry more tension than the limits allow and can break without warning: keep them covered and apart, handle them little, with eyes and hands protected. They bring that tension into the kiln, so they are heated with half of what is allowed otherwise."

// SingleCautions are what a person must know who takes the one program for all.
func SingleCautions(one *plan.Single) []string {
	out := []string{}
	closed, hot := ClosedText(one.Report)
	switch {
	case len(one.Cracked) > 0: // until the room is reached
		out = append(out, words.MayBurst)
	case hot:
		out = append(out, "Keep the kiln closed "+closed+", whatever the clock says: it would be opened too hot.")
	}
	if len(one.Hopeless) > 0 {
		out = append(out, "A piece for which no program was found carries more tension than the limits allow and can break without warning, at the opening or days later: keep it covered and apart, handle it little, with eyes and hands protected.")
	}
	return out
}

// HarmText says what a program does to a piece.
func HarmText(one *plan.Single, i int) string {
	p := one.Report.Pieces[i]
	if v := p.Verdict(); v == verify.WithinLimits || v == verify.NotJudged {
		return VerdictWord(p)
	}
	text := OverText(one.Report, p)
	if p.Tension.Use > 1 {
		text += fmt.Sprintf(" (tension %s %% of its limit)", Used(p.Tension))
	}
	return text
}

const (
	// AnnealAgain is what is to be done with a piece that a program leaves too much in.
	AnnealAgain = "anneal again"
	mayCrack    = "may crack"
)

// HarmThen says what is to be done with a piece.
func HarmThen(one *plan.Single, i int) string {
	switch {
	case one.Report.Pieces[i].Within:
		return "-"
	case slices.Contains(one.Cracked, i):
		return mayCrack
	case slices.Contains(one.Harmed, i):
		return "not mended"
	case slices.Contains(one.Cooler, i):
		if closed, ok := ClosedText(one.Report); ok {
			return "closed " + closed
		}
		return "open colder"
	case slices.Contains(one.Hopeless, i):
		return "no program found"
	}
	return AnnealAgain
}

// Harms are what one program does to each piece, and what is to be done then, as
// sentences without a full stop.
func Harms(one *plan.Single) (out []string) {
	for i, p := range one.Report.Pieces {
		text := CountName(p.Piece) + ": " + HarmText(one, i)
		if then := HarmThen(one, i); then != "-" {
			text += "; then: " + then
		}
		out = append(out, text)
	}
	return out
}
