// Package words turns findings into English, in one unit system.
//
// It is the only place where the rooms of package anneal get their sentences:
// a finding goes in, a clause without capital or full stop comes out, and
// nothing reads a clause back. Names that a person gave come out as typed.
package words

import (
	"fmt"
	"strings"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// Words speaks about one load, and its report if there is one.
type Words struct {
	load *piece.Load
	rep  *verify.Report // nil where there is no report
	sys  unit.System
	// keyed is the system of temperatures and rates: where a sentence speaks of what
	// is keyed in, that of the controller.
	keyed  unit.System
	fields Fields // of the form whose reader is spoken to
}

// About speaks about a report, in the system of its studio.
func About(rep *verify.Report) Words {
	return Words{load: rep.Load, rep: rep, sys: rep.Studio.Units, keyed: rep.Studio.Units}
}

// AboutLoad speaks about a load that has no report.
func AboutLoad(l *piece.Load, sys unit.System) Words {
	return Words{load: l, sys: sys, keyed: sys}
}

// In speaks about rules and glasses alone.
func In(sys unit.System) Words { return Words{load: &piece.Load{}, sys: sys, keyed: sys} }

// List says each finding by itself.
func (w Words) List(fs finding.List) []string {
	out := []string{}
	for _, f := range fs {
		out = append(out, w.Say(f))
	}
	return out
}

// Joined says several findings in one line.
func (w Words) Joined(fs finding.List) string { return strings.Join(w.List(fs), "; ") }

// Reasons says why each segment is as it is, a line each.
func (w Words) Reasons(rs []finding.List) []string {
	out := []string{}
	for _, r := range rs {
		out = append(out, w.Joined(r))
	}
	return out
}

// Sources says where numbers come from.
func Sources(ss []finding.Source) []string {
	out := []string{}
	for _, s := range ss {
		text := fmt.Sprintf("%s [%s]", s.Cite, s.Status)
		if s.Limit {
			text = "limit: " + text
		}
		out = append(out, text)
	}
	return out
}

// Say turns one finding into a clause.
func (w Words) Say(f finding.Finding) string {
	for _, room := range []func(finding.Finding) string{w.over, w.note, w.assumption, w.rule, w.reason, w.conflict, w.night, w.inside} {
		if s := room(f); s != "" {
			return s
		}
	}
	return f.Kind.String()
}

// name is how a piece is called, as it was typed; what is in it only where that
// tells two apart.
func (w Words) name(i int) string {
	if i < 0 || i >= len(w.load.Pieces) {
		return "a piece"
	}
	mine := &w.load.Pieces[i]
	if mine.Contents.Empty() {
		return mine.What
	}
	head := mine.Head()
	for j := range w.load.Pieces {
		if j != i && w.load.Pieces[j].Head() == head {
			return mine.What
		}
	}
	return head
}

// Name is how a piece is called in a sentence.
func (w Words) Name(i int) string { return w.name(i) }

// in names a piece as a place, "" if it is not to be named.
func (w Words) in(i int) string {
	if i == finding.None {
		return ""
	}
	return " in " + w.name(i)
}

// named is a piece with its glass.
func (w Words) named(i int) string {
	if i < 0 || i >= len(w.load.Pieces) {
		return "a piece"
	}
	return fmt.Sprintf("%s (%s)", w.name(i), w.load.Pieces[i].Glass.Name)
}

// asKeyed speaks of temperatures and rates as the controller has them.
func (w Words) asKeyed() Words {
	if w.rep != nil {
		w.keyed = w.rep.Studio.Controller.Units
	}
	return w
}

func (w Words) temp(t unit.Temp) string       { return t.Text(w.keyed) }
func (w Words) delta(d unit.Delta) string     { return d.Text(w.sys) }
func (w Words) rate(r unit.Rate) string       { return r.Text(w.keyed) }
func (w Words) stress(s unit.Stress) string   { return s.Text(w.sys) }
func (w Words) length(l unit.Length) string   { return l.Text(w.sys) }
func (w Words) of(s, most unit.Stress) string { return w.stress(s) + " of " + w.stress(most) }
func duration(d time.Duration) string         { return unit.FormatDuration(d) }

// Place says where in a piece something is.
func Place(p verify.Place) string {
	inner := [...]string{verify.Center: "center", verify.Bore: "bore", verify.ClosedFace: "closed face", verify.Middle: "middle", verify.Cavity: "inner face"}[p.Inner]
	switch {
	case p.Flat:
		return p.At.String()
	case p.AtSurface():
		return "surface"
	case p.AtInner():
		return inner
	}
	return fmt.Sprintf("%.2g of the way from %s to surface", p.Depth, inner)
}

// Limit names one of the two limits of tension.
func Limit(l verify.Limit) string {
	return [...]string{verify.LimitTension: "tension", verify.LimitResidual: "tension left"}[l]
}
