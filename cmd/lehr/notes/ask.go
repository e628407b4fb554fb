package notes

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"lehr/anneal/notebook"
	"lehr/anneal/piece"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/term"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// errStopped ends the questions; nothing is written.
var errStopped = term.WithHint(errors.New("note: stopped, nothing is written"), "begin again with: lehr note --ask")

// noteStep is one question: what is asked, what Enter takes, and what an answer
// does. It is put again if the answer is refused.
type noteStep struct {
	ask  string
	was  string
	take func(answer string) error
}

// asker puts questions and goes a step back when told to.
type asker struct {
	app *desk.App
	ctx context.Context
	in  *bufio.Scanner
}

// run puts the questions of a list that may grow with the answers.
func (k *asker) run(questions func() []noteStep) error {
	for i := 0; ; {
		list := questions()
		if i >= len(list) {
			return nil
		}
		q := list[i]
		k.app.Print(q.ask)
		if q.was != "" {
			k.app.Print(" [" + term.Clean(q.was) + "]")
		}
		k.app.Print(" > ")
		if err := k.app.Flush(); err != nil {
			return err
		}
		if !k.in.Scan() || k.ctx.Err() != nil {
			k.app.Print("\n")
			return errStopped
		}
		switch answer := strings.TrimSpace(k.in.Text()); strings.ToLower(answer) {
		case "stop", "quit", "exit":
			return errStopped
		case "back", "b":
			if i--; i < 0 {
				k.app.Print("This is the first question.\n")
				i = 0
			}
		default:
			switch answer {
			case "":
				answer = q.was
			case "-":
				answer = ""
			}
			if err := q.take(answer); err != nil {
				k.app.Prose(0, err.Error()+"."+hintAfter(err))
				continue
			}
			i++
		}
	}
}

func hintAfter(err error) string {
	if hint := term.HintOf(err); hint != "" {
		return " " + strings.ToUpper(hint[:1]) + hint[1:] + "."
	}
	return ""
}

// askNight asks for a new firing. It is one list of questions in their order,
// to which a person may go back.
func askNight(ctx context.Context, a *desk.App, b Book, n *Flags, rec *notebook.Record) error {
	last := b.last()
	k := &asker{a, ctx, bufio.NewScanner(a.In)}
	a.Prose(0, "Enter takes what is in brackets; - is none; back goes a step back; stop ends without writing.")
	was := func(f notebook.File) string {
		if f.Path == "" || b.state(f) == "is gone" {
			return ""
		}
		return b.place(f)
	}
	load, program, log := n.Load, n.Program, n.Log
	if load == "" {
		load = was(last.Load)
	}
	if program == "" {
		program = was(last.Program)
	}
	file := func(into *notebook.File, name *string) func(string) error {
		return func(answer string) (err error) {
			if *name = answer; answer == "" {
				*into = notebook.File{}
				return nil
			}
			*into, err = b.refer(answer)
			return err
		}
	}
	asked := len(rec.Pieces) == 0
	top := func() []noteStep {
		return []noteStep{
			{"Kiln", rec.Kiln, func(s string) error { rec.Kiln = s; return nil }},
			{"Program started", rec.Date.Format("2006-01-02 15:04"), func(s string) (err error) {
				if s == rec.Date.Format("2006-01-02 15:04") {
					return nil // with its seconds
				}
				day, err := parseDay(s)
				if err == nil {
					err = notebook.CheckDate(day, session.Now())
				}
				if err == nil {
					rec.Date = day
				}
				return err
			}},
			{"Load file", load, func(s string) error {
				if err := file(&rec.Load, &load)(s); err != nil || s == "" || n.Load == s && len(rec.Pieces) > 0 {
					return err
				}
				n.Load = s
				return takePieces(a, n, rec, s)
			}},
			{"Program file", program, func(s string) error {
				n.Program = s
				return file(&rec.Program, &program)(s)
			}},
			{"Log of the kiln", log, file(&rec.Log, &log)},
			{"Opened at a reading of", tempOr(rec.At), func(s string) (err error) {
				rec.At, err = orZero(s, unit.ParseTemp)
				return err
			}},
			{"Words on the firing", rec.Words, func(s string) error { rec.Words = s; return nil }},
		}
	}
	return k.run(func() []noteStep {
		list := top()
		if asked && rec.Load.Path == "" {
			list = append(list, noteStep{"Pieces, with commas", piecesText(rec.Pieces), func(s string) error {
				rec.Pieces = nil
				for _, text := range flags.Commas(s) {
					p, err := piece.Parse(text)
					if err != nil {
						return err
					}
					rec.Pieces = append(rec.Pieces, notebook.Piece{What: p.What, Count: p.Count, Glass: n.Glass.Name})
				}
				if len(rec.Pieces) == 0 {
					return errors.New("a firing has pieces")
				}
				return nil
			}})
		}
		for i := range rec.Pieces {
			list = append(list, pieceQuestions(a, b, &rec.Pieces[i], lastLike(last, rec.Pieces[i].What), nil)...)
		}
		return list
	})
}

