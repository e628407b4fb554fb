package checklist

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"
	"time"

	"lehr/glass/unit"
	"lehr/glass/unit/near"
	"lehr/safety/quantity"
)

// FactError says which session fact could not be read and what to write.
type FactError = quantity.Error

// FactsFrom reads session facts as a studio file, a load file or flags hold
// them: words as text or true/false, quantities as text with a unit. Keys are
// those of [Names].
//
// Errors are a *[FactError] for an unknown key, a word that is not allowed, a
// number without a unit, or a quantity that cannot be. Keys are read in
// alphabetical order, so the same table gives the same error.
func FactsFrom(table map[string]any) (Facts, error) {
	var f Facts
	keys := make([]string, 0, len(table))
	for k := range table {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	for _, k := range keys {
		row, ok := lookup(k)
		if !ok {
			return Facts{}, &FactError{Key: k, Reason: "unknown session fact", Next: suggest(k, factNames())}
		}
		if err := read(row, row.field(&f), table[k]); err != nil {
			return Facts{}, err
		}
	}
	return f, nil
}

func factNames() []string {
	names := make([]string, len(factTable))
	for i, f := range factTable {
		names[i] = f.Name
	}
	return names
}

// read turns one value into its field and names the fact in every error.
func read(row fact, into, v any) error {
	err := readValue(row, into, v)
	if err == nil {
		return nil
	}
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
	if r := []rune(s); len(r) > 40 {
		s = string(r[:40]) + "…"
	}
	return s
}

func readValue(row fact, into, v any) error {
	switch p := into.(type) {
	case *Answer:
		a, ok := answerOf(v)
		if !ok {
			return &FactError{Reason: "is neither yes nor no", Next: fmt.Sprintf("write %s = \"yes\" or %s = \"no\"", row.Name, row.Name)}
		}
		*p = a
		return nil
	case *[]string:
		return readList(row, p, v)
	case *int:
		n, ok := v.(int64)
		if s, isText := v.(string); isText {
			m, err := strconv.ParseInt(strings.TrimSpace(s), 10, 32)
			n, ok = m, err == nil
		}
		if i, isInt := v.(int); isInt {
			n, ok = int64(i), true
		}
		if !ok || n < 1 || n > 1000 {
			return &FactError{Reason: "must be a whole number from 1 to 1000"}
		}
		*p = int(n)
		return nil
	case *string:
		if t, ok := v.(time.Time); ok {
			v = t.Format(time.DateOnly)
		}
		s, ok := v.(string)
		if !ok {
			return &FactError{Reason: "must be text in quotes"}
		}
		return readText(row, p, s)
	}
	if x, ok := number(v); ok { // a bare number: only a share needs no unit
		p, isShare := into.(*quantity.Fraction)
		if !isShare {
			return &FactError{Reason: "has no unit", Next: fmt.Sprintf("write it with its unit in quotes, such as %s = %q", row.Name, row.Example)}
		}
		if !(x >= 0 && x <= 1) {
			return &FactError{Reason: "must be from 0 to 1, or text such as \"5 %\""}
		}
		*p = quantity.Fraction(math.Max(x, quantity.TinyShare))
		return nil
	}
	s, ok := v.(string)
	if !ok {
		return &FactError{Reason: "must be text with a unit", Next: fmt.Sprintf("write %s = %q", row.Name, row.Example)}
	}
	return quantity.Read(into, s)
}

func number(v any) (float64, bool) {
	switch x := v.(type) {
	case float64:
		return x, true
	case int64:
		return float64(x), true
	case int:
		return float64(x), true
	}
	return 0, false
}

func readText(row fact, p *string, s string) error {
	s = strings.Join(strings.Fields(s), " ")
	if s == "" {
		return &FactError{Reason: "is empty", Next: "leave the key out if it is not known"}
	}
	if len([]rune(s)) > 80 {
		return &FactError{Reason: "is longer than 80 characters"}
	}
	for _, r := range s {
		if r < ' ' || r == 0x7f {
			return &FactError{Reason: "holds a control character"}
		}
	}
	if row.Words == nil {
		if strings.HasSuffix(row.Name, "_tested") {
			if _, err := time.Parse(time.DateOnly, s); err != nil {
				return &FactError{Reason: "is not a date", Next: "write it as year-month-day, such as \"" + row.Example + "\""}
			}
		}
		*p = s
		return nil
	}
	w := plain(s)
	if row.Name == "glass" {
		if fam := Family(s); fam != "" {
			w = fam
		}
	}
	if !slices.Contains(row.Words, w) {
		return &FactError{Reason: "is none of " + strings.Join(row.Words, ", "), Next: suggest(w, row.Words)}
	}
	*p = w
	return nil
}

func readList(row fact, p *[]string, v any) error {
	var words []string
	switch v := v.(type) {
	case string:
		words = strings.Split(v, ",")
	case []string:
		words = v
	case []any:
		for _, x := range v {
			s, ok := x.(string)
			if !ok {
				return &FactError{Reason: "must be a list of words"}
			}
			words = append(words, s)
		}
	default:
		return &FactError{Reason: "must be a list of words"}
	}
	var out []string
	for _, w := range words {
		w = plain(w)
		if !slices.Contains(row.Words, w) {
			return &FactError{Reason: "is none of " + strings.Join(row.Words, ", "), Next: suggest(w, row.Words)}
		}
		if !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	if len(out) == 0 {
		return &FactError{Reason: "is empty", Next: `write "none" if there are none`}
	}
	if len(out) > 1 && slices.Contains(out, "none") {
		return &FactError{Reason: `"none" stands with another word`, Next: `write "none" alone, or leave it out`}
	}
	*p = out
	return nil
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
