package notebook

import (
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode"

	"lehr/glass/strict"
	"lehr/glass/unit"
)

// Text writes a new record. What is zero is left out.
func (r Record) Text() []byte {
	var b strings.Builder
	b.WriteString("# One firing. Mend it with any editor; keys of your own are kept.\n")
	line := func(key, value string) { fmt.Fprintf(&b, "%s = %s\n", key, value) }
	text := func(key, value string) {
		if value != "" {
			line(key, strict.Quote(value))
		}
	}
	file := func(key string, f File) {
		text(key, f.Path)
		text(key+"_sha256", f.SHA256)
	}
	date := func(key string, t time.Time) {
		if !t.IsZero() {
			text(key, t.Format(time.RFC3339))
		}
	}
	date("date", r.Date)
	text("kiln", r.Kiln)
	file("load", r.Load)
	file("program", r.Program)
	file("log", r.Log)
	date("opened", r.Opened)
	if !r.At.IsZero() {
		text("opened_at", r.At.String())
	}
	if r.Falls > 0 {
		text("time_constant", unit.Duration(r.Falls).String())
	}
	if r.Lag != 0 {
		text("lag", r.Lag.String())
	}
	text("words", r.Words)
	for _, p := range r.Pieces {
		b.WriteString("\n[[piece]]\n")
		text("what", p.What)
		if p.Count > 1 {
			line("count", strconv.Itoa(p.Count))
		}
		text("glass", p.Glass)
		if len(p.Colors) > 0 {
			line("color", strict.QuoteList(p.Colors))
		}
		if p.Got > 0 {
			text("got", p.Got.String())
		}
		if p.Mass > 0 {
			text("mass", p.Mass.String())
		}
		text("result", string(p.Result))
		if p.Of > 0 {
			line("result_of", strconv.Itoa(p.Of))
		}
		if p.Days > 0 {
			line("days", strconv.Itoa(p.Days))
		}
		text("crack", p.Crack)
		text("reading", p.Reading)
		text("reading_in", p.In)
		if p.Predicted.Nanometers > 0 {
			text("predicted", p.Predicted.String())
			if p.Predicted.Worst > 0 {
				text("predicted_worst", (&Predicted{Nanometers: p.Predicted.Worst}).String())
			}
		}
		file("photo", p.Photo)
		text("note", p.Note)
		for _, u := range p.Rods {
			b.WriteString("[[piece.rod]]\n" + u.Lines())
		}
	}
	return []byte(b.String())
}

// Lines writes the table of a rod, without its heading, as [Change] takes it.
func (u RodUse) Lines() string {
	text := "rod = " + strict.Quote(u.Rod) + "\n"
	if u.Before > 0 {
		text += "before = " + strict.Quote(u.Before.String()) + "\nafter = " + strict.Quote(u.After.String()) + "\n"
	}
	return text
}

// FileName returns the name of the n-th record of a kiln on a day, from 1:
// "2026-11-25-big.toml", "2026-11-25-big-2.toml".
func FileName(date time.Time, kiln string, n int) string {
	name := date.Format("2006-01-02")
	if s := slug(kiln); s != "" {
		name += "-" + s
	}
	if n > 1 {
		name += "-" + strconv.Itoa(n)
	}
	return name + Ext
}

// slug writes a word so that every file system takes it.
func slug(s string) string {
	out := strings.Map(func(r rune) rune {
		r = unicode.ToLower(r)
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return '-'
	}, s)
	for strings.Contains(out, "--") {
		out = strings.ReplaceAll(out, "--", "-")
	}
	if out = strings.Trim(out, "-"); len(out) > 40 {
		out = strings.Trim(out[:40], "-")
	}
	return out
}
