package unit

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// vulgar holds the fractions that are one character.
var vulgar = map[rune][2]float64{
	'¼': {1, 4}, '½': {1, 2}, '¾': {3, 4},
	'⅐': {1, 7}, '⅑': {1, 9}, '⅒': {1, 10}, '⅓': {1, 3}, '⅔': {2, 3},
	'⅕': {1, 5}, '⅖': {2, 5}, '⅗': {3, 5}, '⅘': {4, 5}, '⅙': {1, 6}, '⅚': {5, 6},
	'⅛': {1, 8}, '⅜': {3, 8}, '⅝': {5, 8}, '⅞': {7, 8},
}

// amount reads a number, a fraction or a whole number and a fraction from the
// start of a cleaned text, and returns what follows without its space.
func amount(input, s string) (n float64, rest string, err error) {
	if f, rest, ok := vulgarAt(s); ok {
		return f, strings.TrimLeft(rest, " "), nil
	}
	n, lit, rest, err := length.number(input, s)
	if err != nil {
		return 0, "", err
	}
	if digits(lit) != lit {
		return n, rest, nil
	}
	if den, ok := strings.CutPrefix(rest, "/"); ok && isDigit(den) {
		n, rest, err = over(input, n, den)
		return n, strings.TrimLeft(rest, " "), err
	}
	// A space or a hyphen may stand between the whole and the fraction.
	tail := strings.TrimLeft(rest, " -")
	if f, rest, ok := vulgarAt(tail); ok {
		return n + f, strings.TrimLeft(rest, " "), nil
	}
	num := digits(tail)
	den, ok := strings.CutPrefix(tail[len(num):], "/")
	if num == "" || !ok || !isDigit(den) {
		return n, rest, nil
	}
	top, _ := strconv.ParseFloat(num, 64)
	f, rest, err := over(input, top, den)
	if err == nil && f >= 1 {
		err = length.fail(input, "has a fraction that is not below one", 0, "")
	}
	return n + f, strings.TrimLeft(rest, " "), err
}

// over divides by the whole number that text starts with.
func over(input string, top float64, text string) (float64, string, error) {
	d := digits(text)
	den, err := strconv.Atoi(d)
	if err != nil || den < 1 || den > 1000 {
		return 0, "", length.fail(input, "has a fraction whose lower number is not from 1 to 1000", 0, "")
	}
	return top / float64(den), text[len(d):], nil
}

func vulgarAt(s string) (float64, string, bool) {
	r, size := utf8.DecodeRuneInString(s)
	f, ok := vulgar[r]
	if !ok {
		return 0, s, false
	}
	return f[0] / f[1], s[size:], true
}
