package strict

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Visible returns text in which what a reader would not see, but what moves a
// cursor, colors a terminal or turns the order of writing around, is spelled
// out: <U+001B>, <U+202E>. Line breaks and tabs stay; bytes that are no UTF-8
// become <U+FFFD>. [Decode] hands on no other text, so that a name in a file
// can be shown anywhere; text that comes in by another way goes through here.
func Visible(s string) string {
	if strings.IndexFunc(s, hidden) < 0 && utf8.ValidString(s) {
		return s
	}
	var b strings.Builder
	for _, r := range strings.ToValidUTF8(s, "\ufffd") {
		if hidden(r) || r == utf8.RuneError {
			fmt.Fprintf(&b, "<U+%04X>", r)
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

// hidden reports whether a character is spelled out. The joiner of emoji and
// of some scripts, U+200D, is none of them.
func hidden(r rune) bool {
	switch {
	case r == '\n' || r == '\t':
		return false
	case unicode.IsControl(r):
		return true
	}
	return r == '\u061c' || r == '\u180e' || r >= '\u200b' && r <= '\u200f' && r != '\u200d' || r >= '\u2028' && r <= '\u202e' ||
		r >= '\u2060' && r <= '\u206f' || r == '\ufeff' || r >= '\ufff9' && r <= '\ufffb' || r >= 0xe0000 && r <= 0xe007f
}

// oneLine is Visible with line breaks and tabs spelled out, too: messages quote
// the file, and may quote a line break.
func oneLine(s string) string {
	return strings.NewReplacer("\n", `\n`, "\t", `\t`).Replace(Visible(s))
}

// The lengths to which Brief cuts, in characters.
const (
	longestWord    = 80  // of what has no space in it, or stands in quotes
	longestMessage = 600 // in all
)

// Brief shortens a message that repeats what was typed: a word or a text in
// quotes keeps at most 80 characters, the whole at most 600, the end included,
// as that says what is wrong.
func Brief(message string) string {
	if len(message) <= longestWord {
		return message
	}
	var b strings.Builder
	for rest := message; rest != ""; {
		n := strings.IndexAny(rest, " \n\"")
		switch {
		case n < 0:
			n = len(rest)
		case n == 0 && rest[0] == '"':
			if n = 1 + strings.IndexByte(rest[1:], '"'); n == 0 {
				n = len(rest)
			} else {
				n++
			}
		case n == 0:
			n = 1
		}
		b.WriteString(middle(rest[:n], longestWord))
		rest = rest[n:]
	}
	return middle(b.String(), longestMessage)
}

// Short returns a text for a message: at most n characters of it, and … for the rest.
func Short(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n]) + "…"
	}
	return s
}

// middle leaves out the middle of a text that is longer than n characters.
func middle(s string, n int) string {
	if len(s) <= n || utf8.RuneCountInString(s) <= n {
		return s
	}
	tail := n / 4
	runes := []rune(s)
	return string(runes[:n-tail-1]) + "…" + string(runes[len(runes)-tail:])
}
