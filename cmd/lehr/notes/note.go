package notes

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"lehr/anneal/notebook"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/recordfile"
	"lehr/cmd/lehr/term"
)

// Flags are the flags of lehr note, as typed.
type Flags struct {
	Notebook              *string
	Glass                 *flags.Glass
	Kiln, Date            string
	Load, Program, Log    string
	Opened, OpenedAt      string
	Words, Constant, Lag  string
	Pieces                []string
	Which                 string
	Result, Got, Mass     string
	Rods                  []string
	Color, Crack, Reading string
	In, Photo, Note       string
	Days, Count           int
	Ask, Undo             bool
	Changed               func(string) bool
}

// ofPiece and ofFiring are the flags that say something of a piece, and of the
// firing as a whole.
var (
	ofPiece  = []string{"result", "count", "days", "got", "mass", "rod", "color", "crack", "reading", "in", "photo", "note"}
	ofFiring = []string{"kiln", "date", "load", "program", "log", "opened", "opened-at", "time-constant", "lag", "words"}
)

func anyChanged(changed func(string) bool, flags []string) bool {
	return slices.ContainsFunc(flags, changed)
}

// Note is lehr note: it writes a firing, adds to one, or takes that back.
func Note(ctx context.Context, a *desk.App, n *Flags, args []string) error {
	says := anyChanged(n.Changed, ofPiece) || anyChanged(n.Changed, ofFiring) || n.Changed("piece")
	switch {
	case n.Undo && (says || n.Ask):
		return desk.Usagef("undo first, then write", "note: --undo and something to write")
	case n.Changed("for") && !anyChanged(n.Changed, ofPiece):
		return desk.Usagef(`say what of it: --result, --got, --mass, --rod, --color, --reading, --photo or --note`, "note: --for alone says nothing")
	case n.Changed("count") && !n.Changed("result"):
		return desk.Usagef(`write --count 1 --result "cracked later"`, "note: --count: says of how many a result is, and none is given")
	case n.Changed("days") && n.Days < 1:
		return desk.Usagef("write --days 12", "note: --days %d: must be at least 1", n.Days)
	}
	name := ""
	if len(args) == 1 {
		var err error
		if name, err = nightName("note", args[0]); err != nil {
			return err
		}
	}
	b, err := Open("note", *n.Notebook, !n.Undo && name == "")
	if err != nil {
		return err
	}
	recordfile.Mend(b.dir)
	if n.Undo {
		return undoNote(a, b, name)
	}
	if name != "" {
		if !says && !n.Ask {
			return desk.Usagef("write --result, or ask for what there is to say: --ask", "note: nothing to write")
		}
		return changeNote(a, b, n, name)
	}
	return newNote(ctx, a, b, n, n.Ask || !says)
}

// undoNote takes the last change of a night back, or of the one that was changed
// last.
func undoNote(a *desk.App, b Book, name string) error {
	if name == "" {
		last, err := recordfile.Last(b.dir, notebook.Ext)
		if err != nil {
			return err
		}
		name = strings.TrimSuffix(last, notebook.Ext)
	}
	path := b.path(name)
	if err := b.isNight(name); err != nil {
		return err
	}
	if err := recordfile.Undo(path); err != nil {
		return desk.FileError(path, err)
	}
	a.Say("undone: " + path + "; lehr note --undo brings it back")
	return showNote(a, b, name)
}

// isNight refuses an undo of a file that is a record neither now nor in its former
// text: it lies in the folder, and is not the notebook's.
func (b Book) isNight(name string) error {
	text, err := b.text(name + notebook.Ext)
	if err == nil {
		err = isRecord(text, name)
	}
	if err == nil {
		return nil
	}
	if former, e := recordfile.ReadFormer(b.path(name)); e == nil {
		err = isRecord(former, name)
	}
	return err
}

func isRecord(text []byte, name string) error {
	rec, err := notebook.Read(text, name+notebook.Ext)
	return orNone(&rec, err)
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
func showNote(a *desk.App, b Book, name string) error {
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
	return showNight(a, b, rec, st.Units)
}

// changeNote adds to a firing. What flags say is put into what another run has just
// written, too; questions were asked of what stood there before.
func changeNote(a *desk.App, b Book, n *Flags, name string) (err error) {
	for range 50 {
		if err = changeOnce(a, b, n, name); n.Ask || !errors.Is(err, recordfile.ErrChanged) {
			break
		}
	}
	return err
}

func changeOnce(a *desk.App, b Book, n *Flags, name string) error {
	if n.Changed("piece") {
		return desk.Usagef("write the piece into the file, or begin a new firing", "note: --piece: only for a new firing")
	}
	rec, text, err := b.read(name)
	if err != nil {
		return err
	}
	var changes []notebook.Change
	if n.Ask {
		if changes, err = askChanges(a, b, rec); err != nil {
			return err
		}
	} else {
		if changes, err = firingSays(a, b, n, &rec); err != nil {
			return err
		}
		if anyChanged(n.Changed, ofPiece) {
			which, err := whichPieces(n.Which, len(rec.Pieces))
			if err != nil {
				return err
			}
			for _, i := range which {
				more, err := pieceSays(a, b, n, &rec.Pieces[i-1], i)
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
		doubt(a, p)
	}
	return showNote(a, b, rec.Name)
}
