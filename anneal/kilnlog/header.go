package kilnlog

import (
	"strings"
	"unicode"
)

var units = map[string]Unit{
	"c": Celsius, "°c": Celsius, "degc": Celsius, "deg c": Celsius, "degrees c": Celsius, "degree c": Celsius, "celsius": Celsius, "deg celsius": Celsius,
	"degrees celsius": Celsius, "centigrade": Celsius, "grad c": Celsius, "grad celsius": Celsius, "° celsius": Celsius,
	"f": Fahrenheit, "°f": Fahrenheit, "degf": Fahrenheit, "deg f": Fahrenheit, "degrees f": Fahrenheit, "degree f": Fahrenheit, "fahrenheit": Fahrenheit,
	"deg fahrenheit": Fahrenheit, "degrees fahrenheit": Fahrenheit, "° fahrenheit": Fahrenheit,
	"k": Kelvin, "kelvin": Kelvin, "mv": Millivolt, "millivolt": Millivolt, "millivolts": Millivolt,
	"ms": Milliseconds, "msec": Milliseconds, "milliseconds": Milliseconds,
	"s": Seconds, "sec": Seconds, "secs": Seconds, "second": Seconds, "seconds": Seconds, "sekunden": Seconds,
	"min": Minutes, "mins": Minutes, "minute": Minutes, "minutes": Minutes, "minuten": Minutes,
	"h": Hours, "hr": Hours, "hrs": Hours, "hour": Hours, "hours": Hours, "stunden": Hours, "std": Hours,
	"d": Days, "day": Days, "days": Days, "tage": Days,
	"h:min": ClockTime, "h:min:s": ClockTime, "hh:mm": ClockTime, "hh:mm:ss": ClockTime, "h:mm": ClockTime, "h:mm:ss": ClockTime, "h:m:s": ClockTime,
}

// unitOf reads a unit that stands alone.
func unitOf(text string) Unit {
	if len(text) > 24 {
		return NoUnit
	}
	text = strings.ToLower(strings.TrimSpace(text))
	text = strings.NewReplacer("º", "°", "˚", "°", "℃", "°c", "℉", "°f", "\u00a0", " ", "_", " ", ".", "").Replace(text)
	text = strings.ReplaceAll(strings.Join(strings.Fields(text), " "), "° ", "°")
	return units[text]
}

// names are words before a letter that is a name and no unit: "zone C".
var names = words("zone zones channel chan ch sensor input port tc type relay output thermocouple loop")

var (
	timeWords     = words("time zeit timestamp datetime clock uhrzeit elapsed runtime laufzeit duration heure hora tid datumzeit")
	dateWords     = words("date datum fecha dato day")
	tempWords     = words("temp temperature temperatur temperatura température tempf tempc pv reading pyrometer thermocouple")
	targetWords   = words("set setpoint sp sv target soll sollwert program programme setpt consigne")
	junctionWords = words("cj cjc junction coldjunction")
	roomWords     = words("ambient room board internal raum")
)

func words(list string) map[string]bool {
	out := map[string]bool{}
	for _, w := range strings.Fields(list) {
		out[w] = true
	}
	return out
}

// parts splits a cell of a header into words, in lower case.
func parts(cell string) []string {
	return strings.FieldsFunc(strings.ToLower(cell), func(r rune) bool { return !unicode.IsLetter(r) && r != '°' && r != 'º' })
}

// understand reads one cell of a header: what the column is and which unit it
// names.
func understand(cell string) (Role, Unit) {
	u := headerUnit(cell)
	has := func(set map[string]bool) bool {
		for _, w := range parts(cell) {
			if set[w] {
				return true
			}
		}
		return false
	}
	switch {
	case u.isTime():
		return TimeRole, u
	case has(targetWords) && !has(timeWords):
		return TargetRole, u
	case has(junctionWords):
		return JunctionRole, u
	case has(roomWords) && (u.isTemp() || has(tempWords)):
		return RoomRole, u
	case u.isTemp():
		return TempRole, u
	case has(timeWords):
		return TimeRole, u
	case has(dateWords):
		return DateRole, u
	case has(tempWords):
		return TempRole, u
	}
	return Unused, NoUnit
}

// headerUnit finds the unit that a cell of a header names: the whole cell, what
// stands in brackets, or the last word of it.
func headerUnit(cell string) Unit {
	cell = strings.TrimSpace(cell)
	if u := unitOf(cell); u != NoUnit {
		return u
	}
	for _, pair := range []string{"()", "[]", "{}"} {
		open := strings.LastIndexByte(cell, pair[0])
		end := strings.LastIndexByte(cell, pair[1])
		if open >= 0 && end > open {
			if u := unitOf(cell[open+1 : end]); u != NoUnit {
				return u
			}
		}
	}
	if u := degreeUnit(cell); u != NoUnit {
		return u
	}
	at := strings.LastIndexAny(cell, " _/,-")
	if at < 0 {
		return joinedUnit(cell)
	}
	before, last := strings.TrimRight(cell[:at], " _/,-("), cell[at+1:]
	if again := strings.LastIndexAny(before, " _/,-"); again >= 0 || before != "" {
		if u := unitOf(before[again+1:] + " " + last); u != NoUnit { // deg C
			return u
		}
	}
	u := unitOf(last)
	if u == NoUnit {
		return joinedUnit(last)
	}
	if p := parts(before); len(last) == 1 && len(p) > 0 && names[p[len(p)-1]] {
		return NoUnit
	}
	return u
}

// degreeUnit finds a °C or °F anywhere in a cell, if it is the only one:
// "Temp, °C (serial 12)".
func degreeUnit(cell string) Unit {
	cell = strings.NewReplacer("º", "°", "˚", "°", "℃", "°C", "℉", "°F", "° ", "°").Replace(cell)
	found := NoUnit
	for i, r := range cell {
		if r != '°' {
			continue
		}
		rest := []rune(cell[i+len("°"):])
		if len(rest) == 0 || len(rest) > 1 && unicode.IsLetter(rest[1]) {
			continue
		}
		u := unitOf("°" + string(rest[0]))
		if u == NoUnit || found != NoUnit && found != u {
			return NoUnit
		}
		found = u
	}
	return found
}

// joinedUnit finds the unit in "Temp°C" or "tempF".
func joinedUnit(word string) Unit {
	if i := strings.IndexAny(word, "°º℃℉"); i > 0 {
		return unitOf(word[i:])
	}
	lower := strings.ToLower(word)
	for w := range tempWords {
		if rest, ok := strings.CutPrefix(lower, w); ok && (rest == "c" || rest == "f" || rest == "k") {
			return unitOf(rest)
		}
	}
	return NoUnit
}
