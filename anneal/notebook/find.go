package notebook

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
	"time"

	"lehr/glass/unit"
)

// Query says which pieces are looked for: those for which everything in it holds.
type Query struct {
	Words  []string    // each stands somewhere in the piece or in its firing
	Size   unit.Length // meant, within 1 %; 0 for any
	Kiln   string
	Result Result
	From   time.Time
	Until  time.Time // up to and without
}

// ParseQuery reads words as they are typed: a length is a size ("3in"),
// anything else is looked for as text, capitals or not.
func ParseQuery(words []string) (Query, error) {
	var q Query
	for _, w := range words {
		if l, err := unit.ParseLength(w); err == nil && l > 0 {
			if q.Size > 0 {
				return q, &ValueError{w, "is a second size", "look for one size at a time"}
			}
			q.Size = l
			continue
		}
		if w = strings.ToLower(strings.TrimSpace(w)); w != "" {
			q.Words = append(q.Words, w)
		}
	}
	return q, nil
}

// Maybe reports whether a record with this name and text can hold what is
// looked for. It is quick, and never says no to one that does.
func (q Query) Maybe(name string, text []byte) bool {
	if len(q.Words) == 0 && q.Result == "" && q.Kiln == "" {
		return true
	}
	low := bytes.ToLower(text)
	if bytes.IndexByte(low, '\\') >= 0 { // escapes may hide a letter
		return true
	}
	name = strings.ToLower(name)
	for _, w := range q.Words {
		if !bytes.Contains(low, []byte(w)) && !strings.Contains(name, w) {
			return false
		}
	}
	return (q.Result == "" || bytes.Contains(low, []byte(strings.Fields(string(q.Result))[0]))) &&
		(q.Kiln == "" || bytes.Contains(low, []byte(strings.ToLower(q.Kiln))))
}

// Match returns the pieces of a record, by their index, that are looked for.
func (q Query) Match(r Record) []int {
	switch {
	case q.Kiln != "" && !strings.EqualFold(q.Kiln, r.Kiln):
		return nil
	case !q.From.IsZero() && r.Date.Before(q.From), !q.Until.IsZero() && !r.Date.Before(q.Until):
		return nil
	}
	about := strings.ToLower(strings.Join([]string{r.Name, r.Kiln, r.Load.Path, r.Program.Path, r.Log.Path, r.Words}, "\n"))
	var out []int
	for i, p := range r.Pieces {
		if q.Size > 0 && !p.sized(q.Size) || q.Result != "" && q.Result != p.Result {
			continue
		}
		all := about + "\n" + p.words()
		if !slices.ContainsFunc(q.Words, func(w string) bool { return !strings.Contains(all, w) }) {
			out = append(out, i)
		}
	}
	return out
}

// sized reports whether the piece was meant to have a size.
func (p Piece) sized(size unit.Length) bool {
	meant := p.Size()
	if meant == 0 {
		meant = p.Got
	}
	return math.Abs(float64(meant-size)) <= 0.01*float64(size)
}

// words is everything that is written of a piece, in small letters.
func (p Piece) words() string {
	all := []string{p.What, p.Glass, string(p.Result), p.Crack, p.Reading, p.Note, p.Photo.Path}
	all = append(all, p.Colors...)
	for _, u := range p.Rods {
		all = append(all, u.Rod)
	}
	return strings.ToLower(strings.Join(all, "\n"))
}

// Difference is one thing that two firings do not share.
type Difference struct{ What, A, B string }

// Compare returns what two firings do not share, in the order of a record, with
// quantities in a display system.
func Compare(a, b Record, sys unit.System) []Difference {
	var out []Difference
	add := func(what, x, y string) {
		if x != y {
			out = append(out, Difference{what, x, y})
		}
	}
	file := func(what string, x, y File) {
		if x.Path == y.Path && x.SHA256 != y.SHA256 {
			out = append(out, Difference{what, x.Path + " as it was", y.Path + ", changed since"})
			return
		}
		if x.SHA256 != "" && x.SHA256 == y.SHA256 {
			return // the same under another name
		}
		add(what, x.Path, y.Path)
	}
	text := func(zero bool, s unit.Shown) string {
		if zero {
			return ""
		}
		return s.Text(sys)
	}
	add("kiln", a.Kiln, b.Kiln)
	file("load", a.Load, b.Load)
	file("program", a.Program, b.Program)
	add("opened at", text(a.At.IsZero(), a.At), text(b.At.IsZero(), b.At))
	add("time constant", hoursText(a.Falls), hoursText(b.Falls))
	add("lag", text(a.Lag == 0, a.Lag), text(b.Lag == 0, b.Lag))
	add("words", a.Words, b.Words)
	used := make([]bool, len(b.Pieces))
	for _, p := range a.Pieces {
		at := slices.IndexFunc(b.Pieces, func(q Piece) bool { return q.What == p.What })
		for at >= 0 && used[at] {
			next := slices.IndexFunc(b.Pieces[at+1:], func(q Piece) bool { return q.What == p.What })
			if next < 0 {
				at = -1
				break
			}
			at += 1 + next
		}
		if at < 0 {
			add(p.What, fmt.Sprintf("%d", p.Count), "")
			continue
		}
		used[at] = true
		q := b.Pieces[at]
		in := func(what, x, y string) { add(p.What+": "+what, x, y) }
		in("count", fmt.Sprint(p.Count), fmt.Sprint(q.Count))
		in("glass", p.Glass, q.Glass)
		in("color", strings.Join(p.Colors, ", "), strings.Join(q.Colors, ", "))
		in("got", text(p.Got == 0, p.Got), text(q.Got == 0, q.Got))
		in("mass", gramsText(p.Mass), gramsText(q.Mass))
		in("rods", rodsText(p), rodsText(q))
		in("result", resultText(p), resultText(q))
		in("crack", p.Crack, q.Crack)
		in("reading", p.Reading, q.Reading)
		in("note", p.Note, q.Note)
	}
	for i, q := range b.Pieces {
		if !used[i] {
			add(q.What, "", fmt.Sprintf("%d", q.Count))
		}
	}
	return out
}

