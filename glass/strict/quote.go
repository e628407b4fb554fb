package strict

import (
	"fmt"
	"strings"
	"unicode"
)

// Quote writes a text as a value of TOML that reads back as the same text; bytes
// that are no UTF-8 become U+FFFD.
func Quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range strings.ToValidUTF8(s, "\ufffd") {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case unicode.IsControl(r):
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// QuoteList writes texts as a list of TOML.
func QuoteList(list []string) string {
	var out []string
	for _, s := range list {
		out = append(out, Quote(s))
	}
	return "[" + strings.Join(out, ", ") + "]"
}

// Cell writes a text as a cell of CSV. A spreadsheet computes a cell that begins as a
// formula does, whoever wrote it there: such a text gets an apostrophe before it.
func Cell(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}
