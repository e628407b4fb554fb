package report

import (
	"time"

	"lehr/anneal/verify"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
)

// showShortest prints how a program compares with what else is possible,
// nothing if nobody searched.
func (v *View) showShortest(rep *verify.Report) {
	s := rep.Shortest
	if s == nil {
		return
	}
	v.Prose(0, ShortestText(rep))
	if s.Interrupted && !s.None && !ruleTaken(rep) {
		v.Print(v.Style(term.Warn, "The search was stopped") + ": this is the best program that was judged by then.\n")
	}
}

// ruleTaken says that nothing shorter than the program by the rule was found.
func ruleTaken(rep *verify.Report) bool {
	return rep.Shortest.Rule > 0 && rep.Actual.Total() >= rep.Shortest.Rule
}

// ShortestText is the line about a search.
func ShortestText(rep *verify.Report) string {
	s := rep.Shortest
	length := func(d time.Duration) string { return unit.FormatDuration(unit.WholeMinutes(d)) }
	if s.None && s.Interrupted {
		return "The search was stopped before it had judged a program that keeps the limits; this is the one by the rule."
	}
	if s.Interrupted && ruleTaken(rep) {
		return "The search was stopped before it had judged a shorter program; this is the one by the rule."
	}
	if s.None && rep.Verdict() == verify.WithinLimits {
		return "The search found no shorter program within the limits; this is the one by the rule."
	}
	if s.None {
		return "The search found no program within the limits; this is the one by the rule."
	}
	text := "Shortest found " + length(rep.Actual.Total())
	if s.Rule > 0 {
		text += ", by the rule " + length(s.Rule)
	} else if !s.Interrupted { // the rule may not have come to its end either
		text += ", none by the rule"
	}
	if s.Floor > 0 {
		floor := s.Floor.Truncate(time.Minute) // never above what is true
		text += "; by the closed forms none can be shorter than " + unit.FormatDuration(floor)
	}
	if s.Kiln > 0 {
		text += " (the kiln alone: " + length(s.Kiln) + ")"
	}
	return text + "."
}

// ShortestJSON is what JSON says of a search.
type ShortestJSON struct {
	FoundH  Num  `json:"found_h"`
	RuleH   *Num `json:"by_rule_h"`
	FloorH  Num  `json:"closed_form_floor_h"`
	KilnH   Num  `json:"kiln_alone_h"`
	Stopped bool `json:"stopped_early"`
	None    bool `json:"none_within_limits"`
}

// NewShortestJSON makes it, nil if nobody searched.
func NewShortestJSON(rep *verify.Report) *ShortestJSON {
	s := rep.Shortest
	if s == nil {
		return nil
	}
	j := &ShortestJSON{FoundH: Num(rep.Actual.Total().Hours()), FloorH: Num(s.Floor.Hours()), KilnH: Num(s.Kiln.Hours()), Stopped: s.Interrupted, None: s.None && rep.Verdict() != verify.WithinLimits}
	if s.Rule > 0 {
		h := Num(s.Rule.Hours())
		j.RuleH = &h
	}
	return j
}
