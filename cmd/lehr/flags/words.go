package flags

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"lehr/cmd/lehr/term"
)

// Commas splits a list that is written with commas, without empty items.
func Commas(text string) []string {
	var out []string
	for part := range strings.SplitSeq(text, ",") {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}

// OneOf is a flag that takes one of a few words, such as "equal|full".
func OneOf(value *string, words string) pflag.Value { return &oneWord{value, words} }

// oneWord is a flag that takes one of a few words, such as "equal|full".
type oneWord struct {
	value *string
	words string
}

func (c *oneWord) String() string { return "" }
func (c *oneWord) Type() string   { return c.words }

// Set takes one of the words.
func (c *oneWord) Set(s string) error {
	words := strings.Split(c.words, "|")
	if !slices.Contains(words, s) {
		return term.WithHint(fmt.Errorf("%q: is none of its words", s), "write "+strings.Join(words, " or "))
	}
	*c.value = s
	return nil
}
