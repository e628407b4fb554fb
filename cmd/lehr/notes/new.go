package notes

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strings"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/notebook"
	"lehr/anneal/piece"
	"lehr/anneal/polariscope"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/recordfile"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/term"
	"lehr/glass"
	"lehr/glass/gather"
	"lehr/glass/unit"
)

// newNote writes a new firing.
func newNote(ctx context.Context, a *desk.App, b Book, n *Flags, ask bool) error {
	rec, err := draft(a, b, n)
	if err != nil {
		return err
	}
	if ask {
		if err := askNight(ctx, a, b, n, &rec); err != nil {
			return err
		}
	}
	if len(rec.Pieces) == 0 {
		return desk.Usagef(`write --load mixed.toml, or --piece "6 x sphere 2.5in"`, "note: the firing has no pieces")
	}
	if same := notebook.Same(rec.Pieces); same != "" {
		return term.WithHint(fmt.Errorf("note: %s is there twice", same), "put them together with a count, or tell them apart by color or note")
	}
	predict(ctx, a, n, &rec)
	for _, p := range rec.Pieces {
		doubt(a, p)
	}
	path, err := b.create(rec)
	if err != nil {
		return err
	}
	a.Say("wrote " + path)
	return showNote(a, b, filepath.Base(path[:len(path)-len(notebook.Ext)]))
}

// create writes a record under the first name that is free.
func (b Book) create(rec notebook.Record) (path string, err error) {
	text := rec.Text()
	for i := 1; i <= 100; i++ {
		path = filepath.Join(b.dir, notebook.FileName(rec.Date, rec.Kiln, i))
		if err = recordfile.Create(path, text); !errors.Is(err, recordfile.ErrExists) {
			return path, desk.FileError(path, err)
		}
	}
	return "", term.WithHint(desk.FileError(path, err), "a hundred firings of one kiln on one day are there already")
}

// last is the newest record that can be read, or an empty one.
func (b Book) last() notebook.Record {
	names, _ := b.names()
	for _, name := range names {
		if rec, _, err := b.read(strings.TrimSuffix(name, notebook.Ext)); err == nil {
			return rec
		}
	}
	return notebook.Record{}
}

// draft makes a firing of the flags.
func draft(a *desk.App, b Book, n *Flags) (notebook.Record, error) {
	rec := notebook.Record{Date: session.Now().Truncate(time.Second), Kiln: b.last().Kiln}
	if n.Load != "" && n.Changed("piece") {
		return rec, desk.Usagef("put the piece into the load file, or leave the file out", "note: both --load and --piece")
	}
	if _, err := firingSays(a, b, n, &rec); err != nil {
		return rec, err
	}
	if n.Load != "" {
		if err := takePieces(a, n, &rec, n.Load); err != nil {
			return rec, err
		}
	}
	for _, text := range n.Pieces {
		p, err := piece.Parse(text)
		if err != nil {
			return rec, desk.AsUsage("note: --piece", err)
		}
		rec.Pieces = append(rec.Pieces, notebook.Piece{What: p.What, Count: p.Count, Glass: n.Glass.Name})
	}
	if anyChanged(n.Changed, ofPiece) {
		which, err := whichPieces(n.Which, len(rec.Pieces))
		if err != nil {
			return rec, err
		}
		for _, i := range which {
			if _, err := pieceSays(a, b, n, &rec.Pieces[i-1], i); err != nil {
				return rec, err
			}
		}
	}
	return rec, nil
}

// takePieces takes the pieces of a load over.
func takePieces(a *desk.App, n *Flags, rec *notebook.Record, name string) error {
	load, err := noteLoad(a, n, name)
	if err != nil {
		return err
	}
	rec.Pieces = nil
	for _, p := range load.Pieces {
		rec.Pieces = append(rec.Pieces, notebook.Piece{What: p.What, Count: p.Count, Glass: p.Glass.Name, Note: p.Note})
	}
	return nil
}

func noteLoad(a *desk.App, n *Flags, name string) (*piece.Load, error) {
	load, _, err := flags.ReadLoad(a, "note", &flags.Load{Glass: n.Glass.Name, GlassFile: n.Glass.File, Changed: func(string) bool { return false }}, []string{name})
	return load, err
}

// predict computes what each piece should show under the program, if both load
// and program are named. What cannot be computed is said, and left out.
func predict(ctx context.Context, a *desk.App, n *Flags, rec *notebook.Record) {
	if n.Load == "" || n.Program == "" {
		return
	}
	ctx, stop := desk.Interruptible(ctx)
	defer stop()
	err := func() error {
		load, err := noteLoad(a, n, n.Load)
		if err != nil {
			return err
		}
		st, err := a.ReadStudio()
		if err != nil {
			return err
		}
		var s program.Schedule
		if err := a.ReadAs("note", desk.ScheduleFile, n.Program, func(r io.Reader) (err error) {
			s, err = program.Read(r, desk.ShownName(n.Program))
			return err
		}); err != nil {
			return err
		}
		rep, err := verify.Program(ctx, s, load, st, kiln.Limits{})
		if err != nil {
			return err
		}
		for i, p := range rep.Pieces {
			if at := p.Piece.Shown(); i < len(rec.Pieces) && p.ResidualJudged && at != piece.NotShown {
				worst := float64(p.Retardation / polariscope.Nanometer)
				rec.Pieces[i].Predicted = notebook.Predicted{Nanometers: worst * average(p.ResidualTension), Worst: worst, At: string(at)}
			}
		}
		return nil
	}()
	if err != nil {
		a.Say("what the pieces should show is not computed: " + err.Error())
	}
}

// checkReading refuses a reading that light cannot tell, or that lacks its
// light or order.
func checkReading(text string) error {
	_, err := polariscope.ParseNoted(text)
	return err
}

// doubt says what does not fit together in a piece. It is kept as typed.
func doubt(a *desk.App, p notebook.Piece) {
	meant := p.Size()
	if p.Got > 0 && meant > 0 && math.Abs(float64(p.Got/meant)-1) > 0.2 {
		a.Say(fmt.Sprintf("look again: %s came out as %s", p.What, unit.AsTyped(p.Got)))
	}
	if p.Mass == 0 {
		return
	}
	if _, body, err := gather.ParsePieces(p.What); err == nil {
		if g, err := glass.Find(p.Glass); err == nil && g.Density.Known() {
			if p.Got > 0 {
				body = body.Scaled(float64(p.Got / body.Size()))
			}
			m := unit.Mass(body.Volume * g.Density.Number)
			if off := float64(p.Mass/m) - 1; math.Abs(off) > 0.15 {
				a.Say(fmt.Sprintf("look again: %s of %s weighs %s, written is %s", p.What, g.Name, m.Text(unit.Metric), p.Mass.Text(unit.Metric)))
			}
		}
	}
	if used, ok := p.Used(); ok && used < p.Mass*unit.Mass(p.Count)*0.98 {
		a.Say(fmt.Sprintf("look again: %s of rod cannot make %d of %s", used.Text(unit.Metric), p.Count, p.Mass.Text(unit.Metric)))
	}
}

// average is the tension left in average glass over that in the worst case: a
// piece is expected to show what average glass shows.
func average(left verify.Tension) float64 {
	if left.Worst <= 0 {
		return 1
	}
	return max(0, float64(left.Expected/left.Worst))
}