func piecesText(pieces []notebook.Piece) string {
	var out []string
	for _, p := range pieces {
		out = append(out, strconv.Itoa(p.Count)+" x "+p.What)
	}
	return strings.Join(out, ", ")
}

// lastLike is last time's piece of the same kind, or an empty one.
func lastLike(last notebook.Record, what string) notebook.Piece {
	for _, p := range last.Pieces {
		if p.What == what {
			return p
		}
	}
	return notebook.Piece{}
}

func orZero[T any](s string, parse func(string) (T, error)) (x T, err error) {
	if s == "" {
		return x, nil
	}
	return parse(s)
}

func tempOr(t unit.Temp) string {
	if t.IsZero() {
		return ""
	}
	return t.String()
}

// pieceQuestions asks how a piece came out. was is last time's; kept are rods
// that stand in the record already, to which others may be added. It is one
// list of questions in their order, each with what it takes.
func pieceQuestions(a *desk.App, b Book, p *notebook.Piece, was notebook.Piece, kept []notebook.RodUse) []noteStep {
	name := p.What
	if p.Count > 1 {
		name = fmt.Sprintf("%d × %s", p.Count, p.What)
	}
	first := func(texts ...string) string {
		for _, s := range texts {
			if s != "" {
				return s
			}
		}
		return ""
	}
	list := []noteStep{
		{name + ": result", first(string(p.Result), string(notebook.Whole)), func(s string) (err error) {
			p.Result, err = orZero(s, notebook.ParseResult)
			return err
		}},
	}
	if p.Result == notebook.CrackedLater {
		days := ""
		if p.Days > 0 {
			days = strconv.Itoa(p.Days)
		}
		list = append(list, noteStep{name + ": after how many days", days, func(s string) error {
			d, err := strconv.Atoi(s)
			if err != nil || d < 1 {
				return errors.New("write a number of days")
			}
			p.Days = d
			return nil
		}})
	}
	if p.Result.Cracked() {
		list = append(list, noteStep{name + ": where the crack starts", p.Crack, func(s string) error { p.Crack = s; return nil }})
	}
	got, mass := "", ""
	if p.Got > 0 {
		got = unit.AsTyped(p.Got)
	}
	if p.Mass > 0 {
		mass = unit.AsTyped(p.Mass)
	}
	var rods []string
	for _, u := range p.Rods[len(kept):] {
		rods = append(rods, rodUseText(u))
	}
	rodsAsked := name + ": rods, such as 19mm clear: 820g to 262g"
	if len(kept) > 0 {
		rodsAsked = name + ": more rods"
	}
	list = append(list,
		noteStep{name + ": size it has", got, func(s string) (err error) { p.Got, err = orZero(s, unit.ParseLength); return err }},
		noteStep{name + ": grams of one", mass, func(s string) (err error) { p.Mass, err = orZero(s, unit.ParseMass); return err }},
		noteStep{name + ": colors, with commas", first(strings.Join(p.Colors, ", "), strings.Join(was.Colors, ", ")), func(s string) error {
			p.Colors = flags.Commas(s)
			return nil
		}},
		noteStep{rodsAsked, strings.Join(rods, "; "), func(s string) error {
			all := slices.Clone(kept)
			for part := range strings.SplitSeq(s, ";") {
				if part = strings.TrimSpace(part); part == "" {
					continue
				}
				u, err := parseRodUse(part)
				if err != nil {
					return err
				}
				all = append(all, u)
			}
			p.Rods = all
			return nil
		}},
		noteStep{name + ": reading in the polariscope", p.Reading, func(s string) error {
			if s != "" {
				if err := checkReading(s); err != nil {
					return err
				}
			}
			p.Reading = s
			return nil
		}})
	if p.Reading != "" {
		list = append(list, noteStep{name + ": read in air or liquid", first(p.In, was.In, "air"), func(s string) error {
			if s != "air" && s != "liquid" {
				return errors.New("write air or liquid")
			}
			p.In = s
			return nil
		}})
	}
	photo := ""
	if p.Photo.Path != "" {
		photo = b.place(p.Photo)
	}
	return append(list,
		noteStep{name + ": photo file", photo, func(s string) (err error) {
			p.Photo = notebook.File{}
			if s != "" {
				p.Photo, err = b.refer(s)
			}
			return err
		}},
		noteStep{name + ": words", p.Note, func(s string) error { p.Note = s; return nil }})
}