// gramsText is in grams in both systems, as a bench scale shows it.
func gramsText(m unit.Mass) string {
	if m == 0 {
		return ""
	}
	return m.String()
}

func hoursText(d time.Duration) string {
	if d == 0 {
		return ""
	}
	return unit.Duration(d).String()
}

func rodsText(p Piece) string {
	var out []string
	for _, u := range p.Rods {
		s := u.Rod
		if u.Before > 0 {
			s += " " + (u.Before - u.After).String()
		}
		out = append(out, s)
	}
	return strings.Join(out, ", ")
}

func resultText(p Piece) string {
	text := string(p.Result)
	if p.CameOutSo() < p.Count {
		text = fmt.Sprintf("%d of %d %s", p.Of, p.Count, text)
	}
	if p.Days > 0 {
		text += fmt.Sprintf(" after %d days", p.Days)
	}
	return text
}

// Group counts how the pieces of one color, size, glass or kiln came out.
type Group struct {
	Name    string
	Firings int
	Pieces  int
	Whole   int
	Cracked int
	Seen    int // stress seen
	Last    time.Time
}

// The ways to group.
const (
	byColor = "color"
	bySize  = "size"
	byGlass = "glass"
	byKiln  = "kiln"
)

// Hit is a record and the pieces of it that were looked for.
type Hit struct {
	Record Record
	Pieces []int
}

// Groups counts the pieces that were found, those that cracked most first.
// name writes a size.
func Groups(hits []Hit, by string, name func(unit.Length) string) []Group {
	at := map[string]*Group{}
	var order []*Group
	for _, h := range hits {
		seen := map[*Group]bool{}
		for _, i := range h.Pieces {
			p := h.Record.Pieces[i]
			for _, k := range groupsOf(p, h.Record, by, name) {
				g := at[strings.ToLower(k)]
				if g == nil {
					g = &Group{Name: k}
					at[strings.ToLower(k)] = g
					order = append(order, g)
				}
				if !seen[g] {
					seen[g] = true
					g.Firings++
				}
				g.add(p, h.Record.Date)
			}
		}
	}
	sort.SliceStable(order, func(i, j int) bool {
		a, b := order[i], order[j]
		if a.Cracked != b.Cracked {
			return a.Cracked > b.Cracked
		}
		return strings.ToLower(a.Name) < strings.ToLower(b.Name)
	})
	out := make([]Group, len(order))
	for i, g := range order {
		out[i] = *g
	}
	return out
}

// groupsOf names the groups that a piece belongs to.
func groupsOf(p Piece, r Record, by string, name func(unit.Length) string) []string {
	var keys []string
	switch by {
	case byColor:
		keys = p.Colors
	case bySize:
		if s := p.Size(); s > 0 {
			keys = []string{name(s)}
		}
	case byGlass:
		keys = []string{p.Glass}
	case byKiln:
		keys = []string{r.Kiln}
	}
	if len(keys) == 0 || len(keys) == 1 && keys[0] == "" {
		return []string{"not written"}
	}
	return keys
}

// add counts a piece that was fired on a day.
func (g *Group) add(p Piece, day time.Time) {
	g.Pieces += p.Count
	switch {
	case p.Result == Whole:
		g.Whole += p.CameOutSo()
	case p.Result.Cracked():
		g.Cracked += p.CameOutSo()
	case p.Result == StressSeen:
		g.Seen += p.CameOutSo()
	}
	if day.After(g.Last) {
		g.Last = day
	}
}
