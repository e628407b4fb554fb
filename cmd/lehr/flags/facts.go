package flags

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

// AddFact adds --fact.
func AddFact(c *cobra.Command, facts *[]string) {
	c.Flags().StringArrayVar(facts, "fact", nil, "a fact of the session as `name=value`, repeatable: --fact oxygen=cylinder")
	desk.Must(c.RegisterFlagCompletionFunc("fact", completeFact))
}

// completeFact offers the names of the facts, then the words one takes.
func completeFact(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
	name, _, named := strings.Cut(typed, "=")
	var out []string
	for _, f := range checklist.Names() {
		switch {
		case !named:
			out = append(out, f.Name+"=\t"+f.Meaning)
		case f.Name == name:
			for _, w := range f.Words {
				out = append(out, name+"="+w)
			}
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
}

// CheckFacts refuses facts that cannot be read, with their file and line. args
// names the load file, if the load comes from one.
func CheckFacts(a *desk.App, load *piece.Load, st kiln.Studio, args []string) error {
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

// FactsTyped reads facts as typed on the command line: name=value.
func FactsTyped(cmd string, typed []string) (checklist.Facts, error) {
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

// SayFacts adds --fact to a command that works on a load.
func (l *Load) SayFacts(c *cobra.Command) { AddFact(c, &l.Facts) }

// tell puts the facts of the command line over those of the load. What is so
// now is no matter of the load: a danger has ended the run before, and what the
// kiln reads now says nothing of the hour at which its program ends.
func (l *Load) tell(cmd string, load *piece.Load) error {
	for _, s := range l.Facts {
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
