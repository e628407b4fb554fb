package checks

import (
	"errors"
	"fmt"
	"strings"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/session"
	"lehr/safety/checklist"
)

// FactFlag ties a flag to the fact it gives.
type FactFlag struct{ Flag, Fact, Value string }

// factsOfFlags reads the flags that were given as facts.
func factsOfFlags(cmd string, flags []FactFlag) (checklist.Facts, error) {
	var f checklist.Facts
	for _, x := range flags {
		if x.Value == "" {
			continue
		}
		one, err := checklist.FactsFrom(map[string]any{x.Fact: x.Value}, checklist.Typed, session.Now())
		if err != nil {
			var fact *checklist.FactError
			if errors.As(err, &fact) {
				fact.Key = "" // the flag names it
			}
			return f, desk.AsUsage(cmd+": --"+x.Flag, err)
		}
		f = f.Over(one)
	}
	return f, nil
}

// factJSON is one fact of the list in JSON.
type factJSON struct {
	Name    string   `json:"name"`
	Meaning string   `json:"meaning"`
	Words   []string `json:"words"`
	Many    bool     `json:"takes_a_list"`
	Example string   `json:"example"`
	Given   string   `json:"given"`
	Where   string   `json:"where"`
}

// whereSaid says where a fact may be said.
func whereSaid(s checklist.Scope) string {
	switch s {
	case checklist.OfNow:
		return "only --fact"
	case checklist.OfNight:
		return "no studio file says no"
	}
	return "any file"
}

// showFacts lists every fact with its meaning, what it takes, and what is
// given now.
func showFacts(a *desk.App, f checklist.Facts) error {
	given := map[string]string{}
	for _, g := range f.Given() {
		given[g.Name] = g.Value
	}
	if a.JSON {
		out := []factJSON{}
		for _, x := range checklist.Names() {
			words := x.Words
			if words == nil {
				words = []string{}
			}
			out = append(out, factJSON{x.Name, x.Meaning, words, x.Many, x.Example, given[x.Name], whereSaid(x.Scope)})
		}
		return a.PrintJSON(out)
	}
	a.Prose(0, "Facts of a session, for [session] of studio.toml or of a load file, or for --fact. What is not given counts as the hazard being there. What is so now is said with --fact and by no file.")
	a.Print("\n")
	for _, x := range checklist.Names() {
		text := x.Meaning + ": "
		switch {
		case x.Many:
			text += "any of " + strings.Join(x.Words, ", ")
		case x.Words != nil:
			text += strings.Join(x.Words, ", ")
		default:
			text += "such as " + x.Example
		}
		if x.Scope != checklist.OfStudio {
			text += " (" + whereSaid(x.Scope) + ")"
		}
		if v := given[x.Name]; v != "" {
			text += " [now: " + v + "]"
		}
		a.Item(fmt.Sprintf("%-17s ", x.Name), text)
	}
	a.Print("\n")
	a.Print(" [session]\n fuel = \"propane\"\n room = \"20 ft x 15 ft x 9 ft\"\n color_metals = [\"cobalt\", \"copper\"]\n")
	return nil
}
