package web

import "strings"

// keyNames are the names that keys of files have on the form.
var keyNames = []string{
	`leave [door] out, or write into = "hot kiln"`, "leave the openings empty, or choose hot kiln under Into",
	`leave in out, or write into = "hot kiln"`, "leave in out, or choose hot kiln under Into",
	`say when each piece went in: in = "3 h before"`, "say behind a piece when it went in: in 3 h before",
	`give every = "30 min", too`, "fill in Was opened every, too",
	"and every is not given", "and Was opened every is empty",
	`write every = "10 min"`, "fill in Was opened every",
	"give start, or write", "fill in Start, or write",
	"holding in [kiln]", "Holding temperature, below",
	"cooling_time_constant", "Cooling time constant",
	"cooling_points", "Measured cooling",
	"fastest_heating", "Fastest heating",
	"give spread and probe_error", "give Hottest to coldest place on the shelf, and Error of the probe,",
	"Put opening = ", "Fill in To be opened at a reading of: ",
	" under [kiln] in studio.toml", "",
	": --shortest finds ", ": the shortest, under Program, takes ",
	`--max-left "`, `A limit of your own for the tension left: "`,
	"give a lower opening", "give a lower one under To be opened at a reading of",
	"probe_error", "Error of the probe",
	"longest_soak", "longest soak",
	"hottest_soak", "hottest soak",
	`rate = "minutes per ramp" in [controller] of the studio file`, "A ramp is keyed in as minutes per ramp",
	"lehr share shows the fewest firings and what goes in each", "plan them in two firings",
	"list the names with: lehr glass", "choose one from the list",
	"list them with: lehr glass", "choose one from the list",
	"lehr plan takes both (--was, --now) and says how to go on", "The form takes both, under Power failed, and says how to go on",
	"or --start if the load", "or Start if the load",
	"emergency_number", "emergency_number among the facts",
}

// filePlaces name a file where the form has a field.
var filePlaces = strings.NewReplacer(" in [kiln] of the studio file", " in the form", " in the studio file", " in the form", " of the studio file", " of the form")

var toForm = strings.NewReplacer(keyNames...)

// formWords puts a text that names keys and files into the words of the form.
// What has no field keeps its file.
func formWords(s string) string {
	out := toForm.Replace(s)
	if out != s {
		out = filePlaces.Replace(out)
	}
	return out
}
