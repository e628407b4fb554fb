package notebook

import (
	"strings"

	"lehr/glass/strict"
)

// Result is how a piece came out.
type Result string

// The results.
const (
	Whole         Result = "whole"
	CrackedInKiln Result = "cracked in kiln"
	CrackedLater  Result = "cracked later"
	CrackedAtWork Result = "cracked at torch"
	Checked       Result = "checked"
	StressSeen    Result = "stress seen"
	Remelted      Result = "remelted"
)

// results lists the results in the order in which they are offered.
func results() []Result {
	return []Result{Whole, CrackedInKiln, CrackedLater, CrackedAtWork, Checked, StressSeen, Remelted}
}

// Cracked reports whether a result is a crack of any kind.
func (r Result) Cracked() bool {
	return r == CrackedInKiln || r == CrackedLater || r == CrackedAtWork || r == Checked
}

// ParseResult reads a result. Errors: one that offers the words.
func ParseResult(text string) (Result, error) {
	text = strings.ToLower(strings.Join(strings.Fields(text), " "))
	var words []string
	for _, r := range results() {
		if string(r) == text {
			return r, nil
		}
		words = append(words, string(r))
	}
	hint := "write one of: " + strings.Join(words, ", ")
	var begin []string // "cracked" begins three of them
	for _, w := range words {
		if strings.HasPrefix(w, text) && text != "" {
			begin = append(begin, w)
		}
	}
	if len(begin) > 0 {
		hint = "did you mean " + strings.Join(begin, ", or ") + "? " + hint
	} else {
		hint = strict.DidYouMean(text, words, hint)
	}
	return "", &ValueError{text, "is no result", hint}
}

// CameOutSo is how many of a kind came out as its result says.
func (p Piece) CameOutSo() int {
	if p.Of > 0 {
		return p.Of
	}
	return p.Count
}
