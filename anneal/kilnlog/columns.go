package kilnlog

import (
	"fmt"
	"strconv"
	"strings"

	"lehr/glass/strict"
)

// layout is which column is read as what; indexes from 0, -1 for none.
type layout struct {
	fields             int // of every row
	time, date, temp   int
	junction           int
	timeUnit, tempUnit Unit
	beside             []beside
	elapsed, clock     bool // the header says that times count from the start, or that they are of the day
	names              []string
}

// layOut decides which column is what. header is nil when there is none; then
// first, the first row, says how many columns there are.
func (r *reader) layOut(header, first []string) (err error) {
	l := layout{fields: len(first), time: -1, date: -1, temp: -1, junction: -1, names: header}
	if header != nil {
		l.fields = len(header)
	}
	cols := describe(header, first, l.fields)
	r.acc.Columns = cols
	if l.temp, err = r.choose(OptTemp, r.o.TempColumn, TempRole, cols); err != nil {
		return err
	}
	if l.time, err = r.choose(OptTime, r.o.TimeColumn, TimeRole, cols); err != nil {
		return err
	}
	if err := r.dates(&l, cols); err != nil {
		return err
	}
	l.other(cols)
	at := r.acc.Header
	switch {
	case l.temp < 0:
		return r.option(at, OptTemp, "its name or its number", "no column is named as a temperature%s", r.columnList())
	case l.time < 0:
		return r.option(at, OptTime, "its name or its number", "no column is named as a time%s", r.columnList())
	case l.temp == l.time:
		return r.option(at, OptTemp, "another column", "column %s cannot be the time and the reading", cols[l.temp].called())
	}
	if err := r.units(&l, cols); err != nil {
		return err
	}
	if header != nil {
		for _, w := range parts(header[l.time]) {
			l.elapsed = l.elapsed || w == "elapsed" || w == "duration" || w == "runtime" || w == "laufzeit"
			l.clock = l.clock || w == "clock" || w == "uhrzeit"
		}
	}
	for i := range cols {
		if cols[i].Role == BesideRole {
			l.beside = append(l.beside, beside{column: i})
		}
	}
	r.l = l
	return nil
}

// describe says of each column what its header tells, or without one what the
// first row does.
func describe(header, first []string, fields int) []Column {
	cols := make([]Column, fields)
	for i := range cols {
		cols[i].Number = i + 1
		if header != nil {
			cols[i].Name = strings.TrimSpace(header[i])
			cols[i].Role, cols[i].Unit = understand(header[i])
		} else if t, ok := scanStamp(first[i]); ok && (t.clock || t.form != noDate) {
			cols[i].Role = TimeRole // a date or a clock tells itself
		}
	}
	return cols
}

// dates finds the column with the dates. It may hold the clock as well.
func (r *reader) dates(l *layout, cols []Column) error {
	for i := range cols {
		if cols[i].Role != DateRole {
			continue
		}
		if l.date >= 0 {
			return r.option(r.acc.Header, OptTime, "its name", "two columns with dates: %s and %s", cols[l.date].called(), cols[i].called())
		}
		l.date = i
	}
	if l.time < 0 && l.date >= 0 {
		l.time, l.date = l.date, -1
		cols[l.time].Role = TimeRole
	}
	return nil
}

// other takes the one column beside the time for the reading where none is named
// as one.
func (l *layout) other(cols []Column) {
	if l.temp >= 0 || l.time < 0 {
		return
	}
	for i := range cols {
		if i == l.time || i == l.date || cols[i].Role != Unused {
			continue
		}
		if l.temp >= 0 { // there are two
			l.temp = -1
			return
		}
		l.temp = i
	}
	if l.temp >= 0 {
		cols[l.temp].Role = TempRole
	}
}

// choose finds the one column of a role, or the one that an option names.
func (r *reader) choose(o Option, want string, role Role, cols []Column) (int, error) {
	if want != "" {
		i, err := r.named(o, want, cols)
		if err != nil {
			return -1, err
		}
		for j := range cols {
			if cols[j].Role != role || j == i {
				continue
			}
			cols[j].Role = Unused
			if u := cols[j].Unit; u == Celsius || u == Fahrenheit || u == Kelvin {
				cols[j].Role = BesideRole
			}
		}
		cols[i].Role, cols[i].Chosen = role, true
		return i, nil
	}
	found := -1
	for i := range cols {
		if cols[i].Role != role || cols[i].Chosen {
			continue
		}
		if found >= 0 {
			what := "temperature"
			if role == TimeRole {
				what = "time"
			}
			value := cols[found].quoted()
			return -1, r.option(r.acc.Header, o, value+" or "+cols[i].quoted(), "two %s columns, %s and %s", what, cols[found].called(), cols[i].called())
		}
		found = i
	}
	return found, nil
}

