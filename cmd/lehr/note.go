package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"lehr/anneal/notebook"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/recordfile"
	"lehr/cmd/lehr/term"
)

// noteFlags are the flags of lehr note, as typed.
type noteFlags struct {
	notebook              *string
	glass                 *flags.Glass
	kiln, date            string
	load, program, log    string
	opened, openedAt      string
	words, constant, lag  string
	pieces                []string
	which                 string
	result, got, mass     string
	rods                  []string
	color, crack, reading string
	in, photo, note       string
	days                  int
	ask, undo             bool
	changed               func(string) bool
}

func newNoteCommand(a *app) *cobra.Command {
	n := &noteFlags{}
	c := &cobra.Command{
		Use:   "note [<night>] [flags]",
		Short: "Write down a firing, or how a piece came out",
		Long: `Writes one plain TOML file a firing into the folder of the notebook, named by date and kiln: 2026-11-25-big.toml. Read it, mend it, put it under version control; keys of your own are kept. Load, program, log and photo are named by their path from the folder and their SHA-256, so that a later change of them shows.

Without a night it writes a new firing: by flags, or with --ask (or no flag at all) by questions, with last time's answers to take over. With a night it adds to that one; --for says to which piece.

Results: whole, cracked in kiln, cracked later (with --days), cracked at torch, checked, stress seen, remelted. Say of a crack where it starts: at a color (mismatch), at a mark (handling) or in the middle (annealing).

The former text is kept beside a changed file; --undo brings it back, and a second --undo the new one. A file that another hand changes meanwhile is not overwritten.`,
		Example: `lehr note --notebook book --load mixed.toml --program tonight.toml --kiln big
lehr note 2026-11-25-big --for 1 --result "cracked later" --days 12
lehr note 2026-11-25-big --for 2 --mass 37.2g --rod "19mm clear: 820g to 262g"
lehr note --undo
lehr note --ask`,
		Args:        atMost(1),
		Annotations: withJSON(),
	}
	c.RunE = func(c *cobra.Command, args []string) error { return a.runNote(c.Context(), n, args) }
	f := c.Flags()
	n.changed = f.Changed
	n.notebook = addNotebookFlag(c)
	f.StringVar(&n.kiln, "kiln", "", "`name` of the kiln (default: last time's)")
	f.StringVar(&n.date, "date", "", "`time` at which the program started, such as \"2026-11-25 22:15\" (default: now)")
	f.StringVar(&n.load, "load", "", "the load, `load.toml`: its pieces are taken over")
	f.StringVar(&n.program, "program", "", "the program, `schedule.toml`: with the load, what each piece should show is computed and kept")
	f.StringVar(&n.log, "log", "", "the kiln's log, `night.csv`")
	f.StringArrayVar(&n.pieces, "piece", nil, "a kind of `piece`, repeatable, when there is no load file: \"6 x sphere 2.5in\"")
	n.glass = flags.AddGlass(c)
	f.StringVar(&n.opened, "opened", "", "`time` at which the kiln was opened")
	f.StringVar(&n.openedAt, "opened-at", "", "`temperature` it read then")
	f.StringVar(&n.constant, "time-constant", "", "time `constant` of its natural fall, as fitted from the log")
	f.StringVar(&n.lag, "lag", "", "greatest `lag` behind the program in the log, such as 4K")
	f.StringVar(&n.words, "words", "", "free `words` on the firing")
	f.StringVar(&n.which, "for", "", "`number` of the piece that the following are of, or all (default: the only one)")
	f.StringVar(&n.result, "result", "", "how it came out, in `words` as above")
	f.IntVar(&n.days, "days", 0, "days until it cracked")
	f.StringVar(&n.got, "got", "", "`size` that came out")
	f.StringVar(&n.mass, "mass", "", "`mass` of one piece")
	f.StringArrayVar(&n.rods, "rod", nil, "what was taken of a `rod` for all of the kind, repeatable: \"19mm clear: 820g to 262g\"")
	f.StringVar(&n.color, "color", "", "`colors`, with commas: \"cobalt, clear\"")
	f.StringVar(&n.crack, "crack", "", "where a crack starts, in `words`")
	f.StringVar(&n.reading, "reading", "", "what the polariscope showed, a `reading`: \"60 nm\", \"20 deg at 546nm\", \"sky blue order 2\"")
	f.Var(flags.OneOf(&n.in, "air|liquid"), "in", "what the piece was read in")
	f.StringVar(&n.photo, "photo", "", "a photo, `file`")
	f.StringVar(&n.note, "note", "", "free `words` on the piece")
	f.BoolVar(&n.ask, "ask", false, "ask for each thing; Enter takes what is in brackets, back goes a step back")
	f.BoolVar(&n.undo, "undo", false, "bring back the text before the last change, of the night named or of the last changed")
	return c
}

