package kilnlog

import (
	"strconv"
	"strings"
	"time"
)

// timing is how the times of a log are written.
type timing int

const (
	unknownTiming timing = iota
	counted              // numbers of a unit, from the start
	daily                // h:min of the day, or from the start
	dated                // date and time, in a zone that is not named
	exact                // with the offset from UTC
)

// when reads the times of the rows of one log.
type when struct {
	kind    timing
	form    dateForm
	line    int // of the first row
	half    bool
	parts   int
	zone    int       // [s] east of UTC, of the first row
	zones   []zoned   // all that there are, in the order in which they come
	order   DateOrder // settled for slashed dates
	settled int       // line that settled it
	same    bool      // slashed dates so far mean the same in both orders
	start   int64     // [ns] as written, of the first row
}

// read returns the time of a row [ns], and for slashed dates that are not
// settled also what it is with the month first.
func (w *when) read(r *reader, rec []string, line int) (t, alt int64, err error) {
	cell := strings.TrimSpace(rec[r.l.time])
	if r.l.date >= 0 {
		cell = strings.TrimSpace(rec[r.l.date]) + " " + cell
	}
	if cell == "" || cell == " " {
		return 0, 0, r.fail(line, "", "has no time")
	}
	s, ok := scanStamp(cell)
	if !ok {
		return w.count(r, cell, line)
	}
	kind := daily
	switch {
	case s.zone:
		kind = exact
	case s.form != noDate:
		kind = dated
	}
	if s.form != noDate && !s.clock {
		return 0, 0, r.option(line, OptTime, "the column with the clock", "time %s: is a date without a time of day", shown(cell))
	}
	if err := w.alike(r, kind, s.form, cell, line); err != nil {
		return 0, 0, err
	}
	switch kind {
	case daily:
		return w.ofDay(r, s, cell, line)
	case exact:
		if w.line == line {
			w.zone = s.offset
		}
	}
	t, alt, err = w.dates(r, s, cell, line)
	t -= int64(s.offset) * 1e9
	alt -= int64(s.offset) * 1e9
	if kind == exact && err == nil && s.form != slashed {
		w.zones = inZone(w.zones, s.offset, t)
	}
	if w.line == line {
		w.start = t
	}
	return t, alt, err
}

// alike refuses a time that is written otherwise than the first.
func (w *when) alike(r *reader, kind timing, form dateForm, cell string, line int) error {
	if w.kind == unknownTiming {
		w.kind, w.form, w.line, w.same = kind, form, line, true
		if u := r.l.timeUnit; u != NoUnit && u != ClockTime && kind != counted {
			return r.option(line, OptTimeUnit, "h:min:s, or leave it out", "time %s: is no number of %s, as the header says", shown(cell), u)
		}
		return nil
	}
	if w.kind != kind || w.form != form {
		return r.fail(line, "write all times alike", "time %s: is written otherwise than in line %d", shown(cell), w.line)
	}
	return nil
}

// count reads a number of seconds, minutes, hours or days.
func (w *when) count(r *reader, cell string, line int) (t, alt int64, err error) {
	x, what := r.secs.number(cell)
	if what != nil {
		if what == errEither {
			return 0, 0, r.option(line, OptDecimal, "point or comma", "time %s: %s", shown(cell), what)
		}
		return 0, 0, r.fail(line, `write "2026-11-25 22:15:00", or numbers with their unit in the header`, "time %s: cannot be read", shown(cell))
	}
	u := r.l.timeUnit
	switch {
	case u == ClockTime:
		return 0, 0, r.fail(line, "", "time %s: is not written h:min or h:min:s", shown(cell))
	case u == NoUnit && x > 20000 && x < 80000 && x != float64(int64(x)):
		e := r.option(line, OptTimeUnit, "s, min or h", "time without a unit: %s looks like a spreadsheet's number of a day", shown(cell))
		e.Next = "format the column as a date and time in the spreadsheet, or give --" + string(OptTimeUnit) + " d"
		return 0, 0, e
	case u == NoUnit:
		return 0, 0, r.option(line, OptTimeUnit, "s, min or h", "time without a unit: column %s", r.acc.Columns[r.l.time].called())
	}
	if err := w.alike(r, counted, noDate, cell, line); err != nil {
		return 0, 0, err
	}
	seconds := x * u.seconds()
	if !(seconds > -9e9 && seconds < 9e9) {
		return 0, 0, r.fail(line, "", "time %s: is too large", shown(cell))
	}
	t = int64(seconds*1e3+0.5) * 1e6 // to the millisecond
	return t, t, nil
}

