package recordfile

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"lehr/cmd/lehr/outfile"
	"lehr/glass/strict"
)

func read(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if errors.Is(err, os.ErrNotExist) {
		return "-"
	}
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func TestSteps(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.toml")
	state := func(want string) {
		t.Helper()
		if got := read(t, path) + " " + read(t, path+Former); got != want {
			t.Fatalf("got %q, want %q", got, want)
		}
	}
	must(t, Create(path, []byte("one")))
	state("one -")
	if err := Create(path, []byte("other")); !errors.Is(err, ErrExists) {
		t.Fatal(err)
	}
	state("one -")
	must(t, Replace(path, []byte("one"), []byte("two")))
	state("two one")
	if err := Replace(path, []byte("one"), []byte("three")); !errors.Is(err, ErrChanged) {
		t.Fatal(err)
	}
	state("two one")
	must(t, Replace(path, []byte("two"), []byte("two"))) // nothing to do keeps the undo
	state("two one")
	must(t, Undo(path))
	state("one two")
	must(t, Undo(path))
	state("two one")
	must(t, os.Remove(path+Former))
	must(t, Undo(path))
	state("- two")
	must(t, Undo(path))
	state("two -")
	if err := Undo(filepath.Join(dir, "none.toml")); !errors.Is(err, ErrNothing) {
		t.Fatal(err)
	}
	must(t, os.Chmod(path, 0o444))
	if err := Replace(path, []byte("two"), []byte("x")); err == nil {
		t.Fatal("a protected file was replaced")
	}
	if entries, _ := os.ReadDir(dir); len(entries) != 1 {
		t.Errorf("left behind: %v", entries)
	}
}

// An undo that was cut off between its steps is finished by the next write.
func TestMend(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.toml")
	put := func(name, text string) { must(t, os.WriteFile(path+name, []byte(text), 0o644)) }
	put("", "one")
	put(redo, "two")
	Mend(dir)
	if read(t, path+Former) != "two" || read(t, path+redo) != "-" {
		t.Error("cut off after the second step")
	}
	put(redo, "one")
	Mend(dir)
	if read(t, path) != "one" || read(t, path+Former) != "two" || read(t, path+redo) != "-" {
		t.Error("cut off after the first step")
	}
	old := filepath.Join(dir, ".a.toml.123"+temporary)
	must(t, os.WriteFile(old, nil, 0o644))
	must(t, os.Chtimes(old, time.Now(), time.Now().Add(-2*stale)))
	must(t, Replace(path, []byte("one"), []byte("three")))
	if _, err := os.Stat(old); err == nil {
		t.Error("what a crash left is still there")
	}
}

func TestList(t *testing.T) {
	dir := t.TempDir()
	for _, n := range []string{"b.toml", "a.toml", ".c.toml.1.tmp", "a.toml.1", "d.txt", ".h.toml"} {
		must(t, os.WriteFile(filepath.Join(dir, n), nil, 0o644))
	}
	if got, err := List(dir, ".toml"); err != nil || fmt.Sprint(got) != "[a.toml b.toml]" {
		t.Error(got, err)
	}
	must(t, os.Chtimes(filepath.Join(dir, "a.toml.1"), time.Now(), time.Now().Add(time.Hour)))
	if got, err := Last(dir, ".toml"); err != nil || got != "a.toml" {
		t.Error(got, err)
	}
}

// TestRead: what cannot be a record is refused, and not read to its end.
func TestRead(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.toml")
	for size, want := range map[int64]error{0: nil, strict.MaxBytes: nil, strict.MaxBytes + 1: errLarge, 1 << 40: errLarge} {
		must(t, os.WriteFile(path, nil, 0o644))
		must(t, os.Truncate(path, size))
		if text, err := Read(path); err != want || err == nil && len(text) != int(size) {
			t.Errorf("%d bytes: %d, %v", size, len(text), err)
		}
	}
	if _, err := Read(dir); !errors.Is(err, outfile.ErrIrregular) {
		t.Error(err)
	}
}

// TestLink: a link that stands for a record stays one, through a change and undoes.
func TestLink(t *testing.T) {
	dir, other := t.TempDir(), t.TempDir()
	path, target := filepath.Join(dir, "a.toml"), filepath.Join(other, "mine.toml")
	must(t, Create(target, []byte("one")))
	if err := os.Symlink(target, path); err != nil {
		t.Skip("no links here: ", err)
	}
	state := func(want string) {
		t.Helper()
		if got := read(t, target) + " " + read(t, target+Former) + " " + read(t, path+Former); got != want {
			t.Fatalf("got %q, want %q", got, want)
		}
		if to, err := os.Readlink(path); err != nil || to != target {
			t.Fatalf("the link: %q, %v", to, err)
		}
		if last, err := Last(dir, ".toml"); err != nil || last != "a.toml" {
			t.Fatalf("last %q, %v", last, err)
		}
	}
	must(t, Replace(path, []byte("one"), []byte("two")))
	state("two one -")
	must(t, Undo(path))
	state("one two -")
	must(t, os.Remove(target+Former))
	must(t, Undo(path))
	state("- one -")
	must(t, Undo(path))
	state("one - -")
	if err := Create(path, []byte("x")); !errors.Is(err, ErrExists) {
		t.Fatal(err)
	}
}

// TestTogether adds lines to one record from many sides at once, as runs of one
// program do. Who is told that another was first adds his anew: none is lost.
func TestTogether(t *testing.T) {
	const sides, each = 6, 20
	path := filepath.Join(t.TempDir(), "a.toml")
	must(t, Create(path, []byte("begin\n")))
	var all sync.WaitGroup
	for side := range sides {
		all.Go(func() {
			for i := 0; i < each; {
				now, err := os.ReadFile(path)
				if err == nil {
					err = Replace(path, now, fmt.Appendf(now[:len(now):len(now)], "%d.%d\n", side, i))
				}
				switch {
				case err == nil:
					i++
				case !errors.Is(err, ErrChanged):
					t.Error(err)
					return
				}
			}
		})
	}
	all.Wait()
	lines := strings.Fields(read(t, path))
	if len(lines) != 1+sides*each {
		t.Errorf("%d lines, want %d", len(lines), 1+sides*each)
	}
}

// body is a text that shows if a part of it is missing.
func body(n int) []byte {
	return []byte(strconv.Itoa(n) + "\n" + strings.Repeat(strconv.Itoa(n%10), 20000+n%777) + "\nend " + strconv.Itoa(n) + "\n")
}

// number returns n of a whole body, or fails.
func number(t *testing.T, where string, text []byte) int {
	t.Helper()
	first, _, _ := bytes.Cut(text, []byte("\n"))
	n, err := strconv.Atoi(string(first))
	if err != nil || !bytes.Equal(text, body(n)) {
		t.Fatalf("%s: half a text of %d bytes, beginning %.20q", where, len(text), text)
	}
	return n
}

// TestMain lets the crash test run this binary as the writer that is killed.
func TestMain(m *testing.M) {
	if dir := os.Getenv("RECORDFILE_WRITER"); dir != "" {
		writer(dir)
	}
	os.Exit(m.Run())
}

// writer changes one record again and again, telling when a step has been
// done, until it is killed.
func writer(dir string) {
	path := filepath.Join(dir, "night.toml")
	for i := 0; ; i++ {
		now, err := os.ReadFile(path)
		switch {
		case errors.Is(err, os.ErrNotExist):
			if _, e := os.Stat(path + Former); e == nil {
				err = Undo(path)
			} else {
				err = Create(path, body(1))
			}
		case err != nil:
		case i%4 == 3:
			err = Undo(path)
		default:
			var n int
			first, _, _ := bytes.Cut(now, []byte("\n"))
			if n, err = strconv.Atoi(string(first)); err == nil {
				err = Replace(path, now, body(n+1))
			}
		}
		if err != nil {
			fmt.Println("failed:", err)
			os.Exit(1)
		}
	}
}

// TestKilled kills a process that writes, at a random moment, many times over.
// After each the file is whole, its former text is whole and near to it, and
// the number in it has gone on from what it was: nothing is lost. LEHR_LONG=1
// kills 100 times, LEHR_CAMPAIGN=1 500.
func TestKilled(t *testing.T) {
	kills := 40
	if os.Getenv("LEHR_LONG") != "" {
		kills = 100
	}
	if os.Getenv("LEHR_CAMPAIGN") != "" {
		kills = 500
	}
	self, err := os.Executable()
	must(t, err)
	dir := t.TempDir()
	path := filepath.Join(dir, "night.toml")
	last, within := 0, 25*time.Millisecond
	for k := range kills {
		if k%5 == 4 && last < 2 { // a busy machine has not begun to write by then
			within *= 2
		}
		c := exec.Command(self)
		c.Env = append(os.Environ(), "RECORDFILE_WRITER="+dir)
		var out bytes.Buffer
		c.Stdout = &out
		must(t, c.Start())
		time.Sleep(5*time.Millisecond + time.Duration(rand.Int64N(int64(within))))
		must(t, c.Process.Kill())
		if err := c.Wait(); err == nil || strings.Contains(out.String(), "failed") {
			t.Fatalf("kill %d: the writer stopped by itself: %v %s", k, err, out.String())
		}
		files, err := os.ReadDir(dir)
		must(t, err)
		highest := 0
		for _, f := range files {
			if strings.HasSuffix(f.Name(), temporary) {
				continue // may be half: nobody reads it
			}
			text, err := os.ReadFile(filepath.Join(dir, f.Name()))
			must(t, err)
			highest = max(highest, number(t, f.Name(), text))
		}
		if _, err := os.Stat(path); err != nil && last > 0 {
			t.Fatalf("kill %d: the record is gone", k)
		}
		// An undo goes back by one, and keeps the higher beside.
		if highest < last {
			t.Fatalf("kill %d: %d is lost, the highest is %d", k, last, highest)
		}
		if highest > 0 {
			now := number(t, path, []byte(read(t, path)))
			if now < last-2 {
				t.Fatalf("kill %d: the record went back from %d to %d", k, last, now)
			}
			last = now
		}
	}
	if last < 2 {
		t.Fatalf("the writer got only to %d", last)
	}
	t.Logf("%d kills, %d changes", kills, last)
}
