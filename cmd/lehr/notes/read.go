package notes

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"lehr/anneal/notebook"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/term"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// minuteForm is a time of a firing as it is asked and told.
const minuteForm = "2006-01-02 15:04"

// firstYear is the earliest that a firing can be of; an earlier one is a slip.
const firstYear = 1900

// parseDay reads a time as it is typed: with its offset, or in local time. An hour
// that the clocks pass over is refused.
func parseDay(text string) (time.Time, error) {
	text = strings.TrimSpace(text)
	t, local, err := dayIn(text, time.Local)
	if err != nil {
		return t, term.WithHint(fmt.Errorf("%s: is no date", text), `write "2026-11-25 22:15" or "2026-11-25 10:15 pm"`)
	}
	wall, _, _ := dayIn(text, time.UTC)
	_, ahead := t.Zone()
	switch {
	case t.Year() < firstYear:
		return t, errors.New(text + ": the year must be 1900 or later")
	case local && wall.Unix()-t.Unix() != int64(ahead):
		return t, errors.New(text + ": is no time here, as the clocks went on that night")
	}
	return t.Truncate(time.Second), nil
}

// dayIn reads a time in a zone; local says that it has an hour of that zone. Where
// the clocks go on at midnight, a day alone begins at one.
func dayIn(text string, zone *time.Location) (t time.Time, local bool, err error) {
	if t, err = time.Parse(time.RFC3339, text); err == nil {
		return t, false, nil
	}
	if t, err = time.ParseInLocation(time.DateTime, text, zone); err == nil {
		return t, true, nil
	}
	return unit.ParseDay(text, zone)
}

// parseOpened reads when a kiln was opened: a time as [parseDay] has it, or a time
// of day, which is the next one after the program started, or the last one before
// now where nobody said when it did.
func parseOpened(text string, started, now time.Time) (time.Time, error) {
	c, err := unit.ParseClock(text)
	if err != nil {
		return parseDay(text)
	}
	by := started
	if by.IsZero() {
		by = now.AddDate(0, 0, -1)
	}
	t := time.Date(by.Year(), by.Month(), by.Day(), int(c)/60, int(c)%60, 0, 0, by.Location())
	if t.Before(by) {
		t = t.AddDate(0, 0, 1)
	}
	return t, nil
}

// parseRodUse reads "19mm clear: 820g to 262g", or a rod that was not weighed.
func parseRodUse(text string) (notebook.RodUse, error) {
	name, amounts, weighed := strings.Cut(text, ":")
	u := notebook.RodUse{Rod: strings.Join(strings.Fields(name), " ")}
	fail := func(err error) (notebook.RodUse, error) {
		return u, term.WithHint(fmt.Errorf("%s: %w", text, err), `write "19mm clear: 820g to 262g", before and after`)
	}
	if u.Rod == "" {
		return fail(errors.New("names no rod"))
	}
	if !weighed {
		return u, nil
	}
	before, after, ok := strings.Cut(amounts, " to ")
	if !ok {
		return fail(errors.New("has no grams before and after"))
	}
	var err error
	if u.Before, err = unit.ParseMass(before); err != nil {
		return fail(err)
	}
	if u.After, err = unit.ParseMass(after); err != nil {
		return fail(err)
	}
	if u.After > u.Before {
		return fail(errors.New("more was left than there was"))
	}
	if u.Before == 0 {
		return fail(errors.New("nothing was there before"))
	}
	return u, nil
}

// whichPieces returns the pieces that --for means, from 1.
func whichPieces(which string, of int) ([]int, error) {
	switch {
	case of == 0:
		return nil, desk.Usagef("name them: --load load.toml, or --piece \"sphere 3in\"", "note: the firing has no pieces")
	case which == "all":
		var all []int
		for i := range of {
			all = append(all, i+1)
		}
		return all, nil
	case which == "" && of == 1:
		return []int{1}, nil
	case which == "":
		return nil, desk.Usagef(fmt.Sprintf("write --for 1 up to %d, or --for all", of), "note: which of the %d kinds of piece", of)
	}
	i, err := strconv.Atoi(which)
	if err != nil || i < 1 || i > of {
		return nil, desk.Usagef(fmt.Sprintf("write --for 1 up to %d, or --for all", of), "note: --for %s: there are %d kinds of piece", which, of)
	}
	return []int{i}, nil
}

