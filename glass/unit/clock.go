package unit

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// Clock is a time of day in minutes after midnight, from 0 to 1439. It has no
// date and no time zone; the two nights a year when clocks change are the
// caller's to mention. The zero value is midnight.
type Clock int

const minutesPerDay = 24 * 60

var clock = quantity{name: "clock time", examples: [2]string{"22:15", "10:15 pm"}, lo: 1, hi: 0}

// ClockOf returns the time of day of a moment where it is told, without its seconds.
func ClockOf(t time.Time) Clock { return Clock(t.Hour()*60 + t.Minute()) }

// ParseClock reads a time of day: "22:15", "8:00", "10:15 pm", "10 pm", "22h15",
// "noon" and "midnight". Without am or pm the hours run from 0 to 23; 12 am is
// midnight and 12 pm is noon.
//
// Errors: *ParseError for anything else, a bare number among them: 22.15 could
// be a decimal, and 2215 a year. What they could mean stands in the hint.
func ParseClock(s string) (Clock, error) {
	text, err := clock.clean(s)
	if err != nil {
		return 0, err
	}
	text = strings.ToLower(text)
	switch text {
	case "noon", "midday":
		return 12 * 60, nil
	case "midnight":
		return 0, nil
	}
	half := ""
	for _, suffix := range []string{"am", "a.m.", "pm", "p.m."} {
		if rest, ok := strings.CutSuffix(text, suffix); ok {
			half, text = suffix[:1], strings.TrimSpace(rest)
			break
		}
	}
	hh, mm, colon := strings.Cut(text, ":")
	if clock, h := strings.CutSuffix(text, "h"); h && colon {
		hh, mm, _ = strings.Cut(clock, ":") // 8:30h
	} else if h, m, cut := strings.Cut(text, "h"); cut && half == "" {
		if hh, mm, colon = h, m, true; m == "" {
			mm = "00"
		}
	}
	number := func(s string, least int) bool { return len(s) >= least && len(s) <= 2 && digits(s) == s }
	switch {
	case !colon && half == "" && digits(text) == text:
		e := clock.fail(s, "has no minutes and no am or pm", 0, "")
		if h, _ := strconv.Atoi(text); number(text, 1) && h >= 1 && h <= 12 {
			e.Hints = []string{text + ":00", text + " am", text + " pm"}
		}
		if n := len(text); n == 3 || n == 4 {
			e.meant(text[:n-2], text[n-2:], half)
		}
		e.NoUnit = true
		return 0, e
	case !number(hh, 1), colon && !number(mm, 2), !colon && half == "":
		e := clock.fail(s, "is not a time of day", 0, "")
		if part := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(".,;-", r) }); len(part) == 2 {
			e.meant(part[0], part[1], half)
		}
		return 0, e
	}
	h, _ := strconv.Atoi(hh)
	m, _ := strconv.Atoi(mm) // empty is 0
	switch {
	case m > 59:
		return 0, clock.fail(s, "has more than 59 minutes", 0, "")
	case half == "" && h > 23:
		return 0, clock.fail(s, "has an hour above 23", 0, "")
	case half != "" && (h < 1 || h > 12):
		return 0, clock.fail(s, "has an hour that is not 1 to 12 with am or pm", 0, "")
	case half != "":
		h %= 12
		if half == "p" {
			h += 12
		}
	}
	return Clock(60*h + m), nil
}

// CutClock parts a text into the time of day that it begins with and what follows:
// "4:30 am 590 °F". Without one c is nil, and rest the whole text.
//
// Errors: *ParseError of what begins as a time of day and is none.
func CutClock(s string) (c *Clock, rest string, err error) {
	text, err := clock.clean(s)
	if err != nil {
		return nil, s, err
	}
	words := strings.Fields(text)
	for n := min(2, len(words)); n > 0; n-- { // "4:30 am" before "4:30"
		at, err := ParseClock(strings.Join(words[:n], " "))
		if err == nil {
			return &at, strings.Join(words[n:], " "), nil
		}
		if n == 1 && strings.Contains(words[0], ":") {
			return nil, s, err
		}
	}
	return nil, s, nil
}

// ParseDay reads a day, and the time of day behind it if there is one, by
// [ParseClock]: "2026-11-29", "2026-11-29 8:00", "2026-11-29 8:00 am". hour says
// whether there was one. Without it t is midnight; both are in the zone given.
func ParseDay(s string, zone *time.Location) (t time.Time, hour bool, err error) {
	day, at, hour := strings.TrimSpace(s), "", false
	if i := strings.IndexAny(day, " T"); i > 0 {
		day, at, hour = day[:i], strings.TrimSpace(day[i+1:]), true
	}
	if t, err = time.ParseInLocation(time.DateOnly, day, zone); err != nil || !hour {
		return t, hour, err
	}
	c, err := ParseClock(at)
	return time.Date(t.Year(), t.Month(), t.Day(), int(c)/60, int(c)%60, 0, 0, zone), true, err
}

// meant puts the time that hours and minutes make into the hint, if they make one.
func (e *ParseError) meant(h, m, half string) {
	hour, err1 := strconv.Atoi(h)
	minute, err2 := strconv.Atoi(m)
	if err1 != nil || err2 != nil || digits(h) != h || digits(m) != m || len(h) > 2 || len(m) != 2 || minute > 59 || hour > 23 {
		return
	}
	switch {
	case half == "":
		e.Hints = []string{h + ":" + m}
	case hour >= 1 && hour <= 12:
		e.Hints = []string{h + ":" + m + " " + half + "m"}
	}
}

// Add returns the time of day after d, and how many midnights lie between.
// A part of a minute counts as a whole one, so that the end of a firing is
// never announced too early.
func (c Clock) Add(d time.Duration) (end Clock, days int) {
	whole := d / time.Minute
	if d%time.Minute > 0 {
		whole++
	}
	minutes := int(c) + int(whole)
	days = minutes / minutesPerDay
	if minutes%minutesPerDay < 0 {
		days--
	}
	return Clock(minutes - days*minutesPerDay), days
}

// Text writes c by 24 hours in the metric system and by 12 in the US one:
// "22:15" or "10:15 pm".
func (c Clock) Text(s System) string {
	if s != US {
		return c.String()
	}
	half := "am"
	if c >= minutesPerDay/2 {
		half = "pm"
	}
	return fmt.Sprintf("%d:%02d %s", (int(c)/60+11)%12+1, int(c)%60, half)
}

// String writes c by 24 hours: "08:05". It parses back.
func (c Clock) String() string { return fmt.Sprintf("%02d:%02d", int(c)/60, int(c)%60) }

// MarshalText returns String; a value that is no time of day is an error.
func (c Clock) MarshalText() ([]byte, error) {
	if c < 0 || c >= minutesPerDay {
		return nil, fmt.Errorf("clock time of %d minutes: must be from 0 to %d", int(c), minutesPerDay-1)
	}
	return []byte(c.String()), nil
}

// UnmarshalText reads what ParseClock reads.
func (c *Clock) UnmarshalText(text []byte) error { return parsed(c, text, ParseClock) }

// Set reads the value of a command-line flag.
func (c *Clock) Set(text string) error { return c.UnmarshalText([]byte(text)) }

// Type names the value in the help of a flag.
func (c Clock) Type() string { return "clock" }
