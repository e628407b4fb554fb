//go:build !(linux || darwin || freebsd || netbsd || openbsd || dragonfly)

package outfile

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"time"
)

const (
	closeFirst = true // an open file can be neither renamed nor removed
	noWait     = 0
)

// hold cannot lock here. On Windows an open file cannot be removed by another
// run, which is as good.
func hold(*os.File) state {
	if runtime.GOOS == "windows" {
		return free
	}
	return unknown
}

// lock makes a file that only one run can make, under a name that sweep knows. The
// one of a run that was killed is removed: at once on Windows, where an open one
// cannot be, and elsewhere when it is old.
func lock(folder string) (release func(), s state, err error) {
	name := filepath.Join(folder, ".lehr-000000000000.tmp")
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
	if err == nil {
		return func() { f.Close(); os.Remove(name) }, free, nil
	}
	if !errors.Is(err, fs.ErrExist) && !errors.Is(err, fs.ErrPermission) { // Windows says the latter of a file that is going
		return nil, unknown, err
	}
	if info, err := os.Stat(name); runtime.GOOS == "windows" || err == nil && time.Since(info.ModTime()) > staleAfter {
		os.Remove(name)
	}
	return nil, held, nil
}

func links(fs.FileInfo) uint64 { return 1 }

func keepOwner(*os.File, fs.FileInfo) error { return nil }
