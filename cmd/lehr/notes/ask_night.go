package notes

import (
	"bufio"
	"context"
	"errors"
	"strconv"
	"strings"

	"lehr/anneal/notebook"
	"lehr/anneal/piece"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/session"
	"lehr/glass/unit"
)

// askNight asks for a new firing. It is one list of questions in their order,
// to which a person may go back.
func askNight(ctx context.Context, a *desk.App, b Book, n *Flags, rec *notebook.Record) error {
	k := &asker{a, ctx, bufio.NewScanner(a.In)}
	a.Prose(0, "Enter takes what is in brackets; - is none; back goes a step back; stop ends without writing.")
	q := newNightQuestions(a, b, n, rec)
	noPieces := len(rec.Pieces) == 0
	return k.run(func() []noteStep {
		list := q.firing()
		if noPieces && rec.Load.Path == "" {
			list = append(list, noteStep{"Pieces, with commas", piecesText(rec.Pieces), q.takePieces})
		}
		for i := range rec.Pieces {
			list = append(list, pieceQuestions(a, b, &rec.Pieces[i], lastLike(q.last, rec.Pieces[i].What), nil)...)
		}
		return list
	})
}

// nightQuestions are those on a firing as a whole, with the files that stand as
// answers so far.
type nightQuestions struct {
	app                *desk.App
	book               Book
	flags              *Flags
	rec                *notebook.Record
	last               notebook.Record // the firing before
	load, program, log string
}

// newNightQuestions proposes the files that the command line names, or else
// load and program of the firing before, if they are still there.
func newNightQuestions(a *desk.App, b Book, n *Flags, rec *notebook.Record) *nightQuestions {
	q := &nightQuestions{app: a, book: b, flags: n, rec: rec, last: b.last(), load: n.Load, program: n.Program, log: n.Log}
	was := func(f notebook.File) string {
		if f.Path == "" || b.state(f) > changed {
			return ""
		}
		return b.place(f)
	}
	if q.load == "" {
		q.load = was(q.last.Load)
	}
	if q.program == "" {
		q.program = was(q.last.Program)
	}
	return q
}

// firing is the list of them.
func (q *nightQuestions) firing() []noteStep {
	rec := q.rec
	return []noteStep{
		{"Kiln", rec.Kiln, func(s string) error { rec.Kiln = s; return nil }},
		{"Program started", rec.Date.Format(minuteForm), q.takeStart},
		{"Load file", q.load, q.takeLoad},
		{"Program file", q.program, func(s string) error {
			q.flags.Program = s
			return q.refer(&rec.Program, &q.program, s)
		}},
		{"Log of the kiln", q.log, func(s string) error { return q.refer(&rec.Log, &q.log, s) }},
		{"Opened at a reading of", tempOr(rec.At), func(s string) (err error) {
			rec.At, err = orZero(s, unit.ParseTemp)
			return err
		}},
		{"Words on the firing", rec.Words, func(s string) error { rec.Words = s; return nil }},
	}
}

// refer takes the name of a file, or none.
func (q *nightQuestions) refer(into *notebook.File, name *string, answer string) (err error) {
	if *name = answer; answer == "" {
		*into = notebook.File{}
		return nil
	}
	*into, err = q.book.refer(answer)
	return err
}

// takeStart takes the day and minute at which the program started.
func (q *nightQuestions) takeStart(answer string) error {
	if answer == q.rec.Date.Format(minuteForm) {
		return nil // with its seconds
	}
	day, err := parseDay(answer)
	if err != nil {
		return err
	}
	if err := notebook.CheckDate(day, session.Now()); err != nil {
		return err
	}
	q.rec.Date = day
	return nil
}

// takeLoad takes the load file and, if it is another one than the command line
// named, its pieces.
func (q *nightQuestions) takeLoad(answer string) error {
	known := q.flags.Load == answer && len(q.rec.Pieces) > 0
	if err := q.refer(&q.rec.Load, &q.load, answer); err != nil || answer == "" || known {
		return err
	}
	q.flags.Load = answer
	return takePieces(q.app, q.flags, q.rec, answer)
}

// takePieces takes the pieces of a firing that has no load file.
func (q *nightQuestions) takePieces(answer string) error {
	q.rec.Pieces = nil
	for _, text := range flags.Commas(answer) {
		p, err := piece.Parse(text)
		if err != nil {
			return err
		}
		q.rec.Pieces = append(q.rec.Pieces, notebook.Piece{What: p.What, Count: p.Count, Glass: q.flags.Glass.Name})
	}
	if len(q.rec.Pieces) == 0 {
		return errors.New("a firing has pieces")
	}
	return nil
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
