// Package recordfile keeps the files of a notebook so that nothing is lost and
// nothing is half, whenever the power fails: a new file appears whole or not at
// all and never in place of another; a changed file is replaced whole, with its
// former text beside it; and one step can be undone, and done again.
//
// Runs that write into one notebook at a time wait for each other: of two that have
// read the same text and change it, the second is told.
//
// A symbolic link that stands for a file stays: what it points to is replaced, with
// its former text beside that.
//
// It knows bytes, not records.
package recordfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"lehr/cmd/lehr/outfile"
	"lehr/glass/strict"
)

// Former is the ending of the text that a file had before its last change, and
// redo that of the text that an undo puts aside for a moment.
const (
	Former = ".1"
	redo   = ".redo"
)

// The errors that a caller may want to tell apart.
var (
	ErrExists  = errors.New("exists")
	ErrChanged = errors.New("was changed by another hand since it was read")
	ErrNothing = errors.New("has nothing to undo")
)

var errLarge = errors.New("is larger than 1 MiB, the most that is read")

// temporary marks files that are being written.
const temporary = ".tmp"

// stale is how old a temporary file must be to be one that a crash left.
const stale = time.Hour

// Create writes a new file. Errors: [ErrExists] when there is one of that name,
// and those of the file system; the folder is as before then.
func Create(path string, data []byte) error {
	release, err := outfile.Lock(filepath.Dir(path))
	if err != nil {
		return err
	}
	defer release()
	mend(path)
	temp, err := write(path, data, 0o644)
	if err != nil {
		return err
	}
	defer os.Remove(temp)
	// A link takes a name only if nobody has it. Where there are no links, look
	// and rename.
	err = os.Link(temp, path)
	switch {
	case err == nil:
	case errors.Is(err, fs.ErrExist):
		return ErrExists
	default:
		if _, err := os.Lstat(path); err == nil {
			return ErrExists
		}
		if err := os.Rename(temp, path); err != nil {
			return err
		}
	}
	return syncFolder(path)
}

// Replace puts data in the place of a file, and its former text beside it.
//
// read is what the caller has read and changed. Errors: [ErrChanged] when the
// file does not hold that any more, and those of the file system; the file is
// as before then.
func Replace(path string, read, data []byte) error {
	path = real(path)
	release, err := outfile.Lock(filepath.Dir(path))
	if err != nil {
		return err
	}
	defer release()
	mend(path)
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	mode := info.Mode().Perm()
	if mode&0o200 == 0 {
		return errors.New("is write-protected")
	}
	if bytes.Equal(read, data) {
		return same(path, read)
	}
	former, err := write(path+Former, read, mode)
	if err != nil {
		return err
	}
	defer os.Remove(former)
	temp, err := write(path, data, mode)
	if err != nil {
		return err
	}
	defer os.Remove(temp)
	if err := same(path, read); err != nil {
		return err
	}
	if err := os.Rename(former, path+Former); err != nil {
		return err
	}
	if err := same(path, read); err != nil {
		return err
	}
	if err := os.Rename(temp, path); err != nil {
		return err
	}
	return syncFolder(path)
}

// Read reads a file of the notebook. It waits for nobody: what is no regular file, or
// has more than 1 MiB, is refused.
func Read(path string) ([]byte, error) {
	f, err := outfile.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, strict.MaxBytes+1))
	if err == nil && len(text) > strict.MaxBytes {
		err = errLarge
	}
	return text, err
}

// real follows a link, also one to what an undo has put aside.
func real(path string) string {
	if to, err := filepath.EvalSymlinks(path); err == nil {
		return to
	}
	to, err := os.Readlink(path)
	if err != nil {
		return path
	}
	if !filepath.IsAbs(to) {
		to = filepath.Join(filepath.Dir(path), to)
	}
	return to
}

// ReadFormer reads the text that a file had before its last change.
func ReadFormer(path string) ([]byte, error) { return Read(real(path) + Former) }

func same(path string, read []byte) error {
	now, err := Read(path)
	if err != nil {
		return err
	}
	if !bytes.Equal(now, read) {
		return ErrChanged
	}
	return nil
}

