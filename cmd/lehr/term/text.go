package term

import (
	"strconv"
	"strings"
)

// Pad fills a word with spaces to a width.
func Pad(s string, n int) string { return s + strings.Repeat(" ", max(0, n-len(s))) }

// Counted writes a number with the word for what is counted.
func Counted(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return strconv.Itoa(n) + " " + word + "s"
}

// Capital begins a sentence. What begins with no small letter from a to z, as a name
// of other letters may, stays as it is.
func Capital(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
