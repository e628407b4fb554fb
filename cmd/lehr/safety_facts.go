package main

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"strings"

	"github.com/spf13/cobra"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/session"
	"lehr/glass/strict"
	"lehr/safety/checklist"
)

// checkFacts refuses facts that cannot be read, with their file and line. args
// names the load file, if the load comes from one.
func (a *app) checkFacts(load *piece.Load, st kiln.Studio, args []string) error {
	_, err := session.Facts(load, st)
	var fault *session.Error
	if !errors.As(err, &fault) {
		return err
	}
	name := st.File
	if fault.OfLoad {
		name = ""
		if len(args) > 0 {
			name = args[0]
		}
	}
	var fact *checklist.FactError
	if name == "" || !errors.As(err, &fact) {
		return err
	}
	if name == "-" {
		return fmt.Errorf("%s: %w", desk.ShownName(name), err)
	}
	placed := fmt.Errorf("%s: %w", name, err)
	a.Read(name, func(r io.Reader) error { // once more, for the line
		var table map[string]any
		file, err := strict.Decode(r, name, &table)
		if err != nil {
			return err
		}
		words := fact.Reason
		if fact.Value != "" {
			words = fact.Value + ": " + words
		}
		placed = file.HintErrorf([]string{"session", fact.Key}, fact.Hint(), "%s", words)
		return nil
	})
	return placed
}

// factsTyped reads facts as typed on the command line: name=value.
func factsTyped(cmd string, typed []string) (checklist.Facts, error) {
	var f checklist.Facts
	said := map[string]bool{}
	for _, s := range typed {
		name, value, ok := strings.Cut(strict.Visible(s), "=")
		if !ok {
			return f, desk.Usagef("write --fact oxygen=cylinder", "%s: --fact %q: has no =", cmd, s)
		}
		if name = strings.TrimSpace(name); said[name] {
			return f, desk.Usagef("say it once", "%s: --fact %s: is said twice", cmd, name)
		}
		said[name] = true
		one, err := checklist.FactsFrom(map[string]any{name: strings.TrimSpace(value)}, checklist.Typed, session.Now())
		if err != nil {
			return f, desk.AsUsage(cmd+": --fact", err)
		}
		f = f.Over(one)
	}
	return f, nil
}

// sayFacts adds --fact to a command that works on a load.
func (l *loadFlags) sayFacts(c *cobra.Command) { addFactFlag(c, &l.facts) }

// tell puts the facts of the command line over those of the load. What is so
// now is no matter of the load: a danger has ended the run before, and what the
// kiln reads now says nothing of the hour at which its program ends.
func (l *loadFlags) tell(cmd string, load *piece.Load) error {
	for _, s := range l.facts {
		name, value, _ := strings.Cut(s, "=")
		name = strings.TrimSpace(name)
		for _, f := range checklist.Names() {
			switch {
			case f.Name != name:
			case f.Scope != checklist.OfNow:
				load.Session = maps.Clone(load.Session)
				if load.Session == nil {
					load.Session = map[string]any{}
				}
				load.Session[name] = strings.TrimSpace(value)
			case !checklist.IsDanger(name):
				return desk.Usagef("leave it out; lehr safety takes it", "%s: --fact %s: is so now, and the lines printed here are for later", cmd, name)
			}
		}
	}
	return nil
}

// factFlag ties a flag to the fact it gives.
type factFlag struct{ flag, fact, value string }

// factsOfFlags reads the flags that were given as facts.
func factsOfFlags(cmd string, flags []factFlag) (checklist.Facts, error) {
	var f checklist.Facts
	for _, x := range flags {
		if x.value == "" {
			continue
		}
		one, err := checklist.FactsFrom(map[string]any{x.fact: x.value}, checklist.Typed, session.Now())
		if err != nil {
			var fact *checklist.FactError
			if errors.As(err, &fact) {
				fact.Key = "" // the flag names it
			}
			return f, desk.AsUsage(cmd+": --"+x.flag, err)
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
func (a *app) showFacts(f checklist.Facts) error {
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
