package term

import "strings"

// Wrap breaks text into lines of at most width columns, the first line
// indented by first columns and the others by rest. A blank line stays blank;
// a line that starts with a space (an example, a formula) is not joined with
// its neighbors. A word longer than the line stands alone. The result ends
// with a newline.
func Wrap(text string, width, first, rest int) string {
	var b strings.Builder
	indent := first
	var words []string
	flush := func() {
		for _, line := range wrapWords(words, width-indent, width-rest) {
			b.WriteString(strings.Repeat(" ", indent) + line + "\n")
			indent = rest
		}
		words = nil
	}
	for line := range strings.SplitSeq(strings.Trim(text, "\n"), "\n") {
		switch {
		case strings.TrimSpace(line) == "":
			flush()
			b.WriteString("\n")
		case line[0] == ' ':
			flush()
			b.WriteString(strings.Repeat(" ", indent) + strings.TrimRight(line, " ") + "\n")
			indent = rest
		default:
			words = append(words, strings.Fields(line)...)
		}
	}
	flush()
	return b.String()
}

// wrapWords fills lines, the first of at most first columns, later ones of at
// most rest. A number and its unit are not torn apart.
func wrapWords(words []string, first, rest int) []string {
	words = joinUnits(words, min(first, rest))
	var lines []string
	line, room := "", first
	for _, w := range words {
		switch {
		case line == "":
			line = w
		case Columns(line)+1+Columns(w) <= room:
			line += " " + w
		default:
			lines = append(lines, line)
			line, room = w, rest
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// joinUnits glues a unit to the number before it, a fraction to its whole and a
// number to its spread, so that a line never ends between "510" and "°C" or
// between "1" and "3/4in"; not beyond room columns.
func joinUnits(words []string, room int) []string {
	var out []string
	for _, w := range words {
		if n := len(out); n > 0 {
			last := out[n-1]
			glue := endsInDigit(last) && (isUnit(w) || w == "±" || w == "+/-" || isFraction(w)) ||
				strings.HasSuffix(last, " ±") || strings.HasSuffix(last, " +/-")
			if joined := last + " " + w; glue && Columns(joined) <= room {
				out[n-1] = joined
				continue
			}
		}
		out = append(out, w)
	}
	return out
}

func endsInDigit(s string) bool { return s != "" && s[len(s)-1] >= '0' && s[len(s)-1] <= '9' }

// isFraction reports whether a word begins with a fraction: 3/4in.
func isFraction(s string) bool { return fractionStart().MatchString(s) }

var fractionStart = pattern(`^\d{1,2}/\d{1,3}(?:\D|$)`)

func isUnit(s string) bool {
	switch strings.TrimRight(s, ".,;:)") {
	case "°C", "°F", "C", "F", "K", "mm", "cm", "m", "in", "h", "min", "s", "d", "MPa", "psi", "kPa",
		"°C/h", "°F/h", "C/h", "F/h", "°C/min", "°F/min", "nm", "µm", "%", "kW", "W", "am", "pm", "Pa·s", "Pa.s", "×10⁻⁷/K", "x10^-7/K":
		return true
	}
	return false
}

// Columns counts the columns s takes on a terminal, color marks not counted.
func Columns(s string) int {
	n, escape := 0, false
	for _, r := range s {
		switch {
		case r == '\x1b':
			escape = true
		case escape:
			escape = r != 'm'
		default:
			n++
		}
	}
	return n
}
