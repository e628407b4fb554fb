package kilnlog

import (
	"errors"
	"math"
	"strconv"
	"strings"
)

// missing are the words that loggers write for a reading they do not have.
var missing = map[string]bool{"": true, "NAN": true, "NA": true, "N/A": true, "#N/A": true, "NULL": true, "NONE": true, "OPEN": true,
	"ERR": true, "ERROR": true, "FAULT": true, "FAIL": true, "OL": true, "OVER": true, "UNDER": true, "OVERFLOW": true, "BURNOUT": true,
	"INF": true, "+INF": true, "-INF": true, "1.#QNAN": true, "1.#INF": true, "#VALUE!": true, "#REF!": true, "#DIV/0!": true, "?": true}

// isMissing reports whether a cell says that there is no reading.
func isMissing(cell string) bool {
	cell = strings.TrimSpace(cell)
	if len(cell) > 12 {
		return false
	}
	if strings.Trim(cell, "-*.–—") == "" {
		return true
	}
	return missing[strings.ToUpper(cell)]
}

// isSentinel reports whether a number stands for no reading: 9999 and its like.
func isSentinel(x float64) bool {
	switch math.Abs(x) {
	case 9999, 9999.9, 99999, 32767, 32768, 999.9e3:
		return true
	}
	return false
}

// numeric tells whether a cell is a number, with a point or a comma.
func numeric(cell string) bool {
	_, _, ok := scanNumber(strings.TrimSpace(cell))
	return ok
}

// scanNumber checks the form of a number and returns the mark of its decimals,
// 0 if it has none, and whether that mark could as well stand for thousands.
func scanNumber(s string) (mark byte, ambiguous, ok bool) {
	i := 0
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	whole := run(s[i:])
	first := byte('0')
	if whole > 0 {
		first = s[i]
	}
	i += whole
	after := 0
	if i < len(s) && (s[i] == '.' || s[i] == ',') {
		mark = s[i]
		i++
		after = run(s[i:])
		i += after
	}
	if whole+after == 0 {
		return 0, false, false
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') && after+whole > 0 {
		j := i + 1
		if j < len(s) && (s[j] == '+' || s[j] == '-') {
			j++
		}
		n := run(s[j:])
		if n == 0 || n > 3 {
			return 0, false, false
		}
		i = j + n
	}
	return mark, mark != 0 && after == 3 && whole >= 1 && whole <= 3 && first != '0', i == len(s)
}

func run(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

// decimals is how the numbers of one column mark their decimals.
type decimals struct {
	mark    byte // '.', ',' or 0 while nothing has settled it
	settled bool
}

// see lets a cell of the column settle the mark.
func (d *decimals) see(cell string) {
	if mark, ambiguous, ok := scanNumber(strings.TrimSpace(cell)); ok && mark != 0 && !ambiguous && !d.settled {
		d.mark, d.settled = mark, true
	}
}

// errEither is a number whose mark nothing in the log settles.
var errEither = errors.New("can mean a decimal or thousands")

// number reads a cell. An error says what is wrong with it, to be read after the
// cell.
func (d *decimals) number(cell string) (float64, error) {
	s := strings.TrimSpace(cell)
	mark, ambiguous, ok := scanNumber(s)
	switch {
	case !ok || len(s) > 40:
		return 0, errors.New("is not a number")
	case mark != 0 && d.settled && mark != d.mark:
		return 0, errors.New("is not a number here, where decimals are marked by " + markName(d.mark))
	case ambiguous && !d.settled:
		return 0, errEither
	case mark == ',':
		s = strings.Replace(s, ",", ".", 1)
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
		return 0, errors.New("is too large a number")
	}
	return x, nil
}

func markName(mark byte) string {
	if mark == ',' {
		return "a comma"
	}
	return "a point"
}
