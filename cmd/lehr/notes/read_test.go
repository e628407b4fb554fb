package notes

import (
	"strings"
	"testing"
	"time"
)

// TestParseDay reads times in Berlin, where the clocks went from two to three on
// 2026-03-29 (Directive 2000/84/EC: the last Sunday of March, at one in UTC), and in
// Beirut, where they went on at midnight of that day.
func TestParseDay(t *testing.T) {
	defer func(was *time.Location) { time.Local = was }(time.Local)
	for _, c := range []struct{ zone, text, want, wrong string }{
		{"Europe/Berlin", "2026-03-29 01:59", "2026-03-29T01:59:00+01:00", ""},
		{"Europe/Berlin", "2026-03-29 02:30", "", "is no time here, as the clocks went on"},
		{"Europe/Berlin", "2026-03-29T02:00", "", "is no time here"},
		{"Europe/Berlin", "2026-03-29 02:30:10", "", "is no time here"},
		{"Europe/Berlin", "2026-03-29 03:00", "2026-03-29T03:00:00+02:00", ""},
		{"Europe/Berlin", "2026-03-29T02:30:00+00:00", "2026-03-29T02:30:00Z", ""},
		{"Europe/Berlin", "2026-03-29", "2026-03-29T00:00:00+01:00", ""},
		{"Europe/Berlin", " 2026-11-25 22:15 ", "2026-11-25T22:15:00+01:00", ""},
		{"Europe/Berlin", "2026-11-25 9:05", "2026-11-25T09:05:00+01:00", ""},
		{"Asia/Beirut", "2026-03-29", "2026-03-29T01:00:00+03:00", ""},
		{"UTC", "1900-01-01", "1900-01-01T00:00:00Z", ""},
		{"UTC", "1899-12-31 23:59", "", "the year must be 1900 or later"},
		{"UTC", "0001-01-01", "", "the year must be 1900 or later"},
		{"UTC", "0000-01-01 12:00", "", "the year must be 1900 or later"},
		{"UTC", "yesterday", "", "is no date"},
	} {
		zone, err := time.LoadLocation(c.zone)
		if err != nil {
			t.Skip("no time zones here: ", err)
		}
		time.Local = zone
		day, err := parseDay(c.text)
		switch {
		case c.wrong != "" && (err == nil || !strings.Contains(err.Error(), c.wrong)):
			t.Errorf("%s in %s: %v, %v, want %q", c.text, c.zone, day, err, c.wrong)
		case c.wrong == "" && (err != nil || !day.Equal(must(time.Parse(time.RFC3339, c.want)))):
			t.Errorf("%s in %s: %v, %v, want %s", c.text, c.zone, day, err, c.want)
		}
	}
}

func must(day time.Time, err error) time.Time {
	if err != nil {
		panic(err)
	}
	return day
}
