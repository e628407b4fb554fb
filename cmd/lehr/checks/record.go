package checks

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/term"
	"lehr/glass/strict"
	"lehr/safety/checklist"
)

// recordName returns the file a record goes to: the one named, or a dated one
// in the folder named. It refuses a file that exists and a folder that does
// not, before anybody has answered a line.
func recordName(name string, at time.Time) (string, error) {
	dated := "safety-" + at.Format("2006-01-02-1504") + ".toml"
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		name = filepath.Join(name, dated)
	}
	switch _, err := os.Lstat(name); {
	case err == nil:
		return "", taken(name, at)
	case !errors.Is(err, os.ErrNotExist):
		return "", desk.FileError(name, err)
	}
	folder := filepath.Dir(name)
	info, err := os.Stat(folder)
	if err != nil {
		return "", desk.FileError(folder, err)
	}
	if !info.IsDir() {
		return "", desk.FileError(folder, errors.New("is no folder"))
	}
	return name, nil
}

// taken refuses to write over an earlier record.
func taken(name string, at time.Time) error {
	dated := filepath.Join(filepath.Dir(name), "safety-"+at.Format("2006-01-02-150405")+".toml")
	return term.WithHint(fmt.Errorf("%s: exists, and a record is never written over", name), "name another file, such as "+dated+"; an unfinished run goes on with --resume")
}

// save keeps the run as it stands, all or nothing, after every answer. If it
// cannot, the record is printed, so that the answers are not lost.
func (k *asking) save() error {
	if k.record == "" {
		return nil
	}
	var buf bytes.Buffer
	if err := k.session.Record(session.Now()).WriteTOML(&buf); err != nil {
		return err
	}
	f := outfile.File{Flag: "--record", Name: k.record, Kind: outfile.TOML, What: "record", Keep: true, Was: k.was}
	err := k.app.Files.Put(f, buf.Bytes())
	if err == nil {
		_, err = k.app.Files.Commit()
	}
	k.was = buf.String()
	if err != nil {
		k.app.Print("\n" + buf.String())
		if flush := k.app.Flush(); flush != nil {
			return flush
		}
	}
	return err
}

// pastRecord is a record as its file holds it.
type pastRecord struct {
	Time     string            `toml:"time"`
	List     string            `toml:"list"`
	Points   []string          `toml:"points"`
	Finished bool              `toml:"finished"`
	Open     []string          `toml:"open"`
	Facts    map[string]string `toml:"facts"`
	Line     []pastLine        `toml:"line"`
}

type pastLine struct {
	ID      string `toml:"id"`
	At      string `toml:"at"`
	Time    string `toml:"time"`
	Signal  string `toml:"signal"`
	Words   string `toml:"words"`
	Answer  string `toml:"answer"`
	Said    string `toml:"said"`
	Reason  string `toml:"reason"`
	Fault   bool   `toml:"fault"`
	Because string `toml:"shown_because"`
}

// resume prepares the run whose record is in a file: with the facts of now,
// and the answers that still count.
func (k *asking) resume(name string, f checklist.Facts) error {
	var old pastRecord
	err := k.app.ReadAs("safety", desk.RecordFile, name, func(r io.Reader) error {
		var text strings.Builder
		_, err := strict.Decode(io.TeeReader(r, &text), desk.ShownName(name), &old)
		k.was = text.String()
		return err
	})
	if err != nil {
		return err
	}
	if name == "-" || len(old.Points) == 0 {
		return desk.Usagef("name the file that --record wrote", "safety: --resume: %s holds no run", desk.ShownName(name))
	}
	var points []checklist.Point
	for _, word := range old.Points {
		p, err := checklist.ParsePoint(word)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		points = append(points, p)
	}
	if old.List != checklist.Version {
		return term.WithHint(fmt.Errorf("%s: was made with the list of %s, and this is the list of %s", name, term.Clean(old.List), checklist.Version), "begin again: lehr safety --record FILE")
	}
	var past []checklist.Past
	for _, l := range old.Line {
		at, err := time.Parse(time.RFC3339, l.Time)
		if err != nil {
			return fmt.Errorf("%s: line %s: time %q: is no time", name, term.Clean(l.ID), term.Clean(l.Time))
		}
		past = append(past, checklist.Past{ID: l.ID, Words: l.Words, Answer: l.Answer, Said: l.Said, At: at})
	}
	k.session = f.Session(points...)
	took := k.session.Resume(past, session.Now())
	open := len(k.session.Open())
	k.record, k.next = name, slices.Equal(points, checklist.Lighting())
	k.app.Prose(0, fmt.Sprintf("Resumed: %d of %d answers still count, %d lines are asked.", took, len(old.Line), open))
	for _, s := range changed(old.Facts, f) {
		k.app.Item("- ", s)
	}
	return nil
}

// changed says which facts are not as in the record.
func changed(old map[string]string, f checklist.Facts) (out []string) {
	given := map[string]string{}
	for _, g := range f.Given() {
		given[g.Name] = g.Value
	}
	for _, x := range checklist.Names() {
		was, is := term.Clean(old[x.Name]), given[x.Name]
		switch {
		case was == is:
		case is == "":
			out = append(out, x.Name+" was "+was+" in the record and is not given now")
		case was == "":
			out = append(out, x.Name+" was not given in the record and is "+is)
		default:
			out = append(out, x.Name+" was "+was+" in the record and is "+is)
		}
	}
	return out
}
