package checklist

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"lehr/glass/strict"
	"lehr/glass/unit"
	"lehr/glass/unit/near"
	"lehr/safety/quantity"
)

// FactError says which session fact could not be read and what to write.
type FactError = quantity.Error

// Origin is where facts were said.
type Origin int

// The origins.
const (
	FromStudio Origin = iota // a studio file, for every night to come
	FromLoad                 // a load file, for a night
	Typed                    // the command line, for now
)

// FactsFrom reads session facts as a studio file, a load file or flags hold
// them: words as text or true/false, quantities as text with a unit. Keys are
// those of [Names]. Dates are judged by today.
//
// Errors are a *[FactError] for an unknown key, a word that is not allowed, a
// number without a unit, a quantity that cannot be, a date in the future, or a
// fact that its [Scope] keeps out of such a file. Keys are read in alphabetical
// order, so the same table gives the same error.
func FactsFrom(table map[string]any, from Origin, today time.Time) (Facts, error) {
	f := Facts{Today: today}
	for _, k := range slices.Sorted(maps.Keys(table)) {
		row, ok := lookup(k)
		if !ok {
			return Facts{}, &FactError{Key: k, Reason: "unknown session fact", Next: suggest(k, factNames())}
		}
		err := row.in(&f).read(row.Fact, table[k], today)
		if err == nil {
			err = row.allows(from, row.in(&f).text(unit.Metric))
		}
		if err != nil {
			return Facts{}, named(row.Fact, table[k], err)
		}
	}
	return f, nil
}

// allows refuses a fact where its scope keeps it out.
func (row Fact) allows(from Origin, text string) error {
	switch {
	case row.Scope == OfNow && from != Typed:
		return &FactError{Reason: "is so now and not for every night, so no file may say it", Next: "write it on the command line: --fact " + row.Name + "=" + row.Example}
	case row.Scope == OfNight && from == FromStudio && text == "no":
		return &FactError{Reason: "a studio cannot say so of every night to come", Next: "say it in [session] of the load file, or with --fact " + row.Name + "=no"}
	}
	return nil
}

func factNames() []string {
	names := make([]string, len(factTable))
	for i, f := range factTable {
		names[i] = f.Name
	}
	return names
}

// named puts the fact and the value as typed into an error.
func named(row Fact, v any, err error) error {
	e := &FactError{Key: row.Name, Value: show(v), Reason: err.Error()}
	switch inner := err.(type) {
	case *FactError:
		e.Reason, e.Next = inner.Reason, inner.Next
	case *unit.ParseError:
		e.Reason, e.Next = inner.Reason, inner.Hint()
	}
	return e
}

// show returns a value as the person typed it, cut short.
func show(v any) string {
	s := fmt.Sprint(v)
	if t, ok := v.(string); ok {
		s = strconv.Quote(t)
	}
	return strict.Short(s, 40)
}

// Family returns the family word of a glass of the table, such as
// "borosilicate" for "borosilicate-33", or the empty string if it is not known.
func Family(name string) string {
	n := plain(name)
	for _, f := range []struct{ prefix, family string }{
		{"borosilicate", "borosilicate"}, {"neutral", "borosilicate"}, {"fused silica", "quartz"}, {"quartz", "quartz"},
		{"soda", "soft"}, {"soft", "soft"}, {"fusible", "soft"}, {"furnace", "soft"}, {"float", "soft"},
		{"lead", "lead"}, {"aluminosilicate", "other"}, {"bk7", "other"},
	} {
		if strings.HasPrefix(n, f.prefix) {
			return f.family
		}
	}
	return ""
}

// suggest returns a hint naming the nearest of the known words, or listing
// them when none is near.
func suggest(typed string, known []string) string {
	if best := near.Word(typed, known); best != "" {
		return fmt.Sprintf("did you mean %q?", best)
	}
	if len(known) > 14 {
		return "list the session facts with: lehr safety --facts"
	}
	return "known: " + strings.Join(known, ", ")
}
