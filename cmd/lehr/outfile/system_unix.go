//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package outfile

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

const (
	closeFirst = false // a file can be renamed while it is open
	noWait     = syscall.O_NONBLOCK
)

// hold locks an open file until it is closed or the program ends, in whatever
// way.
func hold(f *os.File) state {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	switch {
	case err == nil:
		return free
	case errors.Is(err, syscall.EWOULDBLOCK):
		return held
	}
	return unknown
}

// lock locks a folder as [hold] does.
func lock(folder string) (release func(), s state, err error) {
	f, err := os.Open(folder)
	if err != nil {
		return nil, unknown, err
	}
	if s = hold(f); s == held {
		f.Close()
		return nil, s, nil
	}
	return func() { f.Close() }, s, nil
}

// links is how many names a file has.
func links(info fs.FileInfo) uint64 {
	if st, ok := info.Sys().(*syscall.Stat_t); ok {
		return uint64(st.Nlink)
	}
	return 1
}

// keepOwner gives a new file the owner and group of the old one.
func keepOwner(f *os.File, old fs.FileInfo) error {
	is, err := f.Stat()
	if err != nil {
		return err
	}
	a, ok1 := is.Sys().(*syscall.Stat_t)
	b, ok2 := old.Sys().(*syscall.Stat_t)
	if !ok1 || !ok2 || a.Uid == b.Uid && a.Gid == b.Gid {
		return nil
	}
	return f.Chown(int(b.Uid), int(b.Gid))
}
