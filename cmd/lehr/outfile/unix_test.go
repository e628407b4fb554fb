//go:build unix

package outfile

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

func TestSet_umask(t *testing.T) {
	dir := t.TempDir()
	for umask, want := range map[int]os.FileMode{0o077: 0o600, 0o002: 0o664, 0o022: 0o644} {
		name := filepath.Join(dir, want.String())
		old := syscall.Umask(umask)
		_, err := one(&Set{}, program(name), "x\n")
		syscall.Umask(old)
		if err != nil {
			t.Fatal(err)
		}
		if info, err := os.Stat(name); err != nil || info.Mode() != want {
			t.Errorf("umask %03o: mode %v, want %v", umask, info.Mode(), want)
		}
	}
}

// TestSet_owner: the owner and group of a replaced file stay. Only root can
// give a file away, so only root can make the test.
func TestSet_owner(t *testing.T) {
	if os.Getuid() != 0 {
		t.Skip("needs root")
	}
	name := filepath.Join(t.TempDir(), "a")
	write(t, name, string(TOML.mark("program", []byte("old\n"))), 0o640)
	if err := os.Chown(name, 1234, 4321); err != nil {
		t.Skip(err)
	}
	if _, err := one(&Set{}, program(name), "new\n"); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(name)
	if err != nil {
		t.Fatal(err)
	}
	if st := info.Sys().(*syscall.Stat_t); st.Uid != 1234 || st.Gid != 4321 || info.Mode() != 0o640 {
		t.Errorf("owner %d:%d, mode %v", st.Uid, st.Gid, info.Mode())
	}
}

// TestSet_pipes: a pipe that is read gets the text, one that nobody reads does
// not keep the run waiting, and a socket is refused.
func TestSet_pipes(t *testing.T) {
	dir, err := os.MkdirTemp("", "p") // short: the name of a socket has 100 bytes at most
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(dir)
	pipe, socket := filepath.Join(dir, "pipe"), filepath.Join(dir, "socket")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	began := time.Now()
	_, err = one(&Set{}, program(pipe), "x\n")
	refused(t, err, "is a pipe that nobody reads", false)
	if took := time.Since(began); took > time.Second {
		t.Errorf("took %v", took)
	}
	got := make(chan string)
	go func() {
		data, _ := os.ReadFile(pipe)
		got <- string(data)
	}()
	for range 200 {
		if _, err = one(&Set{}, program(pipe), "x\n"); err == nil {
			break
		}
		time.Sleep(10 * time.Millisecond) // until it is opened
	}
	if text := <-got; err != nil || !strings.HasPrefix(text, "x\n") {
		t.Errorf("read %q, %v", text, err)
	}
	fd, err := syscall.Socket(syscall.AF_UNIX, syscall.SOCK_STREAM, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer syscall.Close(fd)
	if err := syscall.Bind(fd, &syscall.SockaddrUnix{Name: socket}); err != nil {
		t.Fatal(err)
	}
	_, err = one(&Set{Force: true}, program(socket), "x\n")
	refused(t, err, "is no file", false)
	if _, err := one(&Set{}, program(os.DevNull), "x\n"); err != nil {
		t.Error(err)
	}
	onlyFiles(t, dir, "pipe", "socket")
}

// TestSet_readOnlyFolder: nothing can be made there, and nothing is left.
func TestSet_readOnlyFolder(t *testing.T) {
	if os.Getuid() == 0 {
		t.Skip("root may write everywhere")
	}
	dir := t.TempDir()
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	_, err := one(&Set{}, program(filepath.Join(dir, "a")), "x\n")
	refused(t, err, "permission denied", false)
	onlyFiles(t, dir)
}
