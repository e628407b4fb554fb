//go:build !(linux || darwin || freebsd || netbsd || openbsd || dragonfly)

package outfile

import (
	"io/fs"
	"os"
	"runtime"
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

func links(fs.FileInfo) uint64 { return 1 }

func keepOwner(*os.File, fs.FileInfo) error { return nil }
