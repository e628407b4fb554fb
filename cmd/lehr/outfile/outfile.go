// Package outfile writes the files of one run by one rule, so that no run eats
// a file:
//
//   - A file that the run reads is never written, whatever it is called: links
//     are followed, and files are compared, not names. No flag changes that.
//   - A file that is there and that this program did not write, or that somebody
//     has changed since, is refused unless [Set.Force] is set. What this program
//     wrote carries a mark (see [Kind]); it is replaced.
//   - A file that a run keeps up to date ([File.Was]) is replaced by that run while
//     it holds, byte for byte, what the run last read or wrote there.
//   - Two outputs never share a path.
//   - All files of a run appear, or none does. Every file is first written beside
//     its place under a name of its own and synced, then all are renamed. If a
//     rename fails, those before it are taken back.
//   - A file keeps its permissions, its owner and its group when it is replaced; a
//     new one has those that the umask leaves. A symbolic link stays, and the file
//     it points to is replaced; one that points to nothing is refused. A file with
//     a second name (a hard link), and one whose owner cannot be kept, is refused
//     unless Force is set: replacing it would part the names or change the owner.
//   - A run that is killed leaves at most files called .lehr-XXXXXXXXXXXX.tmp, and
//     the next run that writes into the same folder removes them. Between the
//     renames themselves, some microseconds, a kill can leave some files new and
//     others as they were; each is whole.
//
// Devices and pipes that are named as an output are written to, as there is
// nothing to replace; block devices and sockets are refused.
//
// The package prints nothing and knows nothing of glass.
package outfile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// Stdout is the name of standard output, for each output.
const Stdout = "-"

// File is one output of a run.
type File struct {
	Flag string // what named it, for messages: "--svg"; may be empty
	Name string // the path as typed, or Stdout
	Kind Kind
	What string // what it is, such as "program"; one is not replaced by another
	Keep bool   // never replaced, not even with Force and not even if unchanged
	Was  string // of a file to keep: what it holds by this run itself, which writes it anew as it goes on; "" if it must not be there
}

// Written is a file that was written.
type Written struct {
	Name     string
	Replaced time.Time // when the file it replaced was written; zero if there was none
}

// Error says why a file is not written. The message begins with its name.
type Error struct {
	Name    string
	Message string
	Usage   bool // the command line asks for what cannot be
	hint    string
	cause   error
}

func (e *Error) Error() string { return e.Name + ": " + e.Message }

// ErrTwice says that the program has two contents for one file.
var ErrTwice = errors.New("would be written twice")

// Hint returns one thing to do, or "".
func (e *Error) Hint() string { return e.hint }

// Unwrap returns the error of the file system, or nil.
func (e *Error) Unwrap() error { return e.cause }

// Set is the inputs and outputs of one run. The zero value is ready for use.
type Set struct {
	Force bool // replace what is there, except what the run reads

	inputs []place
	files  []*output
}

// place is a file by its path and, if it exists, by itself.
type place struct {
	name string // as typed
	path string // absolute, links resolved as far as they lead somewhere
	info fs.FileInfo
}

// output is a claimed file, and what is known of its place.
type output struct {
	File
	place
	stream bool // a device or a pipe: nothing to replace
	ready  bool // Put was called
	data   []byte
}

// Input tells the set that the run reads this file; info is that of the open
// file, or nil. Call it before the file is read.
func (s *Set) Input(name string, info fs.FileInfo) {
	p := placeOf(name)
	if info != nil {
		p.info = info
	}
	s.inputs = append(s.inputs, p)
}

// Claim checks that a file can be written and keeps its path for it, before any
// long work is done. Claiming a file again changes nothing.
//
// Errors: an *[Error], for each condition of the package comment.
func (s *Set) Claim(f File) error {
	for _, o := range s.files {
		if o.File == f {
			return nil
		}
	}
	o := &output{File: f}
	if err := s.look(o); err != nil {
		return err
	}
	s.files = append(s.files, o)
	return nil
}

// Put hands over the contents of a file, once; [Set.Commit] writes them. The mark is
// added to them, unless the file is one to keep.
//
// Errors: those of [Set.Claim], and [ErrTwice], which is a fault of the program.
func (s *Set) Put(f File, data []byte) error {
	if err := s.Claim(f); err != nil {
		return err
	}
	for _, o := range s.files {
		if o.File == f {
			if o.ready {
				return fmt.Errorf("%s: %w", f.Name, ErrTwice)
			}
			if o.data, o.ready = data, true; !f.Keep {
				o.data = f.Kind.mark(f.What, data)
			}
		}
	}
	return nil
}

// ToStdout reports whether an output goes to standard output; data is nil until
// Put was called for it.
func (s *Set) ToStdout() (data []byte, claimed bool) {
	for _, o := range s.files {
		if o.Name == Stdout {
			return o.data, true
		}
	}
	return nil, false
}

// look examines the place of a file and refuses what must not be written, for
// the first reason in the order in which they matter.
func (s *Set) look(o *output) error {
	if o.Name != Stdout {
		if err := s.locate(o); err != nil {
			return err
		}
	}
	o.stream = o.info != nil && !o.info.Mode().IsRegular()
	if err := s.meets(o); err != nil {
		return err
	}
	if o.info == nil {
		return nil
	}
	return s.mayReplace(o)
}

