package kilnlog

import (
	"lehr/glass/unit"
)

// Option names a choice that a log may leave open. Its text is also the name
// of the flag that makes the choice.
type Option string

// The choices.
const (
	OptTime     Option = "time-column"
	OptTemp     Option = "temperature-column"
	OptTempUnit Option = "temperature-unit"
	OptTimeUnit Option = "time-unit"
	OptDates    Option = "dates"
	OptDecimal  Option = "decimal"
	OptCouple   Option = "thermocouple"
	OptJunction Option = "junction"
)

// use words a hint that names the flag with a value.
func (o Option) use(value string) string { return "give --" + string(o) + " " + value }

// Options are what the person says of a log that does not say it itself. The
// zero value takes everything from the header. A choice that contradicts the
// header is an error.
type Options struct {
	TimeColumn string    // its name, or its number from 1
	TempColumn string    // its name, or its number from 1
	TempUnit   Unit      // Celsius, Fahrenheit, Kelvin or Millivolt
	TimeUnit   Unit      // Seconds, Minutes, Hours, Days, or ClockTime for h:min:s
	Dates      DateOrder // of dates as 03/04/2026
	Decimal    byte      // '.' or ','
	Couple     Couple    // of a column in millivolts
	Junction   unit.Temp // where the wires of the thermocouple end
	// Heating is the fastest the kiln can heat; a reading that rises faster and
	// falls back cannot be true (default 1200 °C/h: no studio kiln is faster;
	// common practice).
	Heating unit.Rate
}

// Unit is what the numbers of a column count.
type Unit int

// The units a log can have.
const (
	NoUnit Unit = iota
	Celsius
	Fahrenheit
	Kelvin
	Millivolt
	Milliseconds
	Seconds
	Minutes
	Hours
	Days
	ClockTime // h:min or h:min:s
)

var unitNames = [...]string{"no unit", "°C", "°F", "K", "mV", "ms", "s", "min", "h", "d", "h:min:s"}

// String returns the sign of the unit.
func (u Unit) String() string { return unitNames[u] }

func (u Unit) isTemp() bool { return u >= Celsius && u <= Millivolt }
func (u Unit) isTime() bool { return u >= Milliseconds && u <= ClockTime }

// seconds is the length of a unit of time.
func (u Unit) seconds() float64 {
	switch u {
	case Milliseconds:
		return 1e-3
	case Minutes:
		return 60
	case Hours:
		return 3600
	case Days:
		return 24 * 3600
	}
	return 1
}

// UnmarshalText reads a unit of temperature or time as a header has it: "C", "°F",
// "mV", "min", "h:min:s".
func (u *Unit) UnmarshalText(text []byte) error {
	if named := unitOf(string(text)); named != NoUnit {
		*u = named
		return nil
	}
	return &Error{Message: shown(string(text)) + ": is no unit of a log: must be C, F, K or mV, or s, min, h, d or h:min:s"}
}

// DateOrder says which number of 03/04/2026 is the day.
type DateOrder int

// The orders.
const (
	AnyOrder DateOrder = iota // only what the log itself settles
	DayFirst
	MonthFirst
)

// String names the order as an option does.
func (o DateOrder) String() string {
	return [...]string{"not said", "day-first", "month-first"}[o]
}

// UnmarshalText reads "day-first" or "month-first".
func (o *DateOrder) UnmarshalText(text []byte) error {
	for _, named := range []DateOrder{DayFirst, MonthFirst} {
		if string(text) == named.String() {
			*o = named
			return nil
		}
	}
	return &Error{Message: shown(string(text)) + ": must be day-first or month-first"}
}
