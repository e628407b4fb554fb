package notes

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lehr/anneal/notebook"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/glass/unit"
)

// pieceQuestions asks how a piece came out. was is last time's; kept are rods
// that stand in the record already, to which others may be added. It is one
// list of questions in their order, each with what it takes.
func pieceQuestions(a *desk.App, b Book, p *notebook.Piece, was notebook.Piece, kept []notebook.RodUse) []noteStep {
	q := &pieceAsked{book: b, Piece: p, was: was, name: p.What}
	if p.Count > 1 {
		q.name = fmt.Sprintf("%d × %s", p.Count, p.What)
	}
	list := append(q.result(), q.made()...)
	list = append(list, q.rods(kept))
	list = append(list, q.polariscope()...)
	return append(list,
		q.ask("photo file", q.photo(), q.takePhoto),
		q.ask("words", p.Note, func(s string) error { p.Note = s; return nil }))
}

// pieceAsked is a piece that is asked about.
type pieceAsked struct {
	*notebook.Piece
	book Book
	was  notebook.Piece // last time's
	name string         // before each question
}

func (q *pieceAsked) ask(what, was string, take func(string) error) noteStep {
	return noteStep{q.name + ": " + what, was, take}
}

// result asks whether the piece is whole, and else when and where it cracked.
func (q *pieceAsked) result() []noteStep {
	p := q.Piece
	list := []noteStep{q.ask("result", cmp.Or(string(p.Result), string(notebook.Whole)), func(s string) (err error) {
		p.Result, err = orZero(s, notebook.ParseResult)
		return err
	})}
	if p.Result == notebook.CrackedLater {
		days := ""
		if p.Days > 0 {
			days = strconv.Itoa(p.Days)
		}
		list = append(list, q.ask("after how many days", days, func(s string) error {
			d, err := strconv.Atoi(s)
			if err != nil || d < 1 {
				return errors.New("write a number of days")
			}
			p.Days = d
			return nil
		}))
	}
	if p.Result.Cracked() {
		list = append(list, q.ask("where the crack starts", p.Crack, func(s string) error { p.Crack = s; return nil }))
	}
	return list
}

// made asks for size, mass and colors.
func (q *pieceAsked) made() []noteStep {
	p, got, mass := q.Piece, "", ""
	if p.Got > 0 {
		got = unit.AsTyped(p.Got)
	}
	if p.Mass > 0 {
		mass = unit.AsTyped(p.Mass)
	}
	return []noteStep{
		q.ask("size it has", got, func(s string) (err error) { p.Got, err = orZero(s, unit.ParseLength); return err }),
		q.ask("grams of one", mass, func(s string) (err error) { p.Mass, err = orZero(s, unit.ParseMass); return err }),
		q.ask("colors, with commas", cmp.Or(strings.Join(p.Colors, ", "), strings.Join(q.was.Colors, ", ")), func(s string) error {
			p.Colors = flags.Commas(s)
			return nil
		}),
	}
}

// rods asks for the rods used, after those that are kept.
func (q *pieceAsked) rods(kept []notebook.RodUse) noteStep {
	what := "rods, such as 19mm clear: 820g to 262g"
	if len(kept) > 0 {
		what = "more rods"
	}
	var was []string
	for _, u := range q.Rods[len(kept):] {
		was = append(was, rodUseText(u))
	}
	return q.ask(what, strings.Join(was, "; "), func(s string) error {
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
		q.Rods = all
		return nil
	})
}

// polariscope asks for a reading and, if there is one, in what it was taken.
func (q *pieceAsked) polariscope() []noteStep {
	p := q.Piece
	list := []noteStep{q.ask("reading in the polariscope", p.Reading, func(s string) error {
		if s != "" {
			if err := checkReading(s); err != nil {
				return err
			}
		}
		p.Reading = s
		return nil
	})}
	if p.Reading != "" {
		list = append(list, q.ask("read in air or liquid", cmp.Or(p.In, q.was.In, "air"), func(s string) error {
			if s != "air" && s != "liquid" {
				return errors.New("write air or liquid")
			}
			p.In = s
			return nil
		}))
	}
	return list
}

// photo is the place of the photo, or none.
func (q *pieceAsked) photo() string {
	if q.Photo.Path == "" {
		return ""
	}
	return q.book.place(q.Photo)
}

func (q *pieceAsked) takePhoto(answer string) (err error) {
	q.Photo = notebook.File{}
	if answer != "" {
		q.Photo, err = q.book.refer(answer)
	}
	return err
}

func rodUseText(u notebook.RodUse) string {
	if u.Before == 0 {
		return u.Rod
	}
	return u.Rod + ": " + u.Before.String() + " to " + u.After.String()
}
