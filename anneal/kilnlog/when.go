package kilnlog

import (
	"strings"
	"time"
)

// dateForm is how a date is written.
type dateForm byte

const (
	noDate    dateForm = iota
	yearFirst          // 2026-11-25
	dotted             // 25.11.2026: the day is first
	named              // 25 Nov 2026: the month has a name
	slashed            // 03/04/2026: day or month first
)

// stamp is a date, a time of day, or both, as written.
type stamp struct {
	form    dateForm
	y, a, b int  // year, and the other two: month and day, or as written if slashed
	clock   bool // has a time of day
	parts   int  // of the clock: 2 for h:min, 3 for h:min:s
	hours   int  // as written
	nano    int64
	half    bool // written with am or pm
	zone    bool
	offset  int // [s] east of UTC
}

// scanStamp reads a date, a time of day, or a date with a time of day. It
// guesses nothing: which number of a slashed date is the day stays open.
func scanStamp(s string) (t stamp, ok bool) {
	s = strings.TrimSpace(s)
	if len(s) < 4 || len(s) > 40 {
		return t, false
	}
	rest, isDate := t.date(s)
	if !isDate {
		rest = s
	} else {
		if rest == "" {
			return t, true
		}
		switch {
		case rest[0] == 'T' || rest[0] == 't' || rest[0] == ' ' || rest[0] == ',' || rest[0] == '_':
			rest = strings.TrimLeft(rest[1:], " ")
		default:
			return t, false
		}
	}
	return t, t.time(rest)
}

// digits reads one to most digits.
func digits(s string, most int) (n int, rest string, ok bool) {
	i := run(s)
	if i == 0 || i > most {
		return 0, s, false
	}
	for _, c := range []byte(s[:i]) {
		n = n*10 + int(c-'0')
	}
	return n, s[i:], true
}

var months = []string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"}

// month reads the English name of a month, whole or its first three letters.
func month(s string) (m int, rest string, ok bool) {
	i := 0
	for i < len(s) && (s[i]|0x20) >= 'a' && (s[i]|0x20) <= 'z' {
		i++
	}
	if i < 3 {
		return 0, s, false
	}
	word := strings.ToLower(s[:i])
	for m, short := range months {
		if word == short || word == strings.ToLower(time.Month(m+1).String()) || short == "sep" && word == "sept" {
			return m + 1, strings.TrimPrefix(s[i:], "."), true
		}
	}
	return 0, s, false
}

func (t *stamp) date(s string) (rest string, ok bool) {
	if m, after, ok := month(s); ok { // Nov 25, 2026
		d, after, ok := digits(strings.TrimLeft(after, " "), 2)
		if !ok {
			return s, false
		}
		y, after, ok := digits(strings.TrimLeft(after, ", "), 4)
		t.form, t.y, t.a, t.b = named, y, m, d
		return after, ok && y >= 1970 && validDate(y, m, d)
	}
	first, after, ok := digits(s, 4)
	if !ok || len(after) < 3 {
		return s, false
	}
	sep := after[0]
	if sep != '-' && sep != '/' && sep != '.' && sep != ' ' {
		return s, false
	}
	if m, rest, ok := month(after[1:]); ok { // 25-Nov-2026
		y, rest, ok := digits(strings.TrimLeft(rest, "- /,"), 4)
		t.form, t.y, t.a, t.b = named, fullYear(y), m, first
		return rest, ok && validDate(t.y, m, first)
	}
	if sep == ' ' {
		return s, false
	}
	second, after, ok := digits(after[1:], 2)
	if !ok || len(after) < 2 || after[0] != sep {
		return s, false
	}
	third, after, ok := digits(after[1:], 4)
	if !ok {
		return s, false
	}
	switch {
	case first > 31: // year, month, day
		t.form, t.y, t.a, t.b = yearFirst, first, second, third
		return after, first >= 1970 && validDate(first, second, third)
	case sep == '.':
		t.form, t.y, t.a, t.b = dotted, fullYear(third), second, first
		return after, validDate(t.y, second, first)
	}
	t.form, t.y, t.a, t.b = slashed, fullYear(third), first, second
	return after, t.y != 0 && (validDate(t.y, first, second) || validDate(t.y, second, first))
}

// fullYear completes a year of two digits; 0 is none.
func fullYear(y int) int {
	switch {
	case y < 100:
		return 2000 + y
	case y < 1970:
		return 0
	}
	return y
}

func validDate(y, m, d int) bool {
	if y < 1970 || m < 1 || m > 12 || d < 1 {
		return false
	}
	return d <= time.Date(y, time.Month(m)+1, 0, 0, 0, 0, 0, time.UTC).Day()
}

// time reads h:min, h:min:s with decimals, am or pm, and an offset from UTC.
func (t *stamp) time(s string) bool {
	h, s, ok := digits(s, 5)
	if !ok || len(s) < 2 || s[0] != ':' {
		return false
	}
	min, s, ok := digits(s[1:], 2)
	if !ok || min > 59 {
		return false
	}
	t.clock, t.parts, t.hours = true, 2, h
	sec, nano := 0, int64(0)
	if s != "" && s[0] == ':' {
		if sec, s, ok = digits(s[1:], 2); !ok || sec > 59 {
			return false
		}
		t.parts = 3
		if len(s) > 1 && (s[0] == '.' || s[0] == ',') {
			n := run(s[1:])
			if n == 0 || n > 9 {
				return false
			}
			scale := int64(1e9)
			for _, c := range []byte(s[1 : 1+n]) {
				scale /= 10
				nano += int64(c-'0') * scale
			}
			s = s[1+n:]
		}
	}
	trimmed := strings.TrimLeft(s, " ")
	if word := strings.ToLower(strings.ReplaceAll(trimmed, ".", "")); word == "am" || word == "pm" {
		if h < 1 || h > 12 {
			return false
		}
		t.half, s = true, ""
		if h %= 12; word == "pm" {
			h += 12
		}
	} else if t.form != noDate && trimmed != "" {
		if t.offset, ok = offset(trimmed); !ok {
			return false
		}
		t.zone, s = true, ""
	}
	if t.form != noDate && h > 23 {
		return false
	}
	t.nano = (int64(h)*3600+int64(min)*60+int64(sec))*1e9 + nano
	return s == ""
}

// offset reads Z, +01:00, -0500 or +01.
func offset(s string) (seconds int, ok bool) {
	if s == "Z" || s == "z" || s == "UTC" {
		return 0, true
	}
	sign := 1
	if s[0] == '-' {
		sign = -1
	} else if s[0] != '+' {
		return 0, false
	}
	s = strings.Replace(s[1:], ":", "", 1)
	if run(s) != len(s) || len(s) != 2 && len(s) != 4 {
		return 0, false
	}
	h := int(s[0]-'0')*10 + int(s[1]-'0')
	m := 0
	if len(s) == 4 {
		m = int(s[2]-'0')*10 + int(s[3]-'0')
	}
	return sign * (h*3600 + m*60), h <= 14 && m <= 59
}

// day is the number of days since 1970 of a date, with a slashed one read in
// an order. ok is false if there is no such date.
func (t *stamp) day(order DateOrder) (days int64, ok bool) {
	m, d := t.a, t.b
	if t.form == slashed && order != MonthFirst {
		m, d = t.b, t.a
	}
	if !validDate(t.y, m, d) {
		return 0, false
	}
	return time.Date(t.y, time.Month(m), d, 0, 0, 0, 0, time.UTC).Unix() / 86400, true
}
