package checklist

import (
	"slices"

	"lehr/glass/unit"
	"lehr/safety/quantity"
)

// truth is the three-valued result of a condition.
type truth int

const (
	unknown truth = iota
	present
	absent
)

// Missing is a fact that was not given and so keeps a line on the page.
type Missing struct {
	Fact    string `json:"fact"`              // its name
	Removes string `json:"removes,omitempty"` // the value that would take the line away, in words; empty if only a figure decides
	// Other are the values of which any other one would, "" where Removes is one.
	Other string `json:"-"`
}

// when is the condition of a rule on the facts. It returns whether the hazard
// is present, absent or unknown; if unknown, the facts that would take the line
// away if they had the values named, all of them.
type when struct {
	names []string // every fact it looks at
	test  func(f Facts) (truth, []Missing)
}

// always shows a line whatever the facts.
var always = when{test: func(Facts) (truth, []Missing) { return present, nil }}

// field returns the value of a fact as type T; it panics on a fact that is not
// in the table or of another type, which a test of all rules would show.
func field[T any](f Facts, name string) T {
	row, ok := lookup(name)
	if !ok {
		panic("checklist: no fact " + name)
	}
	return *row.in(&f).(cell[T]).p
}

func isYes(name string) when {
	return when{[]string{name}, func(f Facts) (truth, []Missing) {
		switch field[Answer](f, name) {
		case Yes:
			return present, nil
		case No:
			return absent, nil
		}
		return unknown, []Missing{{Fact: name, Removes: "no"}}
	}}
}

// isOneOf is present when the word of a fact is one of those given.
func isOneOf(name string, words ...string) when {
	return when{[]string{name}, func(f Facts) (truth, []Missing) {
		w := field[string](f, name)
		if w == "" {
			return unknown, []Missing{{Fact: name, Removes: notOneOf(words), Other: joined(words, "or")}}
		}
		return truthOf(slices.Contains(words, w)), nil
	}}
}

func notOneOf(words []string) string {
	if len(words) == 1 {
		return "not " + words[0]
	}
	return "neither " + joined(words, "nor")
}

// isNoneOf is absent when the word of a fact is one of those given.
func isNoneOf(name string, words ...string) when {
	return when{[]string{name}, func(f Facts) (truth, []Missing) {
		w := field[string](f, name)
		if w == "" {
			return unknown, []Missing{{Fact: name, Removes: joined(words, "or")}}
		}
		return truthOf(!slices.Contains(words, w)), nil
	}}
}

// hasAny is present when the list of a fact holds one of the words.
func hasAny(name string, words ...string) when {
	return when{[]string{name}, func(f Facts) (truth, []Missing) {
		list := field[[]string](f, name)
		if len(list) == 0 {
			return unknown, []Missing{{Fact: name, Removes: "none"}}
		}
		for _, w := range list {
			if slices.Contains(words, w) {
				return present, nil
			}
		}
		return absent, nil
	}}
}

func hotterThan(name string, limit unit.Temp) when {
	return when{[]string{name}, func(f Facts) (truth, []Missing) {
		t := field[unit.Temp](f, name)
		if t.IsZero() {
			return unknown, []Missing{{Fact: name, Removes: limit.Text(f.Units) + " or less"}}
		}
		return truthOf(limit.Less(t)), nil
	}}
}

func lowerThan(name string, limit unit.Length) when {
	return when{[]string{name}, func(f Facts) (truth, []Missing) {
		l := field[unit.Length](f, name)
		if l == 0 {
			return unknown, []Missing{{Fact: name, Removes: heightText(limit, f.Units) + " or more"}}
		}
		return truthOf(l < limit), nil
	}}
}

// heightText writes a height in meters or feet, as rooms are measured.
func heightText(l unit.Length, s unit.System) string {
	if s == unit.US {
		return quantity.Digits(float64(l)/float64(quantity.Feet(1)), 2) + " ft"
	}
	return quantity.Digits(float64(l), 2) + " m"
}

func smallRoom(limit quantity.Volume) when {
	return when{[]string{"room", "workers"}, func(f Facts) (truth, []Missing) {
		if f.Room == 0 {
			return unknown, []Missing{{Fact: "room", Removes: quantity.Volumes.Text(limit, f.Units) + " or more for each worker"}}
		}
		return truthOf(f.Room < limit*quantity.Volume(max(f.Workers, 1))), nil
	}}
}

func louderThan(limit quantity.Level) when {
	return when{[]string{"noise"}, func(f Facts) (truth, []Missing) {
		if f.Noise == 0 {
			return unknown, []Missing{{Fact: "noise", Removes: "below " + quantity.Levels.Text(limit, f.Units)}}
		}
		return truthOf(f.Noise >= limit), nil
	}}
}

func truthOf(b bool) truth {
	if b {
		return present
	}
	return absent
}

// allOf is present when every part is, and absent as soon as one part is. When
// unknown, it names the facts of the part that takes the fewest to settle.
func allOf(parts ...when) when {
	return when{namesOf(parts), func(f Facts) (truth, []Missing) {
		var fewest []Missing
		for _, p := range parts {
			switch t, m := p.test(f); t {
			case absent:
				return absent, nil
			case unknown:
				if fewest == nil || len(m) < len(fewest) {
					fewest = m
				}
			}
		}
		if fewest != nil {
			return unknown, fewest
		}
		return present, nil
	}}
}

// anyOf is present as soon as one part is, and absent when all are. When
// unknown, it names every fact that is needed.
func anyOf(parts ...when) when {
	return when{namesOf(parts), func(f Facts) (truth, []Missing) {
		var missing []Missing
		for _, p := range parts {
			switch t, m := p.test(f); t {
			case present:
				return present, nil
			case unknown:
				missing = append(missing, m...)
			}
		}
		if len(missing) > 0 {
			return unknown, missing
		}
		return absent, nil
	}}
}

func namesOf(parts []when) []string {
	var names []string
	for _, p := range parts {
		for _, n := range p.names {
			if !slices.Contains(names, n) {
				names = append(names, n)
			}
		}
	}
	return names
}
