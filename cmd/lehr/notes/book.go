// Package notes keeps the notebook at the desk: it writes a firing down by flags or
// questions, finds nights and compares them, and says what they tell of a kiln. The
// records themselves are of package notebook, and their files of recordfile.
package notes

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"lehr/anneal/notebook"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/recordfile"
	"lehr/cmd/lehr/term"
)

// DefaultName is the folder that is used when it lies in the current folder.
const DefaultName = "notebook"

// AddFlag adds the flag that names the folder.
func AddFlag(c *cobra.Command) *string {
	dir := new(string)
	c.Flags().StringVar(dir, "notebook", "", "`folder` of the notebook (default: ./notebook if it exists)")
	return dir
}

// Book is the folder of a notebook.
type Book struct{ dir string }

// Open returns the notebook that was named, or the one in the current
// folder. It is an error if there is none; make says that a named one is to be
// made then.
func Open(cmd, dir string, make bool) (Book, error) {
	named := dir != ""
	if !named {
		dir = DefaultName
	}
	info, err := os.Stat(dir)
	switch {
	case err == nil && !info.IsDir():
		return Book{}, desk.FileError(dir, errors.New("is no folder"))
	case err == nil:
		return Book{dir}, nil
	case !errors.Is(err, fs.ErrNotExist):
		return Book{}, desk.FileError(dir, err)
	case !named:
		return Book{}, desk.Usagef("write --notebook "+DefaultName+"; lehr note makes the folder", "%s: no notebook here", cmd)
	case !make:
		return Book{}, term.WithHint(fmt.Errorf("%s: no such folder", dir), "lehr note makes it with the first firing")
	}
	if err := os.Mkdir(dir, 0o755); err != nil {
		return Book{}, desk.FileError(dir, err)
	}
	return Book{dir}, nil
}

// nightName returns the name of a night without the ending of its file. A night is
// a bare name: what would lead out of the folder, or to a hidden file, is refused.
func nightName(cmd, name string) (string, error) {
	bare := strings.TrimSuffix(name, notebook.Ext)
	if bare == "" || bare[0] == '.' || strings.ContainsAny(bare, `/\:`) || strings.Contains(bare, "..") || strings.ContainsFunc(bare, unicode.IsControl) {
		return "", desk.Usagef("write its name alone, as lehr find lists it: 2026-11-25-big", "%s: %q is no name of a night", cmd, name)
	}
	return bare, nil
}

// path returns the file of a record by its name without the ending.
func (b Book) path(name string) string { return filepath.Join(b.dir, name+notebook.Ext) }

// names lists the records, the newest name first.
func (b Book) names() ([]string, error) {
	names, err := recordfile.List(b.dir, notebook.Ext)
	if err != nil {
		return nil, desk.FileError(b.dir, err)
	}
	slices.Reverse(names)
	return names, nil
}

// text reads the file of a record.
func (b Book) text(name string) ([]byte, error) {
	text, err := recordfile.Read(filepath.Join(b.dir, name))
	if err != nil {
		return nil, desk.FileError(filepath.Join(b.dir, name), err)
	}
	return text, nil
}

// read reads one record by its name without the ending.
func (b Book) read(name string) (notebook.Record, []byte, error) {
	file := name + notebook.Ext
	text, err := b.text(file)
	if err != nil {
		if _, e := os.Stat(b.path(name)); errors.Is(e, fs.ErrNotExist) {
			return notebook.Record{}, nil, term.WithHint(fmt.Errorf("%s: no such night in %s", name, b.dir), "list them with: lehr find")
		}
		return notebook.Record{}, nil, err
	}
	rec, err := notebook.Read(text, file)
	return rec, text, orNone(&rec, err)
}

// orNone passes on why a file cannot be read as a record, or why it is none: another
// file that lies in the folder, such as a load, has neither day nor kiln.
func orNone(rec *notebook.Record, err error) error {
	if err == nil && rec.Date.IsZero() && rec.Kiln == "" {
		return term.WithHint(errors.New(rec.Name+notebook.Ext+": is no record of a firing"), "a record has a date or a kiln")
	}
	return err
}

// find returns the records with pieces that are looked for, the newest first,
// and at most most of them if that is above zero. more says that others were
// not read. A record that cannot be read is told of, and passed over.
func (b Book) find(a *desk.App, q notebook.Query, most int) (hits []notebook.Hit, more int, err error) {
	names, err := b.names()
	if err != nil {
		return nil, 0, err
	}
	for i, name := range names {
		text, err := b.text(name)
		if err != nil {
			a.Say("passed over: " + err.Error())
			continue
		}
		if !q.Maybe(name, text) {
			continue
		}
		rec, err := notebook.Read(text, name)
		if err = orNone(&rec, err); err != nil {
			a.Say("passed over: " + err.Error())
			continue
		}
		if pieces := q.Match(rec); len(pieces) > 0 {
			if most > 0 && len(hits) == most {
				return hits, len(names) - i, nil
			}
			hits = append(hits, notebook.Hit{Record: rec, Pieces: pieces})
		}
	}
	return hits, 0, nil
}

// All returns every record.
func (b Book) All(a *desk.App) ([]notebook.Record, error) {
	names, err := b.names()
	if err != nil {
		return nil, err
	}
	var out []notebook.Record
	for _, name := range names {
		rec, _, err := b.read(strings.TrimSuffix(name, notebook.Ext))
		if err != nil {
			a.Say("passed over: " + err.Error())
			continue
		}
		out = append(out, rec)
	}
	return out, nil
}

// refer returns how a record refers to a file: by its path from the folder of
// the notebook, and by what it holds now.
func (b Book) refer(name string) (notebook.File, error) {
	sum, err := sumOf(name)
	if err != nil {
		return notebook.File{}, desk.FileError(name, err)
	}
	from, err := filepath.Abs(b.dir)
	if err != nil {
		return notebook.File{}, desk.FileError(b.dir, err)
	}
	to, err := filepath.Abs(name)
	if err != nil {
		return notebook.File{}, desk.FileError(name, err)
	}
	rel, err := filepath.Rel(from, to)
	if err != nil {
		return notebook.File{}, term.WithHint(fmt.Errorf("%s: has no path from %s", name, b.dir), "put it on the same disk as the notebook")
	}
	return notebook.File{Path: filepath.ToSlash(rel), SHA256: sum}, nil
}

// sumOf returns the SHA-256 of what a file holds, however much that is.
func sumOf(name string) (string, error) {
	f, err := outfile.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// fileState is what became of a file that a record refers to.
type fileState int

const (
	asNoted fileState = iota // or nothing is noted of it
	changed
	gone
	noFile // any more
)

func (s fileState) String() string {
	return [...]string{"", "changed since", "is gone", outfile.ErrIrregular.Error()}[s]
}

// state finds out what became of a file that a record refers to.
func (b Book) state(f notebook.File) fileState {
	if f.Path == "" {
		return asNoted
	}
	if info, err := os.Stat(b.place(f)); err == nil && !info.Mode().IsRegular() {
		return noFile
	}
	if f.SHA256 == "" {
		return asNoted
	}
	switch sum, err := sumOf(b.place(f)); {
	case err != nil:
		return gone
	case sum != f.SHA256:
		return changed
	}
	return asNoted
}

// place returns where a file that a record refers to lies, from here.
func (b Book) place(f notebook.File) string {
	if filepath.IsAbs(filepath.FromSlash(f.Path)) {
		return filepath.FromSlash(f.Path)
	}
	return filepath.Join(b.dir, filepath.FromSlash(f.Path))
}
