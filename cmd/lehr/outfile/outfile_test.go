package outfile

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// onlyFiles fails if dir holds anything but the named entries.
func onlyFiles(t *testing.T, dir string, want ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("directory holds %q, want %q", got, want)
	}
}

func write(t *testing.T, name, text string, mode fs.FileMode) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(name, mode); err != nil {
		t.Fatal(err)
	}
}

func read(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// program is an output as plan -o makes it.
func program(name string) File {
	return File{Flag: "--output", Name: name, Kind: TOML, What: "program"}
}

// one writes one file.
func one(s *Set, f File, text string) ([]Written, error) {
	if err := s.Put(f, []byte(text)); err != nil {
		return nil, err
	}
	return s.Commit()
}

func skipWindows(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("permissions and links of Unix")
	}
}

// refused wants an error of this package that says so and so.
func refused(t *testing.T, err error, words string, usage bool) {
	t.Helper()
	var e *Error
	if !errors.As(err, &e) || !strings.Contains(err.Error(), words) || e.Usage != usage {
		t.Errorf("error %v, want %q, usage %v", err, words, usage)
	}
}

func TestSet_again(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "a.toml")
	for i, text := range []string{"first\n", "", "a longer second text"} {
		w, err := one(&Set{}, program(name), text)
		if err != nil {
			t.Fatal(err)
		}
		if len(w) != 1 || w[0].Name != name || w[0].Replaced.IsZero() != (i == 0) {
			t.Errorf("%+v", w)
		}
		if got := read(t, name); !strings.HasPrefix(got, text) || !strings.Contains(got, "# lehr wrote this program") {
			t.Errorf("read %q", got)
		}
	}
	onlyFiles(t, dir, "a.toml")
}

// TestSet_twice: of two contents for one file neither is dropped without a word.
func TestSet_twice(t *testing.T) {
	f := File{Flag: "--cards", Name: filepath.Join(t.TempDir(), "night.toml"), Kind: TOML, What: "load"}
	s := &Set{}
	if err := s.Put(f, []byte("a = 1\n")); err != nil {
		t.Fatal(err)
	}
	if err := s.Put(f, []byte("a = 2\n")); !errors.Is(err, ErrTwice) {
		t.Errorf("a second content: %v", err)
	}
	if _, err := s.Commit(); err != nil {
		t.Fatal(err)
	}
	if err := s.Put(f, []byte("a = 3\n")); err != nil {
		t.Errorf("after it was written: %v", err)
	}
}

