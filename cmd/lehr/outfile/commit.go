package outfile

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"
)

// staleAfter is the age at which a temporary file counts as left behind where
// the system cannot say whether somebody still holds it.
const staleAfter = time.Hour

// temporary are the names that are written before they are renamed.
var temporary = regexp.MustCompile(`^\.lehr-[0-9a-f]{12}\.tmp$`)

// part is a file on its way.
type part struct {
	*output
	temp   *os.File // the new contents, held until they are in place
	backup string   // a second name of the old file, "" if none
	keep   *os.File // holds the backup
	placed bool
}

// Commit writes every file that was put into the set, all or none, and returns
// them in that order. They leave the set. Standard output is left to the caller.
//
// Errors: an *[Error]; its message says what was written nevertheless, if
// anything was.
func (s *Set) Commit() ([]Written, error) {
	var parts []*part
	for _, o := range s.files {
		if !o.ready || o.Name == Stdout {
			continue
		}
		if err := s.look(o); err != nil { // as it is now
			return nil, err
		}
		parts = append(parts, &part{output: o})
	}
	defer func() {
		for _, p := range parts {
			p.clear()
		}
	}()
	var swept []string
	for _, p := range parts {
		if p.stream {
			continue
		}
		if folder := filepath.Dir(p.path); !slices.Contains(swept, folder) {
			sweep(folder)
			swept = append(swept, folder)
		}
		if err := p.write(s); err != nil {
			return nil, err
		}
	}
	for _, p := range parts {
		if p.stream {
			if err := p.pour(); err != nil {
				return nil, s.failed(p.Name, err)
			}
		}
	}
	for i, p := range parts {
		if p.stream {
			continue
		}
		if err := p.put(len(parts) > 1); err != nil {
			return nil, s.takeBack(parts[:i], p, err)
		}
	}
	var out []Written
	for _, p := range parts {
		w := Written{Name: p.Name}
		if p.info != nil && !p.stream {
			w.Replaced = p.info.ModTime()
		}
		out = append(out, w)
	}
	s.files = slices.DeleteFunc(s.files, func(o *output) bool { return o.Name != Stdout })
	return out, nil
}

// write puts the contents beside their place.
func (p *part) write(s *Set) error {
	f, err := create(filepath.Dir(p.path), 0o666)
	if err != nil {
		return s.failed(p.Name, err)
	}
	p.temp = f
	if _, err = f.Write(p.data); err == nil && p.info != nil {
		if kept := keepOwner(f, p.info); kept != nil && !s.Force {
			return &Error{Name: p.Name, Message: "belongs to another user or group, and replacing it would change that", cause: kept,
				hint: "name another file, or add --force to replace it"}
		}
		err = f.Chmod(p.info.Mode().Perm())
	}
	if err == nil {
		err = f.Sync()
	}
	if err != nil {
		return s.failed(p.Name, err)
	}
	return nil
}

// pour writes to a device or a pipe. A pipe that nobody reads is refused, not
// waited for.
func (p *part) pour() error {
	f, err := os.OpenFile(p.path, os.O_WRONLY|noWait, 0)
	if err != nil {
		if p.info.Mode()&fs.ModeNamedPipe != 0 {
			return errors.New("is a pipe that nobody reads")
		}
		return err
	}
	_, err = f.Write(p.data)
	if closed := f.Close(); err == nil {
		err = closed
	}
	return err
}

// put renames the file into its place. With backup set, the old file is kept
// under a second name until clear.
func (p *part) put(backup bool) error {
	was, err := os.Lstat(p.path)
	switch {
	case p.info == nil && err == nil, p.info != nil && (err != nil || !os.SameFile(was, p.info) || !was.ModTime().Equal(p.info.ModTime())):
		return errors.New("changed while this run was writing")
	}
	if p.info != nil && backup {
		name := filepath.Join(filepath.Dir(p.path), tempName())
		if os.Link(p.path, name) == nil {
			p.backup = name
			if p.keep, err = os.Open(name); err == nil {
				hold(p.keep)
			}
		}
	}
	if closeFirst {
		p.temp.Close()
	}
	if err := os.Rename(p.temp.Name(), p.path); err != nil {
		return err
	}
	p.placed = true
	return nil
}

// takeBack undoes the renames before the one that failed, and says what is
// there now.
func (s *Set) takeBack(done []*part, at *part, err error) error {
	var there []string
	for _, p := range done {
		if !p.placed {
			continue
		}
		var back error
		switch {
		case p.info == nil:
			back = os.Remove(p.path)
		case p.backup == "":
			back = errors.New("no backup")
		default:
			if closeFirst && p.keep != nil {
				p.keep.Close()
			}
			if back = os.Rename(p.backup, p.path); back == nil {
				p.backup = ""
			}
		}
		if back != nil {
			there = append(there, p.Name)
		}
	}
	out := s.failed(at.Name, err)
	var e *Error
	errors.As(out, &e)
	switch {
	case len(there) > 0:
		e.Message += fmt.Sprintf("; %s was written, and nothing else", strings.Join(there, " and "))
	case len(done) > 0:
		e.Message += "; nothing was written"
	}
	return e
}

// clear removes what must not stay.
func (p *part) clear() {
	if p.temp != nil {
		if !p.placed {
			if closeFirst {
				p.temp.Close()
			}
			os.Remove(p.temp.Name())
		}
		p.temp.Close()
	}
	if p.keep != nil && closeFirst {
		p.keep.Close()
	}
	if p.backup != "" {
		os.Remove(p.backup)
	}
	if p.keep != nil {
		p.keep.Close()
	}
}

func tempName() string {
	var b [6]byte
	rand.Read(b[:])
	return ".lehr-" + hex.EncodeToString(b[:]) + ".tmp"
}

// create makes a temporary file and holds it, so that another run knows that it
// is in use.
func create(folder string, mode fs.FileMode) (*os.File, error) {
	for range 100 {
		f, err := os.OpenFile(filepath.Join(folder, tempName()), os.O_RDWR|os.O_CREATE|os.O_EXCL, mode)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return nil, err
		}
		if hold(f) != held && isAt(f) {
			return f, nil
		}
		f.Close() // another run took it for a file left behind
	}
	return nil, errors.New("no temporary file can be made")
}

// isAt reports whether an open file still has its name.
func isAt(f *os.File) bool {
	at, err := os.Lstat(f.Name())
	is, err2 := f.Stat()
	return err == nil && err2 == nil && os.SameFile(at, is)
}

// sweep removes the temporary files that a killed run left in a folder. What
// another run holds stays.
func sweep(folder string) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return
	}
	for _, e := range entries {
		if !e.Type().IsRegular() || !temporary.MatchString(e.Name()) {
			continue
		}
		f, err := os.Open(filepath.Join(folder, e.Name()))
		if err != nil {
			continue
		}
		info, err := f.Stat()
		state := hold(f)
		if err == nil && isAt(f) && (state == free || state == unknown && time.Since(info.ModTime()) > staleAfter) {
			if closeFirst {
				f.Close()
			}
			os.Remove(f.Name())
		}
		f.Close()
	}
}

// state is what the system says of a file that one wants to hold.
type state int

const (
	free    state = iota // it was free, and is held now
	held                 // another run holds it
	unknown              // this system or file system cannot say
)