func rodUseText(u notebook.RodUse) string {
	if u.Before == 0 {
		return u.Rod
	}
	return u.Rod + ": " + u.Before.String() + " to " + u.After.String()
}

// askChanges asks how the pieces of a firing came out, with what is written as
// the answers to take over, and returns what has changed.
func askChanges(a *desk.App, b Book, rec notebook.Record) ([]notebook.Change, error) {
	before := make([]notebook.Piece, len(rec.Pieces))
	copy(before, rec.Pieces)
	k := &asker{a, context.Background(), bufio.NewScanner(a.In)}
	a.Prose(0, "Enter takes what is in brackets; - is none; back goes a step back; stop ends without writing.")
	opened := rec.At
	err := k.run(func() []noteStep {
		list := []noteStep{{"Opened at a reading of", tempOr(opened), func(s string) (err error) {
			opened, err = orZero(s, unit.ParseTemp)
			return err
		}}}
		for i := range rec.Pieces {
			list = append(list, pieceQuestions(a, b, &rec.Pieces[i], notebook.Piece{}, before[i].Rods)...)
		}
		return list
	})
	if err != nil {
		return nil, err
	}
	var out []notebook.Change
	if opened != rec.At {
		out = append(out, notebook.Change{Key: "opened_at", Value: strict.Quote(opened.String())})
	}
	for i, p := range rec.Pieces {
		out = append(out, pieceChanges(i+1, before[i], p)...)
	}
	return out, nil
}

// pieceChanges are the values of a piece that differ. What was taken away
// stays as an empty text; rods are only added.
func pieceChanges(at int, a, b notebook.Piece) (out []notebook.Change) {
	set := func(differs bool, key, value string) {
		if differs {
			out = append(out, notebook.Change{Piece: at, Key: key, Value: value})
		}
	}
	q := strict.Quote
	set(a.Result != b.Result, "result", q(string(b.Result)))
	set(a.Days != b.Days, "days", strconv.Itoa(b.Days))
	set(a.Crack != b.Crack, "crack", q(b.Crack))
	set(a.Got != b.Got, "got", q(b.Got.String()))
	set(a.Mass != b.Mass, "mass", q(b.Mass.String()))
	set(strings.Join(a.Colors, "\n") != strings.Join(b.Colors, "\n"), "color", quotedList(b.Colors))
	set(a.Reading != b.Reading, "reading", q(b.Reading))
	set(a.In != b.In, "reading_in", q(b.In))
	set(a.Photo != b.Photo, "photo", q(b.Photo.Path))
	set(a.Photo != b.Photo, "photo_sha256", q(b.Photo.SHA256))
	set(a.Note != b.Note, "note", q(b.Note))
	for _, u := range b.Rods[len(a.Rods):] {
		set(true, "rod", u.Lines())
	}
	return out
}

// dayText writes a date for people.
func dayText(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format("2006-01-02 15:04")
}