// ofPiece and ofFiring are the flags that say something of a piece, and of the
// firing as a whole.
var (
	ofPiece  = []string{"result", "days", "got", "mass", "rod", "color", "crack", "reading", "in", "photo", "note"}
	ofFiring = []string{"kiln", "date", "load", "program", "log", "opened", "opened-at", "time-constant", "lag", "words"}
)

func anyChanged(changed func(string) bool, flags []string) bool {
	for _, f := range flags {
		if changed(f) {
			return true
		}
	}
	return false
}

func (a *app) runNote(ctx context.Context, n *noteFlags, args []string) error {
	says := anyChanged(n.changed, ofPiece) || anyChanged(n.changed, ofFiring) || n.changed("piece")
	switch {
	case n.undo && (says || n.ask):
		return desk.Usagef("undo first, then write", "note: --undo and something to write")
	case n.changed("for") && !anyChanged(n.changed, ofPiece):
		return desk.Usagef(`say what of it: --result, --got, --mass, --rod, --color, --reading, --photo or --note`, "note: --for alone says nothing")
	case n.changed("days") && n.days < 1:
		return desk.Usagef("write --days 12", "note: --days %d: must be at least 1", n.days)
	}
	b, err := openBook("note", *n.notebook, !n.undo && len(args) == 0)
	if err != nil {
		return err
	}
	recordfile.Mend(b.dir)
	if n.undo {
		return a.undoNote(b, args)
	}
	if len(args) == 1 {
		if !says && !n.ask {
			return desk.Usagef("write --result, or ask for what there is to say: --ask", "note: nothing to write")
		}
		return a.changeNote(b, n, args[0])
	}
	return a.newNote(ctx, b, n, n.ask || !says)
}

func (a *app) undoNote(b book, args []string) error {
	name := ""
	if len(args) == 1 {
		name = strings.TrimSuffix(args[0], notebook.Ext) + notebook.Ext
	} else {
		var err error
		if name, err = recordfile.Last(b.dir, notebook.Ext); err != nil {
			return err
		}
	}
	path := b.path(name)
	if err := recordfile.Undo(path); err != nil {
		return desk.FileError(path, err)
	}
	a.Say("undone: " + path + "; lehr note --undo brings it back")
	return a.showNote(b, strings.TrimSuffix(name, notebook.Ext))
}

// noteJSON says what was written.
type noteJSON struct {
	Night  string   `json:"night"`
	File   string   `json:"file"`
	Pieces int      `json:"pieces"`
	Kept   []string `json:"kept_keys"`
	Gone   bool     `json:"put_aside"`
}

// showNote prints what a record holds now.
func (a *app) showNote(b book, name string) error {
	rec, _, err := b.read(name)
	if err != nil {
		if _, e := b.text(name + notebook.Ext); e != nil { // an undo put it aside
			if a.JSON {
				return a.PrintJSON(noteJSON{Night: name, File: b.path(name), Gone: true, Kept: []string{}})
			}
			a.Print(name + ": put aside\n")
			return nil
		}
		return err
	}
	if a.JSON {
		return a.PrintJSON(noteJSON{Night: rec.Name, File: b.path(name), Pieces: len(rec.Pieces), Kept: append([]string{}, rec.Unknown...)})
	}
	st, err := a.LocalStudio()
	if err != nil {
		return err
	}
	return a.showNight(b, rec, st.Units)
}

// changeNote adds to a firing.
func (a *app) changeNote(b book, n *noteFlags, name string) error {
	if n.changed("piece") {
		return desk.Usagef("write the piece into the file, or begin a new firing", "note: --piece: only for a new firing")
	}
	rec, text, err := b.read(name)
	if err != nil {
		return err
	}
	var changes []notebook.Change
	if n.ask {
		if changes, err = a.askChanges(b, rec); err != nil {
			return err
		}
	} else {
		if changes, err = a.firingSays(b, n, &rec); err != nil {
			return err
		}
		if anyChanged(n.changed, ofPiece) {
			which, err := whichPieces(n.which, len(rec.Pieces))
			if err != nil {
				return err
			}
			for _, i := range which {
				more, err := a.pieceSays(b, n, &rec.Pieces[i-1], i)
				if err != nil {
					return err
				}
				changes = append(changes, more...)
			}
		}
	}
	path := b.path(name)
	changed, err := notebook.Edit(text, filepath.Base(path), changes)
	if err != nil {
		return err
	}
	if err := recordfile.Replace(path, text, changed); err != nil {
		if errors.Is(err, recordfile.ErrChanged) {
			return term.WithHint(fmt.Errorf("%s: %w", path, err), "nothing was written; look at it, and write again")
		}
		return desk.FileError(path, err)
	}
	a.Say("changed " + path + "; lehr note --undo takes it back")
	for _, p := range rec.Pieces {
		a.doubt(p)
	}
	return a.showNote(b, rec.Name)
}