// pieceSays puts the flags of a piece into p, and returns them as changes.
func pieceSays(a *desk.App, b Book, n *Flags, p *notebook.Piece, at int) (out []notebook.Change, err error) {
	set := func(key, value string) { out = append(out, notebook.Change{Piece: at, Key: key, Value: value}) }
	text := func(flag, key, value string, into *string) {
		if n.Changed(flag) {
			*into = value
			set(key, strict.Quote(value))
		}
	}
	if n.Changed("result") {
		if p.Result, err = notebook.ParseResult(n.Result); err != nil {
			return nil, desk.AsUsage("note: --result", err)
		}
		set("result", strict.Quote(string(p.Result)))
		was := p.Of
		if p.Of = n.Count; n.Changed("count") && (n.Count < 1 || n.Count > p.Count) {
			return nil, desk.Usagef(`write --count 1 --result "cracked later"`, "note: --count %d: there are %d of %s", n.Count, p.Count, p.What)
		}
		if n.Changed("count") || was > 0 {
			set("result_of", strconv.Itoa(p.CameOutSo())) // a later result is of all again
		}
	}
	if n.Changed("days") {
		if p.Result != notebook.CrackedLater {
			return nil, desk.Usagef(`write --result "cracked later"`, "note: --days: only for what cracked later")
		}
		p.Days = n.Days
		set("days", strconv.Itoa(n.Days))
	}
	if n.Changed("got") {
		if p.Got, err = unit.ParseLength(n.Got); err != nil {
			return nil, desk.AsUsage("note: --got", err)
		}
		set("got", strict.Quote(p.Got.String()))
	}
	if n.Changed("mass") {
		if p.Mass, err = unit.ParseMass(n.Mass); err != nil {
			return nil, desk.AsUsage("note: --mass", err)
		}
		set("mass", strict.Quote(p.Mass.String()))
	}
	if n.Changed("color") {
		p.Colors = flags.Commas(n.Color)
		set("color", strict.QuoteList(p.Colors))
	}
	text("crack", "crack", n.Crack, &p.Crack)
	if n.Changed("reading") {
		if err := checkReading(n.Reading); err != nil {
			return nil, desk.AsUsage("note: --reading", err)
		}
	}
	text("reading", "reading", n.Reading, &p.Reading)
	text("in", "reading_in", n.In, &p.In)
	if n.Changed("photo") {
		if p.Photo, err = b.refer(n.Photo); err != nil {
			return nil, err
		}
		set("photo", strict.Quote(p.Photo.Path))
		set("photo_sha256", strict.Quote(p.Photo.SHA256))
	}
	text("note", "note", n.Note, &p.Note)
	for _, r := range n.Rods {
		u, err := parseRodUse(r)
		if err != nil {
			return nil, desk.AsUsage("note: --rod", err)
		}
		p.Rods = append(p.Rods, u)
		set("rod", u.Lines())
	}
	return out, nil
}

// firingSays puts the flags of the firing into r, and returns them as changes.
func firingSays(a *desk.App, b Book, n *Flags, r *notebook.Record) (out []notebook.Change, err error) {
	set := func(key, value string) { out = append(out, notebook.Change{Key: key, Value: strict.Quote(value)}) }
	if n.Changed("date") {
		if r.Date, err = parseDay(n.Date); err != nil {
			return nil, desk.AsUsage("note: --date", err)
		}
		if err := notebook.CheckDate(r.Date, session.Now()); err != nil {
			return nil, desk.AsUsage("note: --date", err)
		}
		set("date", r.Date.Format(time.RFC3339))
	}
	if n.Changed("kiln") {
		r.Kiln = n.Kiln
		set("kiln", n.Kiln)
	}
	for _, f := range []struct {
		flag, name string
		into       *notebook.File
	}{{"load", n.Load, &r.Load}, {"program", n.Program, &r.Program}, {"log", n.Log, &r.Log}} {
		if !n.Changed(f.flag) {
			continue
		}
		if *f.into, err = b.refer(f.name); err != nil {
			return nil, err
		}
		set(f.flag, f.into.Path)
		set(f.flag+"_sha256", f.into.SHA256)
	}
	if n.Changed("opened") {
		if r.Opened, err = parseOpened(n.Opened, r.Date, session.Now()); err != nil {
			return nil, desk.AsUsage("note: --opened", err)
		}
		if !r.Date.IsZero() && r.Opened.Before(r.Date) {
			return nil, desk.Usagef("", "note: --opened %s: is before the program started, %s", n.Opened, r.Date.Format(minuteForm))
		}
		set("opened", r.Opened.Format(time.RFC3339))
	}
	if n.Changed("opened-at") {
		if r.At, err = unit.ParseTemp(n.OpenedAt); err != nil {
			return nil, desk.AsUsage("note: --opened-at", err)
		}
		set("opened_at", r.At.String())
	}
	if n.Changed("time-constant") {
		if r.Falls, err = unit.ParseDuration(n.Constant); err != nil {
			return nil, desk.AsUsage("note: --time-constant", err)
		}
		set("time_constant", unit.Duration(r.Falls).String())
	}
	if n.Changed("lag") {
		if r.Lag, err = unit.ParseDelta(n.Lag); err != nil {
			return nil, desk.AsUsage("note: --lag", err)
		}
		set("lag", r.Lag.String())
	}
	if n.Changed("words") {
		r.Words = n.Words
		set("words", n.Words)
	}
	return out, nil
}
