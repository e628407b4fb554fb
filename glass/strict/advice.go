package strict

import (
	"errors"
	"strings"
)

// Advice is what to do about an error: words, and in braces settings, so that each
// reader is told by the names that he knows. Text that somebody typed goes through
// [Plain]. In braces stands
//
//	{kiln.holding}           the name of a setting, by table and key
//	{kiln.spread-}           the same where its file is said by the next one
//	{into=hot kiln}          a setting with its value
//	{write into=hot kiln}    to write that
//	{leave door}             to leave a setting out
//	{list them}              to choose one of the names of glasses
//	{split what fits}        to split the load into firings, which shows what fits
//
// A flag is a setting with its hyphens, {--start}.
type Advice string

// Step is words, or a setting and what to do with it.
type Step struct {
	Do   string // "" for words alone, "name", "set", or what stands first in braces
	Key  string // "kiln.holding", "door.every", "into", "--start"
	Near bool   // another setting of the same file follows
	Text string // the words, or the value
}

// Plain is advice of words alone, as they are.
func Plain(words string) Advice { return Advice(strings.ReplaceAll(words, "{", "{}")) }

// String says it by the keys of files and by flags.
func (a Advice) String() string { return a.Say(Step.String) }

// Say puts the steps of an advice together, each as say has it.
func (a Advice) Say(say func(Step) string) string {
	text := ""
	for a != "" {
		words, rest, found := strings.Cut(string(a), "{")
		text += words
		if !found {
			break
		}
		in, after, _ := strings.Cut(rest, "}")
		text, a = text+say(stepOf(in)), Advice(after)
	}
	return text
}

// stepOf reads what stands in braces; nothing is the brace itself.
func stepOf(in string) (s Step) {
	if in == "" {
		return Step{Text: "{"}
	}
	s.Do, s.Key = "name", in
	for _, do := range [...]string{"write", "leave", "list", "split"} {
		if rest, ok := strings.CutPrefix(in, do+" "); ok {
			s.Do, s.Key = do, rest
		}
	}
	var set bool
	switch s.Key, s.Text, set = strings.Cut(s.Key, "="); {
	case s.Do == "list" || s.Do == "split":
		s.Key, s.Text = "", s.Key
	case set && s.Do == "name":
		s.Do = "set"
	}
	s.Key, s.Near = strings.CutSuffix(s.Key, "-")
	return s
}

// String says it by the keys of files and by flags.
func (s Step) String() string {
	key, place := s.Key, ""
	if table, inTable, ok := strings.Cut(s.Key, "."); ok {
		key = inTable
		if !s.Near && (table == "kiln" || table == "controller" || table == "limits") {
			place = " in [" + table + "] of the studio file"
		}
	}
	switch key {
	case "door":
		key = "[door]"
	case "controller":
		key = "[controller] of studio.toml"
	}
	switch s.Do {
	case "name":
		return key + place
	case "set", "write":
		value := s.Text
		if strings.Trim(value, "0123456789") != "" {
			value = `"` + value + `"`
		}
		if strings.HasPrefix(key, "--") {
			return key + " " + value
		}
		if key += " = " + value + place; s.Do == "write" {
			return "write " + key
		}
		return key
	case "leave":
		return "leave " + key + " out" + place
	case "list":
		return "list " + s.Text + " with: lehr glass"
	case "split":
		return "lehr share shows " + s.Text
	}
	return s.Text
}

// AdviceOf returns what the first error in the chain that says what to do, says.
func AdviceOf(err error) Advice {
	for err != nil {
		var hint interface{ Hint() string }
		if !errors.As(err, &hint) {
			return ""
		}
		if a, ok := hint.(interface{ Advice() Advice }); ok && a.Advice() != "" {
			return a.Advice()
		}
		if text := hint.Hint(); text != "" {
			return Plain(text)
		}
		next, _ := hint.(error)
		err = errors.Unwrap(next)
	}
	return ""
}
