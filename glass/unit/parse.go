package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// sameSign replaces the characters that phones, word processors and other
// alphabets write for the same sign.
var sameSign = strings.NewReplacer(
	"\u00a0", " ", "\u202f", " ", "\u2009", " ", "\u2007", " ", "\t", " ",
	"\u2212", "-", "\u2013", "-", "\u2011", "-", // minus, en dash, unbroken hyphen
	"\u00ba", "°", "\u02da", "°", // masculine ordinal, ring above
	"\u2103", "°C", "\u2109", "°F", "\u212a", "K",
	"\u03bc", "µ",
	"\u2033", `"`, "\u201c", `"`, "\u201d", `"`, "''", `"`, "\u2032\u2032", `"`, "\u2019\u2019", `"`,
	"\u2032", "'", "\u2018", "'", "\u2019", "'",
	"\u2044", "/", "\u2215", "/",
)

// clean brings a text into the one form the parsers read: single plain
// spaces, one sign for each meaning. It refuses what cannot be a quantity.
func (q *quantity) clean(s string) (string, error) {
	switch {
	case len(s) > maxInput:
		return "", q.fail(s, fmt.Sprintf("is too long (%d bytes, at most %d)", len(s), maxInput), 0, "")
	case !utf8.ValidString(s):
		return "", q.fail(s, "is not valid UTF-8 text", 0, "")
	}
	s = sameSign.Replace(s)
	for _, r := range s {
		if unicode.IsControl(r) {
			return "", q.fail(s, "contains a control character", 0, "")
		}
	}
	s = strings.Join(strings.Fields(s), " ")
	if s == "" {
		return "", q.fail(s, "is empty", 0, "")
	}
	word := strings.ToLower(strings.TrimLeft(s, "+-"))
	for _, w := range []string{"nan", "inf"} {
		rest, ok := strings.CutPrefix(word, w)
		rest = strings.TrimPrefix(rest, "inity")
		if ok && (rest == "" || !isLetter(rest)) {
			return "", q.fail(s, "is not a finite number", 0, "")
		}
	}
	return s, nil
}

func isDigit(s string) bool  { return s != "" && s[0] >= '0' && s[0] <= '9' }
func isLetter(s string) bool { r, _ := utf8.DecodeRuneInString(s); return unicode.IsLetter(r) }

// digits returns the decimal digits s starts with.
func digits(s string) string {
	n := 0
	for n < len(s) && isDigit(s[n:]) {
		n++
	}
	return s[:n]
}

// number reads the number at the start of a cleaned text and returns it, as
// typed, and what follows it. input is the whole text, for the error.
func (q *quantity) number(input, s string) (n float64, lit, rest string, err error) {
	i := 0
	if strings.HasPrefix(s, "+") || strings.HasPrefix(s, "-") {
		i++
	}
	start := i
	i += len(digits(s[i:]))
	whole := i - start
	if i < len(s) && s[i] == '.' && (whole > 0 || isDigit(s[i+1:])) {
		i += 1 + len(digits(s[i+1:]))
	}
	if i == start {
		return 0, "", s, q.fail(input, "does not start with a number", 0, "")
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		j := i + 1
		if j < len(s) && (s[j] == '+' || s[j] == '-') {
			j++
		}
		if isDigit(s[j:]) {
			i = j + len(digits(s[j:]))
		}
	}
	lit, rest = strings.TrimPrefix(s[:i], "+"), s[i:]
	if strings.HasPrefix(rest, ",") && isDigit(rest[1:]) {
		return 0, "", "", q.comma(input, lit, rest[1:])
	}
	n, perr := strconv.ParseFloat(lit, 64)
	if perr != nil { // only the range can be wrong here
		return 0, "", "", q.fail(input, "is too large a number", 0, "")
	}
	if math.Abs(n) < 1e-100 {
		n = 0
	}
	if strings.HasPrefix(rest, ".") {
		return 0, "", "", q.fail(input, "has two points in its number", 0, "")
	}
	return n, lit, strings.TrimLeft(rest, " "), nil
}

// comma refuses a number with a comma. Three digits behind it can mean a
// thousand, so both readings are offered.
func (q *quantity) comma(input, lit, after string) error {
	e := q.fail(input, "has a comma; decimals are marked by a point", 0, "")
	d := digits(after)
	unit := strings.TrimSpace(after[len(d):])
	if q.lo >= 0 {
		lit = strings.TrimPrefix(lit, "-")
	}
	if digits(strings.TrimPrefix(lit, "-")) == "" || strings.Contains(lit, ".") {
		return e
	}
	if q == &temperature && strings.HasPrefix(lit, "-") && degree(unit) == kelvin {
		return e // no reading of it is a temperature
	}
	readings := []string{lit + "." + d}
	if len(d) == 3 {
		readings = []string{lit + d, lit + "." + d}
	}
	var hints []string
	for _, r := range readings {
		if n, err := strconv.ParseFloat(r, 64); err != nil || !q.offers(n, r) {
			return e
		}
		switch {
		case unit == "":
			hints = append(hints, r+" "+q.a, r+" "+q.b)
		case q.known != nil && q.known(unit):
			hints = append(hints, r+" "+unit)
		default:
			return e
		}
	}
	e.Hints = hints[:min(2, len(hints))]
	return e
}

// read is number followed by the unit alone, in lower case.
func (q *quantity) read(s string) (n float64, lit, unit string, err error) {
	text, err := q.clean(s)
	if err != nil {
		return 0, "", "", err
	}
	n, lit, rest, err := q.number(s, text)
	if err != nil {
		return 0, "", "", err
	}
	if rest == "" {
		return 0, "", "", q.bare(s, n, lit)
	}
	return n, lit, rest, nil
}

// parsed stores what parse makes of text, and leaves dst alone if it refuses.
func parsed[T any](dst *T, text []byte, parse func(string) (T, error)) error {
	v, err := parse(fromFloat(string(text)))
	if err != nil {
		return err
	}
	*dst = v
	return nil
}

// fromFloat shortens 510.000000 to 510: a bare float in TOML arrives with six
// decimals, whatever was typed. It is refused either way; this is for the hint.
func fromFloat(s string) string {
	whole, ok := strings.CutSuffix(s, ".000000")
	if ok && whole != "" && digits(strings.TrimPrefix(whole, "-")) == strings.TrimPrefix(whole, "-") {
		return whole
	}
	return s
}
