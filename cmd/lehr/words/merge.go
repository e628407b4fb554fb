package words

import (
	"slices"
	"strings"

	"lehr/anneal/finding"
)

// said is one or more facts about the same subjects: pieces by index, or what
// has a name; neither for a fact that stands alone.
type said struct {
	pieces []int
	names  []string
	facts  []string
}

// Assumed says each assumption once, a line each: what is said of several
// pieces stands behind all their names, and what one rule or glass assumes
// stands on one line. Findings that differ in one number alone give both ends.
func (w Words) Assumed(fs finding.List) []string {
	var all []said
	for _, f := range spanned(fs) {
		for _, s := range w.said(f) {
			all = attach(all, s)
		}
	}
	var lines []said // all facts about the same
	for _, s := range all {
		i := slices.IndexFunc(lines, func(l said) bool {
			return (len(s.pieces) > 0 || len(s.names) > 0) && slices.Equal(l.pieces, s.pieces) && slices.Equal(l.names, s.names)
		})
		if i < 0 {
			lines = append(lines, s)
		} else {
			lines[i].facts = append(lines[i].facts, s.facts...)
		}
	}
	out := []string{}
	for _, l := range lines {
		text := strings.Join(l.facts, "; ")
		if about := w.about(l); about != "" {
			text = about + ": " + text
		}
		out = append(out, text)
	}
	return out
}

// attach adds a fact, or its subjects to the same fact about others.
func attach(all []said, s said) []said {
	for i := range all {
		same := all[i].facts[0] == s.facts[0] && (len(all[i].pieces) > 0) == (len(s.pieces) > 0) && (len(all[i].names) > 0) == (len(s.names) > 0)
		if !same {
			continue
		}
		for _, p := range s.pieces {
			if !slices.Contains(all[i].pieces, p) {
				all[i].pieces = append(all[i].pieces, p)
			}
		}
		for _, n := range s.names {
			if !slices.Contains(all[i].names, n) {
				all[i].names = append(all[i].names, n)
			}
		}
		return all
	}
	return append(all, s)
}

// spanned joins findings that differ in nothing but their number.
func spanned(fs finding.List) finding.List {
	var out finding.List
	for _, f := range fs {
		i := slices.IndexFunc(out, func(o finding.Finding) bool {
			o.Number, o.To = f.Number, f.To
			return o == f
		})
		if i < 0 {
			out = append(out, f)
			continue
		}
		o := &out[i]
		high := max(o.Number, o.To, f.Number)
		o.Number = min(o.Number, f.Number)
		if o.To = high; high == o.Number {
			o.To = 0
		}
	}
	return out
}

// said turns a finding into facts with their subjects.
func (w Words) said(f finding.Finding) []said {
	one := func(fact string) said {
		s := said{facts: []string{fact}}
		switch {
		case f.Rule != "" && f.Piece == finding.None:
			s.names = []string{"rule " + f.Rule}
		case f.Piece != finding.None:
			s.pieces = []int{f.Piece}
		case f.Kind == finding.BeyondRange || f.Kind == finding.AnnealingPoint || f.Kind == finding.NegativeOptic || f.Kind == finding.NoRelaxation || f.Kind == finding.SpectraBorrowed:
			s.names = []string{f.Name}
		}
		return s
	}
	if f.Kind != finding.BodyOf {
		return []said{one(w.Say(f))}
	}
	text, doubt := w.Body(w.load.Pieces[f.Piece])
	var out []said
	for _, t := range text {
		out = append(out, one(t))
	}
	if doubt != "" {
		out = append(out, said{facts: []string{doubt}})
	}
	return out
}

// about names the subjects of a line.
func (w Words) about(l said) string {
	names := slices.Clone(l.names)
	for _, p := range l.pieces {
		if n := w.name(p); !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	if len(names) > 2 && len(l.names) == 0 && w.areAll(l.pieces) {
		return "every piece"
	}
	return strings.Join(names, ", ")
}

// areAll reports whether pieces are all of the load, but for others of the same name
// and glass.
func (w Words) areAll(which []int) bool {
	all := w.load.Pieces
next:
	for i := range all {
		for _, j := range which {
			if j < len(all) && all[j].What == all[i].What && all[j].Glass == all[i].Glass {
				continue next
			}
		}
		return false
	}
	return true
}
