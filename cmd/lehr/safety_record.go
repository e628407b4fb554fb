package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"lehr/safety/checklist"
)

// recordName returns the file a record goes to: the one named, or a dated one
// in the folder named. It refuses a file that exists and a folder that does
// not, before anybody has answered forty lines.
func recordName(name string, at time.Time) (string, error) {
	dated := "safety-" + at.Format("2006-01-02-1504") + ".toml"
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		name = filepath.Join(name, dated)
	}
	switch _, err := os.Lstat(name); {
	case err == nil:
		return "", taken(name, at)
	case !errors.Is(err, os.ErrNotExist):
		return "", fileError(name, err)
	}
	folder := filepath.Dir(name)
	info, err := os.Stat(folder)
	if err != nil {
		return "", fileError(folder, err)
	}
	if !info.IsDir() {
		return "", fileError(folder, errors.New("is no folder"))
	}
	return name, nil
}

// taken refuses to write over an earlier record.
func taken(name string, at time.Time) error {
	dated := filepath.Join(filepath.Dir(name), "safety-"+at.Format("2006-01-02-150405")+".toml")
	return withHint(fmt.Errorf("%s: exists, and a record is never written over", name), "name another file, such as "+dated)
}

// saveRecord writes a record, all or nothing. If it cannot, the record is
// printed, so that the answers are not lost.
func (a *app) saveRecord(name string, r checklist.Record) error {
	var buf bytes.Buffer
	if err := r.WriteTOML(&buf); err != nil {
		return err
	}
	err := error(nil)
	if _, there := os.Lstat(name); there == nil { // since the first question
		err = taken(name, r.Time)
	} else {
		err = writeFile(name, buf.Bytes())
	}
	if err != nil {
		a.print("\n" + buf.String())
		if flush := a.out.Flush(); flush != nil {
			return flush
		}
		return err
	}
	a.printf("Record of what was reported: %s\n", name)
	return nil
}