// refuse is the error of an output that must not be written.
func (o *output) refuse(hint, format string, args ...any) error {
	return &Error{Name: o.Name, Message: fmt.Sprintf(format, args...), hint: hint}
}

// locate finds the place of an output, and refuses one that leads nowhere.
func (s *Set) locate(o *output) error {
	if folder := filepath.Dir(o.Name); folder != "." {
		if _, err := os.Stat(folder); errors.Is(err, fs.ErrNotExist) {
			return o.refuse("", "no such folder %s", folder)
		}
	}
	if link, err := os.Lstat(o.Name); err == nil && link.Mode()&fs.ModeSymlink != 0 {
		if _, err := os.Stat(o.Name); errors.Is(err, fs.ErrNotExist) {
			return o.refuse("name the file that it should point to", "is a link to nothing")
		}
	}
	o.place = placeOf(o.Name)
	if o.info == nil {
		if _, err := os.Stat(o.Name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return s.failed(o.Name, err)
		}
	}
	return nil
}

// meets refuses an output that is an input of the run, or another output.
func (s *Set) meets(o *output) error {
	toFile := o.Name != Stdout
	for _, in := range s.inputs {
		if toFile && o.same(in) && !o.isCharDevice() && !(o.Keep && o.Was != "") {
			return &Error{Name: o.Name, Usage: true, Message: "is read by this run, and is not written over", hint: "name another file"}
		}
	}
	for _, other := range s.files {
		if other.File == o.File || (other.Name != Stdout) != toFile {
			continue
		}
		if !toFile || o.same(other.place) && !o.isCharDevice() {
			return &Error{Name: o.Name, Usage: true, Message: fmt.Sprintf("%s and %s both write there", other.Flag, o.Flag), hint: "name two files"}
		}
	}
	return nil
}

// mayReplace refuses what stands in the place of an output and is not to be
// replaced: no file, a file that is kept, or one that this program did not write.
func (s *Set) mayReplace(o *output) error {
	switch mode := o.info.Mode(); {
	case mode.IsDir():
		return o.refuse("name a file in it", "is a directory")
	case mode&fs.ModeSocket != 0, mode&fs.ModeDevice != 0 && mode&fs.ModeCharDevice == 0, mode&fs.ModeIrregular != 0:
		return o.refuse("name a file", "is no file, and nothing is written over it")
	case o.stream:
		return nil
	case mode.Perm()&0o200 == 0:
		return o.refuse("", "is write-protected")
	case o.Keep && o.Was != "":
		if data, err := os.ReadFile(o.path); err != nil || string(data) != o.Was {
			return o.refuse("name another file", "was changed by somebody else while this run was going on")
		}
		return nil
	case o.Keep:
		return o.refuse("name another file", "exists, and a %s is never written over", o.What)
	case s.Force:
		return nil
	}
	force := "name another file, or add --force to replace it"
	if why := o.Kind.foreign(o.What, o.path, o.info.Size()); why != "" {
		return o.refuse(force, "%s", why)
	}
	if links(o.info) > 1 {
		sweep(filepath.Dir(o.path)) // a killed run may have left the second name
		if info, err := os.Stat(o.path); err == nil {
			o.info = info
		}
	}
	if links(o.info) > 1 {
		return o.refuse(force, "has a second name (a hard link), and replacing it would part them")
	}
	return nil
}

// isCharDevice reports whether the place is a terminal, /dev/null or the like.
func (o *output) isCharDevice() bool {
	return o.info != nil && o.info.Mode()&fs.ModeCharDevice != 0
}

// same reports whether two places are one file.
func (p place) same(q place) bool {
	return p.path == q.path && p.path != "" || p.info != nil && q.info != nil && os.SameFile(p.info, q.info)
}

// placeOf finds out where a path leads.
func placeOf(name string) place {
	p := place{name: name, path: filepath.Clean(name)}
	if abs, err := filepath.Abs(name); err == nil {
		p.path = abs
	}
	if real, err := filepath.EvalSymlinks(p.path); err == nil {
		p.path = real
	} else if folder, err := filepath.EvalSymlinks(filepath.Dir(p.path)); err == nil {
		p.path = filepath.Join(folder, filepath.Base(p.path))
	}
	if info, err := os.Stat(name); err == nil {
		p.info = info
	}
	return p
}

// failed is an error of the file system at a file.
func (s *Set) failed(name string, err error) error {
	why := err
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		why = path.Err
	case errors.As(err, &link):
		why = link.Err
	}
	return &Error{Name: name, Message: why.Error(), cause: why}
}

// String says what was written: "wrote a.svg, replaced the one of 22:04".
func (w Written) String() string { return w.text(time.Now()) }

func (w Written) text(now time.Time) string {
	text := "wrote " + w.Name
	if w.Replaced.IsZero() {
		return text
	}
	at, day := w.Replaced.Local(), "2006-01-02"
	if at.Format(day) == now.Local().Format(day) {
		return text + ", replaced the one of " + at.Format("15:04")
	}
	return text + ", replaced the one of " + strings.TrimSpace(at.Format(day+" 15:04"))
}