// named finds the column that an option names, by name or by number.
func (r *reader) named(o Option, want string, cols []Column) (int, error) {
	var all []string
	found := -1
	for i := range cols {
		all = append(all, cols[i].Name)
		if strings.EqualFold(cols[i].Name, strings.TrimSpace(want)) && want != "" {
			if found >= 0 {
				return -1, r.option(r.acc.Header, o, "its number", "columns %d and %d are both named %s", found+1, i+1, shown(want))
			}
			found = i
		}
	}
	if found >= 0 {
		return found, nil
	}
	if n, err := strconv.Atoi(strings.TrimSpace(want)); err == nil && n >= 1 && n <= len(cols) {
		return n - 1, nil
	}
	e := r.option(r.acc.Header, o, "its name or its number", "no column %s%s", shown(want), r.columnList())
	if near := strict.Nearest(want, all); near != "" && !numeric(want) {
		e.Next = o.use(shown(near))
	}
	return -1, e
}

// units settles the units of the time and of the reading.
func (r *reader) units(l *layout, cols []Column) error {
	temp, tm := &cols[l.temp], &cols[l.time]
	if err := r.unitBy(OptTempUnit, r.o.TempUnit, temp, Unit.isTemp, "C, F, K or mV", "%s is no unit of a reading"); err != nil {
		return err
	}
	if r.o.Couple != 0 && temp.Unit == NoUnit {
		temp.Unit, temp.UnitByFlag = Millivolt, true
	}
	at := r.acc.Header
	switch {
	case temp.Unit == NoUnit:
		return r.option(at, OptTempUnit, "C or F", "column %s has no unit of temperature", temp.called())
	case temp.Unit != Millivolt && r.o.Couple != 0:
		return r.option(at, OptCouple, "only for a column in mV", "column %s is in %s and needs no thermocouple", temp.called(), temp.Unit)
	case temp.Unit == Millivolt:
		if err := r.thermocouple(l, cols); err != nil {
			return err
		}
	}
	if err := r.unitBy(OptTimeUnit, r.o.TimeUnit, tm, Unit.isTime, "s, min, h or d", "%s is no unit of time"); err != nil {
		return err
	}
	l.tempUnit, l.timeUnit = temp.Unit, tm.Unit
	return nil
}

// unitBy takes the unit that an option gives for a column. those are the units it
// may be, none is said of another.
func (r *reader) unitBy(o Option, u Unit, c *Column, is func(Unit) bool, those, none string) error {
	switch {
	case u == NoUnit:
		return nil
	case c.Unit != NoUnit && c.Unit != u:
		return r.option(r.acc.Header, o, c.Unit.flag()+", or leave it out", "column %s is in %s, and %s was given", c.called(), c.Unit, u)
	case !is(u):
		return r.option(r.acc.Header, o, those, none, u)
	}
	c.UnitByFlag = c.Unit == NoUnit
	c.Unit = u
	return nil
}

// thermocouple finds where the junction of a column in millivolts is read.
func (r *reader) thermocouple(l *layout, cols []Column) error {
	at, temp := r.acc.Header, &cols[l.temp]
	for i := range cols {
		if cols[i].Role == JunctionRole && cols[i].Unit.isTemp() && cols[i].Unit != Millivolt && r.o.Junction.IsZero() {
			l.junction = i
		}
	}
	switch {
	case r.o.Couple == 0:
		return r.option(at, OptCouple, `K --junction "25 °C", as it is`, "column %s in mV needs the type of the thermocouple and the temperature of its junction", temp.called())
	case l.junction >= 0:
		return nil
	case r.o.Junction.IsZero():
		return r.option(at, OptJunction, `"25 °C", as it is where the wires end`, "column %s in mV needs the temperature of the junction", temp.called())
	}
	if mV := r.o.Couple.millivolts(r.o.Junction); mV != mV || r.o.Junction.Celsius() > 120 {
		return r.option(at, OptJunction, "what a thermometer reads beside the logger", "junction at %s cannot be", r.o.Junction)
	}
	return nil
}

// flag is the unit as an option takes it.
func (u Unit) flag() string { return strings.TrimPrefix(u.String(), "°") }

// called names a column in a message.
func (c *Column) called() string {
	if c.Name == "" {
		return strconv.Itoa(c.Number)
	}
	return shown(c.Name)
}

// quoted names a column as an option takes it.
func (c *Column) quoted() string {
	if c.Name == "" {
		return strconv.Itoa(c.Number)
	}
	if strings.ContainsAny(c.Name, " \t()°[]") {
		return shown(c.Name)
	}
	return strings.Trim(shown(c.Name), `"`)
}

const mostListed = 6

// columnList names the columns there are, for a message.
func (r *reader) columnList() string {
	if r.l.names == nil && r.acc.Header == 0 {
		return fmt.Sprintf(": the log has no header and %d columns", len(r.acc.Columns))
	}
	var out []string
	for i := range r.acc.Columns {
		if i == mostListed {
			out = append(out, fmt.Sprintf("and %d more", len(r.acc.Columns)-i))
			break
		}
		out = append(out, r.acc.Columns[i].called())
	}
	return " among " + strings.Join(out, ", ")
}

// option is an error that an option would settle.
func (r *reader) option(line int, o Option, value, format string, args ...any) *Error {
	return &Error{Name: r.name, Line: line, Message: fmt.Sprintf(format, args...), Next: o.use(value), Option: o}
}

// fail is an error at a line, with a hint or "".
func (r *reader) fail(line int, hint, format string, args ...any) *Error {
	return &Error{Name: r.name, Line: line, Message: fmt.Sprintf(format, args...), Next: hint}
}