// Undo brings back the text that a file had before its last change, and keeps
// the one it has: a second Undo brings that back. A file that was only created
// is put aside as its former text, and comes back from there.
//
// Errors: [ErrNothing] when there is no such text.
func Undo(path string) error {
	path = real(path)
	release, err := outfile.Lock(filepath.Dir(path))
	if err != nil {
		return err
	}
	defer release()
	mend(path)
	now, err := Read(path)
	missing := errors.Is(err, fs.ErrNotExist)
	if err != nil && !missing {
		return err
	}
	_, err = os.Lstat(path + Former)
	former := err == nil
	switch {
	case missing && !former:
		return ErrNothing
	case missing:
		err = os.Rename(path+Former, path)
	case !former:
		err = os.Rename(path, path+Former)
	default:
		err = exchange(path, now)
	}
	if err != nil {
		return err
	}
	return syncFolder(path)
}

// exchange changes a file and its former text over in two steps, between which
// the text that was there lies under a third name; mend finishes it.
func exchange(path string, now []byte) error {
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	temp, err := write(path+redo, now, info.Mode().Perm())
	if err != nil {
		return err
	}
	defer os.Remove(temp)
	if err := os.Rename(temp, path+redo); err != nil {
		return err
	}
	if err := os.Rename(path+Former, path); err != nil {
		return err
	}
	return os.Rename(path+redo, path+Former)
}

// mend finishes an undo that was cut off, and takes away what a crash left of
// a write.
func mend(path string) {
	if _, err := os.Lstat(path + redo); err == nil {
		if _, err := os.Lstat(path + Former); errors.Is(err, fs.ErrNotExist) {
			os.Rename(path+redo, path+Former)
		} else {
			os.Remove(path + redo) // the file still holds it
		}
	}
	left, _ := filepath.Glob(filepath.Join(filepath.Dir(path), ".*"+temporary))
	for _, name := range left {
		if info, err := os.Lstat(name); err == nil && time.Since(info.ModTime()) > stale {
			os.Remove(name)
		}
	}
}

// Mend finishes in a whole folder what a crash cut off. Reading needs it not.
func Mend(dir string) {
	left, _ := filepath.Glob(filepath.Join(dir, "*"+redo))
	if len(left) == 0 {
		return
	}
	release, err := outfile.Lock(dir)
	if err != nil {
		return // the next write does it
	}
	defer release()
	for _, name := range left {
		mend(strings.TrimSuffix(name, redo))
	}
}

// write writes data to a new temporary file beside path, down to the disk.
func write(path string, data []byte, mode fs.FileMode) (name string, err error) {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*"+temporary)
	if err != nil {
		return "", err
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if _, err = f.Write(data); err != nil {
		return "", err
	}
	if err = f.Chmod(mode); err != nil {
		return "", err
	}
	if err = f.Sync(); err != nil {
		return "", err
	}
	return f.Name(), f.Close()
}

// syncFolder makes a new name last. Some systems cannot; the data is safe on
// the disk either way.
func syncFolder(path string) error {
	if d, err := os.Open(filepath.Dir(path)); err == nil {
		d.Sync()
		d.Close()
	}
	return nil
}

// List returns the names of the files in a folder that have an ending, in
// order. Hidden files, which may be half written, are not among them.
func List(dir, ending string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, e := range entries {
		if n := e.Name(); !e.IsDir() && strings.HasSuffix(n, ending) && !strings.HasPrefix(n, ".") {
			out = append(out, n)
		}
	}
	slices.Sort(out)
	return out, nil
}

// Last returns the file of a folder that was changed last, or put aside by an
// undo, by its name; "" if there is none.
func Last(dir, ending string) (string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return "", err
	}
	last, at := "", time.Time{}
	for _, e := range entries {
		n := strings.TrimSuffix(e.Name(), Former)
		if !e.Type().IsRegular() && e.Type() != fs.ModeSymlink || !strings.HasSuffix(n, ending) || strings.HasPrefix(n, ".") {
			continue
		}
		path := filepath.Join(dir, e.Name())
		if e.Type() == fs.ModeSymlink {
			path = real(path)
		}
		info, err := os.Stat(path)
		if err != nil {
			info, err = os.Stat(path + Former)
		}
		if err != nil || !info.Mode().IsRegular() {
			continue
		}
		if t := info.ModTime(); last == "" || t.After(at) {
			last, at = n, t
		}
	}
	if last == "" {
		return "", fmt.Errorf("%s: %w", dir, ErrNothing)
	}
	return last, nil
}