func TestWritten_text(t *testing.T) {
	now := time.Date(2026, 11, 25, 23, 0, 0, 0, time.Local)
	for _, c := range []struct {
		at   time.Time
		want string
	}{
		{time.Time{}, "wrote a"},
		{time.Date(2026, 11, 25, 22, 4, 0, 0, time.Local), "wrote a, replaced the one of 22:04"},
		{time.Date(2026, 11, 24, 22, 4, 0, 0, time.Local), "wrote a, replaced the one of 2026-11-24 22:04"},
	} {
		if got := (Written{"a", c.at}).text(now); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// TestSet_inputs: what is read is not written, through any name and with Force.
func TestSet_inputs(t *testing.T) {
	dir := t.TempDir()
	load := filepath.Join(dir, "load.toml")
	write(t, load, "x\n", 0o644)
	names := []string{load, filepath.Join(dir, "sub", "..", "load.toml"), dir + "/./load.toml"}
	if err := os.Mkdir(filepath.Join(dir, "sub"), 0o755); err != nil {
		t.Fatal(err)
	}
	if runtime.GOOS != "windows" {
		for _, link := range []struct {
			make func(string, string) error
			to   string
			name string
		}{{os.Symlink, "load.toml", "soft"}, {os.Symlink, "soft", "softer"}, {os.Link, load, "hard"}, {os.Symlink, dir, "folder"}} {
			if err := link.make(link.to, filepath.Join(dir, link.name)); err != nil {
				t.Fatal(err)
			}
		}
		names = append(names, filepath.Join(dir, "soft"), filepath.Join(dir, "softer"), filepath.Join(dir, "hard"), filepath.Join(dir, "folder", "load.toml"))
	}
	for _, name := range names {
		for _, force := range []bool{false, true} {
			s := &Set{Force: force}
			s.Input(load, nil)
			refused(t, s.Claim(program(name)), "is read by this run", true)
		}
	}
	s := &Set{Force: true}
	if err := s.Put(program(load), []byte("y\n")); err != nil { // read only afterwards
		t.Fatal(err)
	}
	s.Input(load, nil)
	_, err := s.Commit()
	refused(t, err, "is read by this run", true)
	if read(t, load) != "x\n" {
		t.Error("the load is gone")
	}
}

func TestSet_twoToOne(t *testing.T) {
	dir := t.TempDir()
	a := filepath.Join(dir, "a")
	s := &Set{}
	if err := s.Claim(program(a)); err != nil {
		t.Fatal(err)
	}
	if err := s.Claim(program(a)); err != nil {
		t.Errorf("the same claim again: %v", err)
	}
	svg := File{Flag: "--svg", Name: dir + "/./a", Kind: SVG, What: "curve"}
	refused(t, s.Claim(svg), "--output and --svg both write there", true)
	s = &Set{}
	if err := s.Claim(program(Stdout)); err != nil {
		t.Fatal(err)
	}
	refused(t, s.Claim(File{Flag: "--svg", Name: Stdout, Kind: SVG}), "--output and --svg both write there", true)
	if _, claimed := s.ToStdout(); !claimed {
		t.Error("standard output is not claimed")
	}
	onlyFiles(t, dir)
}

// TestSet_refuses checks that what is not ours stays as it was.
func TestSet_refuses(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	write(t, at("mine"), "my notes\n", 0o644)
	write(t, at("empty"), "", 0o644)
	write(t, at("locked"), "old", 0o444)
	write(t, at("edited"), string(TOML.mark("program", []byte("a\n")))+"b\n", 0o644)
	write(t, at("studio"), string(TOML.mark("studio file", []byte("a\n"))), 0o644)
	if err := os.Mkdir(at("sub"), 0o755); err != nil {
		t.Fatal(err)
	}
	for name, reason := range map[string]string{
		"sub":      "is a directory",
		"none/a":   "no such folder",
		"locked":   "is write-protected",
		"locked/a": "not a directory",
		"mine":     "exists, and lehr did not write it",
		"empty":    "exists, and lehr did not write it",
		"edited":   "was changed since lehr wrote it",
		"studio":   "is a studio file, not a program",
	} {
		if runtime.GOOS == "windows" && name == "locked/a" {
			continue
		}
		_, err := one(&Set{}, program(at(name)), "new")
		refused(t, err, reason, false)
	}
	if got := read(t, at("locked")); got != "old" {
		t.Errorf("locked file now holds %q", got)
	}
	_, err := one(&Set{Force: true}, File{Name: at("mine"), Kind: TOML, What: "record", Keep: true}, "new")
	refused(t, err, "a record is never written over", false)
	if got := read(t, at("mine")); got != "my notes\n" {
		t.Errorf("now holds %q", got)
	}
	w, err := one(&Set{Force: true}, program(at("mine")), "new\n")
	if err != nil || len(w) != 1 || w[0].Replaced.IsZero() || !strings.HasPrefix(read(t, at("mine")), "new\n") {
		t.Errorf("with force: %v, %v", w, err)
	}
	onlyFiles(t, dir, "edited", "empty", "locked", "mine", "studio", "sub")
}

// TestSet_goesOn: a run writes its own record anew as it goes on, also one it
// has read, until somebody else has written there.
func TestSet_goesOn(t *testing.T) {
	dir := t.TempDir()
	record := File{Name: filepath.Join(dir, "r.toml"), Kind: TOML, What: "record", Keep: true}
	s := &Set{}
	for _, text := range []string{"one\n", "one, two\n", "one, two, three\n"} {
		if _, err := one(s, record, text); err != nil {
			t.Fatal(err)
		}
		if record.Was = read(t, record.Name); record.Was != text {
			t.Fatalf("holds %q, want %q", record.Was, text)
		}
	}
	s = &Set{}
	s.Input(record.Name, nil)
	if _, err := one(s, record, "four\n"); err != nil {
		t.Fatal(err)
	}
	write(t, record.Name, "another's\n", 0o644)
	record.Was = "four\n"
	_, err := one(&Set{Force: true}, record, "five\n")
	refused(t, err, "was changed by somebody else", false)
	if got := read(t, record.Name); got != "another's\n" {
		t.Errorf("now holds %q", got)
	}
	onlyFiles(t, dir, "r.toml")
}

func TestSet_keepsModeAndLinks(t *testing.T) {
	skipWindows(t)
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	write(t, at("real"), string(TOML.mark("program", []byte("old\n"))), 0o600)
	for link, to := range map[string]string{"link": "real", "nowhere": "gone", "round": "round"} {
		if err := os.Symlink(to, at(link)); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := one(&Set{}, program(at("link")), "new\n"); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Lstat(at("real")); err != nil || info.Mode() != 0o600 {
		t.Errorf("mode %v, %v; want 0600", info.Mode(), err)
	}
	if info, err := os.Lstat(at("link")); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("the link became %v, %v", info.Mode(), err)
	}
	if got := read(t, at("real")); !strings.HasPrefix(got, "new\n") {
		t.Errorf("read %q", got)
	}
	_, err := one(&Set{Force: true}, program(at("nowhere")), "new\n")
	refused(t, err, "is a link to nothing", false)
	_, err = one(&Set{Force: true}, program(at("round")), "new\n")
	refused(t, err, "", false)

	if err := os.Link(at("real"), at("second")); err != nil {
		t.Fatal(err)
	}
	_, err = one(&Set{}, program(at("second")), "newer\n")
	refused(t, err, "has a second name", false)
	if _, err := one(&Set{Force: true}, program(at("second")), "newer\n"); err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(read(t, at("real")), "new\n") || !strings.HasPrefix(read(t, at("second")), "newer\n") {
		t.Error("with force the second name alone has the new contents")
	}
	onlyFiles(t, dir, "link", "nowhere", "real", "round", "second")
}

// TestSet_allOrNone breaks the last of three renames, in each of the ways that
// can be made here, and wants everything as before.
func TestSet_allOrNone(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	was := string(TOML.mark("program", []byte("old\n")))
	write(t, at("old"), was, 0o640)
	s := &Set{}
	for _, f := range []File{program(at("old")), {Flag: "--svg", Name: at("new"), Kind: SVG, What: "curve"}, {Flag: "--csv", Name: at("late"), Kind: CSV, What: "history"}} {
		if err := s.Put(f, []byte("text\n")); err != nil {
			t.Fatal(err)
		}
	}
	var parts []*part
	for _, o := range s.files {
		p := &part{output: o}
		if err := p.write(s); err != nil {
			t.Fatal(err)
		}
		parts = append(parts, p)
	}
	for i, p := range parts {
		if i == 2 {
			write(t, at("late"), "somebody was faster\n", 0o644)
		}
		err := p.put(true)
		if (err != nil) != (i == 2) {
			t.Fatalf("file %d: %v", i, err)
		}
		if err != nil {
			err = s.takeBack(parts[:i], p, err)
			refused(t, err, "changed while this run was writing; nothing was written", false)
		}
	}
	for _, p := range parts {
		p.clear()
	}
	if got := read(t, at("old")); got != was {
		t.Errorf("the old file holds %q", got)
	}
	if got := read(t, at("late")); got != "somebody was faster\n" {
		t.Errorf("the other file holds %q", got)
	}
	if info, err := os.Stat(at("old")); err != nil || runtime.GOOS != "windows" && info.Mode() != 0o640 {
		t.Errorf("%v, %v", info, err)
	}
	onlyFiles(t, dir, "late", "old")
}

// TestSet_saysWhatIsThere: what cannot be taken back is named.
func TestSet_saysWhatIsThere(t *testing.T) {
	dir := t.TempDir()
	a := &part{output: &output{File: program("a.toml"), place: place{path: filepath.Join(dir, "gone")}}, placed: true}
	err := (&Set{}).takeBack([]*part{a}, &part{output: &output{File: program("b.toml")}}, errors.New("disk on fire"))
	if got := err.Error(); got != "b.toml: disk on fire; a.toml was written, and nothing else" {
		t.Error(got)
	}
}

func TestSweep(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	write(t, at(".lehr-0123456789ab.tmp"), "left behind", 0o600)
	write(t, at(".lehr-mine.tmp"), "x", 0o600)
	if err := os.Mkdir(at(".lehr-0123456789ac.tmp"), 0o755); err != nil {
		t.Fatal(err)
	}
	f, err := create(dir, 0o600) // of a run that is at work
	if err != nil {
		t.Fatal(err)
	}
	if _, err := one(&Set{}, program(at("a")), "x\n"); err != nil {
		t.Fatal(err)
	}
	onlyFiles(t, dir, sorted(".lehr-0123456789ac.tmp", filepath.Base(f.Name()), ".lehr-mine.tmp", "a")...)
	f.Close() // that run is killed
	if _, err := one(&Set{}, program(at("a")), "x\n"); err != nil {
		t.Fatal(err)
	}
	onlyFiles(t, dir, ".lehr-0123456789ac.tmp", ".lehr-mine.tmp", "a")
}

func sorted(names ...string) []string {
	for i := range names {
		for j := i; j > 0 && names[j] < names[j-1]; j-- {
			names[j], names[j-1] = names[j-1], names[j]
		}
	}
	return names
}