// ofDay reads a time without a date.
func (w *when) ofDay(r *reader, s stamp, cell string, line int) (t, alt int64, err error) {
	if w.line == line {
		w.half, w.parts, w.start = s.half, s.parts, s.nano
	}
	if s.parts != w.parts && !(s.parts == 3 || w.parts == 3) || s.half != w.half {
		return 0, 0, r.fail(line, "write all times alike", "time %s: is written otherwise than in line %d", shown(cell), w.line)
	}
	if s.hours > 23 && !r.l.elapsed && r.l.timeUnit != ClockTime {
		return 0, 0, r.option(line, OptTimeUnit, "h:min:s if hours stand first; times in minutes and seconds must be rewritten", "time %s: is no time of day", shown(cell))
	}
	return s.nano, s.nano, nil
}

// dates reads a date with a time of day, and keeps both readings of a slashed
// date until one is ruled out.
func (w *when) dates(r *reader, s stamp, cell string, line int) (t, alt int64, err error) {
	if s.form != slashed {
		day, _ := s.day(AnyOrder)
		t = day*86400e9 + s.nano
		return t, t, nil
	}
	if w.order == AnyOrder && r.o.Dates != AnyOrder {
		w.order = r.o.Dates
	}
	first, okDay := s.day(DayFirst)
	second, okMonth := s.day(MonthFirst)
	rules := AnyOrder
	switch {
	case !okMonth:
		rules = DayFirst
	case !okDay:
		rules = MonthFirst
	}
	if rules != AnyOrder {
		if w.order == AnyOrder {
			w.order, w.settled = rules, line
		} else if w.order != rules {
			by := "as given"
			if w.settled > 0 {
				by = "as line " + strconv.Itoa(w.settled) + " shows"
			}
			return 0, 0, r.fail(line, "write dates as 2026-11-25", "time %s: cannot be %s, %s", shown(cell), w.order, by)
		}
	}
	w.same = w.same && first == second
	switch w.order {
	case DayFirst:
		second = first
	case MonthFirst:
		first = second
	}
	if !okDay && w.order != MonthFirst || !okMonth && w.order != DayFirst {
		return 0, 0, r.fail(line, "", "time %s: no such date", shown(cell))
	}
	return first*86400e9 + s.nano, second*86400e9 + s.nano, nil
}

// settle decides how slashed dates are read, once all of them were seen.
func (w *when) settle(r *reader) error {
	if w.form != slashed {
		return nil
	}
	if w.order == AnyOrder && !w.same {
		return r.option(w.line, OptDates, "day-first or month-first", "day or month first cannot be told: no day above 12 in the log")
	}
	if w.order == MonthFirst {
		for i := range r.rows {
			r.rows[i].t = r.rows[i].alt
		}
	}
	r.acc.Dates, r.acc.Settled = w.order, w.settled
	return nil
}

// zoned is the time that a log spends at one offset from UTC, as where summer time
// ends.
type zoned struct {
	east     int   // [s] of UTC
	from, to int64 // [ns] since 1970
}

// mostZones is how many offsets of one log are told apart.
const mostZones = 8

// inZone adds a moment at an offset.
func inZone(all []zoned, east int, t int64) []zoned {
	for i := range all {
		if z := &all[i]; z.east == east {
			z.from, z.to = min(z.from, t), max(z.to, t)
			return all
		}
	}
	if len(all) == mostZones {
		return all
	}
	return append(all, zoned{east, t, t})
}

// in returns a moment in the zone in which the log is then: that of the last
// reading before it.
func (l *Log) in(t time.Time) time.Time {
	at, last := t.UnixNano(), zoned{}
	for _, z := range l.zones {
		if z.from <= at && (last == zoned{} || z.from > last.from) {
			last = z
		}
	}
	if len(l.zones) < 2 || (last == zoned{}) {
		return t
	}
	return t.In(time.FixedZone("", last.east))
}

// began returns the moment of the first reading kept, and what is known of it.
func (w *when) began(r *reader, first int64, midnights int) (time.Time, Known) {
	switch w.kind {
	case exact:
		zone := time.UTC
		if w.zone != 0 {
			zone = time.FixedZone("", w.zone)
		}
		return time.Unix(0, first).In(zone), Moment
	case dated:
		return time.Unix(0, first).UTC(), DateAndTime
	case daily:
		if !r.l.elapsed && (w.half || r.l.clock || midnights > 0 || w.start != 0) {
			return time.Date(1, 1, 1, 0, 0, 0, 0, time.UTC).Add(time.Duration(first)), TimeOfDay
		}
	}
	return time.Time{}, Nothing
}
