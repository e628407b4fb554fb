package main

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"lehr/anneal/piece"
)

// mergeAssumed says each assumption once: what is said of several pieces stands
// behind all their names, what differs in one number gives both, and what one
// rule or glass assumes stands on one line.
func mergeAssumed(l *piece.Load, texts []string) []string {
	var subjects []string // what a text may begin with, before ": "
	for _, p := range l.Pieces {
		if !slices.Contains(subjects, p.What) {
			subjects = append(subjects, p.What)
		}
	}
	pieces := len(subjects)
	for _, t := range texts {
		if head, _, ok := strings.Cut(t, ": "); ok && strings.HasPrefix(head, "rule ") && !slices.Contains(subjects, head) {
			subjects = append(subjects, head)
		}
	}
	type entry struct {
		about []string // the subjects, none for a text that stands alone
		facts []string
	}
	var facts []entry // one fact each
	for _, t := range texts {
		about, rest := "", t
		for _, s := range subjects {
			if r, ok := strings.CutPrefix(t, s+": "); ok && len(s) > len(about) {
				about, rest = s, r
			}
		}
		if about == "" {
			facts = append(facts, entry{facts: []string{t}})
			continue
		}
		for fact := range strings.SplitSeq(rest, "; ") {
			at := slices.IndexFunc(facts, func(e entry) bool { return e.about != nil && e.facts[0] == fact })
			if at < 0 {
				facts = append(facts, entry{[]string{about}, []string{fact}})
			} else if !slices.Contains(facts[at].about, about) {
				facts[at].about = append(facts[at].about, about)
			}
		}
	}
	var merged []entry // all facts about the same
	for _, e := range facts {
		at := -1
		if e.about != nil {
			at = slices.IndexFunc(merged, func(m entry) bool { return slices.Equal(m.about, e.about) })
		}
		if at < 0 {
			merged = append(merged, e)
			continue
		}
		m := &merged[at]
		for i, f := range m.facts {
			if both, ok := rangeOf(f, e.facts[0]); ok {
				m.facts[i], e.facts = both, nil
				break
			}
		}
		m.facts = append(m.facts, e.facts...)
	}
	var out []string
	for _, m := range merged {
		text := strings.Join(m.facts, "; ")
		switch {
		case m.about == nil:
		case len(m.about) == pieces && pieces > 2 && !strings.HasPrefix(m.about[0], "rule "):
			text = "every piece: " + text
		default:
			text = strings.Join(m.about, ", ") + ": " + text
		}
		out = append(out, text)
	}
	return out
}

// factNumber is a number in a fact, or two that an earlier merge has joined.
var factNumber = regexp.MustCompile(`\d+\.\d+( to \d+\.\d+)?`)

// rangeOf joins two facts that differ in one decimal number: "0.984 to 0.997".
func rangeOf(a, b string) (string, bool) {
	x, y := factNumber.FindAllStringIndex(a, -1), factNumber.FindAllStringIndex(b, -1)
	if len(x) != 1 || len(y) != 1 {
		return "", false
	}
	numbers := append(strings.Split(a[x[0][0]:x[0][1]], " to "), strings.Split(b[y[0][0]:y[0][1]], " to ")...)
	before, after := a[:x[0][0]], a[x[0][1]:]
	if before != b[:y[0][0]] || after != b[y[0][1]:] || strings.TrimSpace(before) == "" {
		return "", false
	}
	slices.SortFunc(numbers, func(s, t string) int {
		var u, v float64
		fmt.Sscan(s, &u)
		fmt.Sscan(t, &v)
		return int(u*1e6) - int(v*1e6)
	})
	return before + numbers[0] + " to " + numbers[len(numbers)-1] + after, true
}
