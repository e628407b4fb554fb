package checklist

import (
	"strings"
	"time"

	"lehr/glass/unit"
)

// Program is what the lines for leaving and opening the kiln say of the kiln
// program: its times and temperatures, and the display system.
type Program struct {
	Start string        // clock text of the start, such as "22:15"; "" if not known
	End   string        // clock text of the end, such as "Fri 09:45"; "" if not known
	About bool          // End and Total are those of the likeliest kiln; nobody measured this one
	Range string        // what they lie between then, such as "06:48 to 01:27 +1d"; of Total where End is not known; "" if not told
	Total time.Duration // from start to end; zero if not known
	Soak  unit.Temp     // soak temperature
	Hold  time.Duration // time at the soak
	Last  unit.Temp     // temperature at which the program ends
	Off   unit.Temp     // temperature at which the power goes off, if that is earlier; zero if not
	Stays bool          // the controller keeps its last set point until somebody switches it off
	// Closed says until when the kiln stays closed after the program, such as "until it
	// reads 120 °C", where opening it at Last is too hot; "" if it is not.
	Closed string
	// Opens is when it can be opened then, such as "at 14:01"; "" if not known, and where
	// the kiln is opened when the program ends.
	Opens string
	Units unit.System
	// Keyed is the system of the kiln's controller, in which its set points stand.
	Keyed unit.System
}

// setPoints returns the temperatures and times to post on the kiln.
func (p Program) setPoints() string {
	var parts []string
	if !p.Soak.IsZero() {
		s := p.Soak.Text(p.Keyed)
		if p.Hold > 0 {
			s += " for " + unit.FormatDuration(p.Hold)
		}
		parts = append(parts, s)
	}
	switch {
	case p.Stays && !p.Last.IsZero():
		parts = append(parts, "then held at "+p.held().Text(p.Keyed)+" until switched off")
	case !p.Off.IsZero():
		parts = append(parts, "off at "+p.Off.Text(p.Keyed))
	case !p.Last.IsZero() && p.Last != p.Soak: // else it stays hot
		parts = append(parts, "off at "+p.Last.Text(p.Keyed))
	}
	if p.Closed != "" && len(parts) > 0 {
		closed := "closed " + p.Closed
		if p.Opens != "" {
			closed += " " + p.Opens
		}
		parts = append(parts, closed)
	}
	return strings.Join(parts, ", ")
}

// held is the set point that a controller keeps which does not switch off.
func (p Program) held() unit.Temp {
	if p.Off.IsZero() {
		return p.Last
	}
	return p.Off
}

// within is the range behind a time that is estimated.
func (p Program) within() string {
	if p.Range == "" {
		return ""
	}
	return " (" + p.Range + ")"
}

// fill returns what is known for a blank, or the empty string.
func (p Program) fill(blank string) string {
	switch blank {
	case "start":
		return p.Start
	case "end":
		if p.End != "" && p.About {
			return "about " + p.End + p.within()
		}
		return p.End
	case "opens":
		return p.Opens
	case "set_points":
		return p.setPoints()
	case "total":
		switch total := unit.FormatDuration(p.Total); {
		case p.Total > 0 && p.About && p.End == "":
			return "about " + total + p.within()
		case p.Total > 0 && p.About:
			return "about " + total
		case p.Total > 0:
			return total
		}
	case "last":
		if !p.Last.IsZero() {
			return p.Last.Text(p.Keyed)
		}
	}
	return ""
}

// programBlanks are the blanks that a program fills.
var programBlanks = []string{"start", "end", "total", "set_points", "last", "opens"}
