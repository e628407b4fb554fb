package web

import (
	"strings"

	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass/strict"
)

// settings are the fields that stand for a setting of the studio file, by name.
var settings = [...]struct{ name, key string }{
	{"holding", "kiln.holding"}, {"heating", "kiln.fastest_heating"}, {"fall", "kiln.cooling_time_constant"}, {"points", "kiln.cooling_points"},
	{"room", "kiln.room"}, {"opening", "kiln.opening"}, {"spread", "kiln.spread"}, {"probe", "kiln.probe_error"}, {"door-view", "kiln.door_view"},
	{"keys", "controller.units"}, {"rate", "controller.rate"}, {"slowest", "controller.slowest"}, {"segments", "controller.segments"},
	{"max-tension", "limits.tension"}, {"max-left", "limits.left"},
}

// key is the table and the key of the studio file that the field stands for.
func (x *field) key() (table, key string) {
	for _, s := range &settings {
		if s.name == x.Name {
			table, key, _ = strings.Cut(s.key, ".")
		}
	}
	return table, key
}

// label is the [words.Fields] of the form: what the field is called that a setting of
// a file, or a flag, has here.
func (f *form) label(key string) (label string, chosen bool) {
	switch key {
	case "door":
		return "the openings", false
	case "controller":
		return "the form", false
	case "--shortest":
		return "the shortest under " + quoted(f.Search), false
	case "--now": // the field of that name is for what is wrong now
		return quoted(f.Reads), false
	}
	name := strings.Replace(strings.TrimPrefix(key, "--"), "door.", "door-", 1)
	for _, s := range &settings {
		if s.key == key {
			name = s.name
		}
	}
	for _, x := range f.all() {
		if x.Name == name {
			return quoted(x), len(x.Choices) > 0
		}
	}
	return "", false
}

// quoted is what a field is called, in a sentence.
func quoted(x *field) string { return `"` + x.Label + `"` }

// hint is what to do about an error, by the names of the form.
func (f *form) hint(err error) string {
	return term.Clean(words.Fields(f.label).Say(strict.AdviceOf(err)))
}
