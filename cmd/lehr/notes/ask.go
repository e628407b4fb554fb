package notes

import (
	"bufio"
	"context"
	"errors"
	"strconv"
	"strings"
	"time"

	"lehr/anneal/notebook"
	"lehr/cmd/lehr/desk"
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
		return " " + term.Capital(hint) + "."
	}
	return ""
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
	set(a.Of > 0 && a.Result != b.Result, "result_of", strconv.Itoa(b.Count)) // of all again
	set(a.Days != b.Days, "days", strconv.Itoa(b.Days))
	set(a.Crack != b.Crack, "crack", q(b.Crack))
	set(a.Got != b.Got, "got", q(b.Got.String()))
	set(a.Mass != b.Mass, "mass", q(b.Mass.String()))
	set(strings.Join(a.Colors, "\n") != strings.Join(b.Colors, "\n"), "color", strict.QuoteList(b.Colors))
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
	return t.Format(minuteForm)
}
