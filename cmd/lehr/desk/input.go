package desk

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"time"

	"lehr/cmd/lehr/term"
	"lehr/glass/strict"
)

// How long a pipe may be silent before the person is told, and before a named
// one is given up. Standard input is never given up: whoever writes there may
// need time.
var (
	sayAfter  = 3 * time.Second
	giveUpSet = 60 * time.Second
)

// Read opens the named file, "-" for standard input, and hands it to f.
// Errors of the file system name the file. Everything that is read becomes an
// input of this run, which no output may replace.
func (a *App) Read(name string, f func(io.Reader) error) error {
	if p, ok := a.piped[name]; ok {
		if p.err != nil {
			return p.err
		}
		return f(bytes.NewReader(p.data))
	}
	if name == "-" {
		return a.readStandard(f)
	}
	info, err := os.Stat(name)
	if err != nil {
		if _, there := os.Lstat(name); there == nil && errors.Is(err, fs.ErrNotExist) {
			return FileError(name, errors.New("is a link to nothing"))
		}
		return withNeighbor(FileError(name, err), name)
	}
	if info.IsDir() {
		return FileError(name, errors.New("is a directory"))
	}
	if !info.Mode().IsRegular() {
		a.Files.Input(name, info)
		return a.readPipe(name, giveUpSet, func() (io.ReadCloser, error) { return os.Open(name) }, f)
	}
	file, err := os.Open(name)
	if err != nil {
		return FileError(name, err)
	}
	defer file.Close()
	if info, err = file.Stat(); err != nil {
		return FileError(name, err)
	}
	a.Files.Input(name, info)
	return f(file)
}

// withNeighbor adds to the error of a file that is not there the one that was
// probably meant: the same name with .toml or .csv behind it, or one like it.
func withNeighbor(err error, name string) error {
	for _, ending := range []string{".toml", ".csv"} {
		if info, fault := os.Stat(name + ending); fault == nil && info.Mode().IsRegular() {
			return term.WithHint(err, "did you mean "+name+ending+"?")
		}
	}
	var stems []string
	whole := map[string]string{}
	entries, _ := os.ReadDir(filepath.Dir(name)) // no folder: nothing to offer
	for _, e := range entries[:min(len(entries), 1000)] {
		if ext := filepath.Ext(e.Name()); e.Type().IsRegular() && (ext == ".toml" || ext == ".csv") {
			stem := strings.TrimSuffix(e.Name(), ext)
			stems, whole[stem] = append(stems, stem), e.Name()
		}
	}
	base := filepath.Base(name)
	if near := strict.Nearest(strings.TrimSuffix(base, filepath.Ext(base)), stems); near != "" {
		return term.WithHint(err, "did you mean "+filepath.Join(filepath.Dir(name), whole[near])+"?")
	}
	return err
}

// readStandard reads standard input.
func (a *App) readStandard(f func(io.Reader) error) error {
	file, ok := a.In.(*os.File)
	if !ok {
		return f(a.In)
	}
	info, err := file.Stat()
	if err != nil {
		return FileError(ShownName("-"), err)
	}
	a.Files.Input(file.Name(), info)
	if info.Mode().IsRegular() {
		return f(a.In)
	}
	if term.IsTerminal(file) {
		a.Say("type what standard input is to hold; Ctrl-D on a line of its own ends it")
		return f(a.In)
	}
	return a.readPipe("-", 0, func() (io.ReadCloser, error) { return io.NopCloser(a.In), nil }, f)
}

// piped is what came through a pipe, or why nothing did.
type piped struct {
	data []byte
	err  error
}

// readPipe reads what has no end that one can see: a pipe or a device. It says
// so when nothing comes, gives up after a time of silence unless that is 0, and
// keeps what came, as a pipe does not say it twice.
func (a *App) readPipe(name string, giveUp time.Duration, open func() (io.ReadCloser, error), f func(io.Reader) error) error {
	p := a.waitFor(name, giveUp, open)
	if a.piped == nil {
		a.piped = map[string]piped{}
	}
	a.piped[name] = p
	if p.err != nil {
		return p.err
	}
	return f(bytes.NewReader(p.data))
}

func (a *App) waitFor(name string, giveUp time.Duration, open func() (io.ReadCloser, error)) piped {
	done := make(chan piped, 1)
	var last atomic.Int64
	last.Store(time.Now().UnixNano())
	go func() { // left behind when the pipe is given up: the run ends then
		r, err := open()
		if err != nil {
			done <- piped{nil, err}
			return
		}
		defer r.Close()
		var buf bytes.Buffer
		part := make([]byte, 32<<10)
		for buf.Len() <= strict.MaxBytes {
			n, err := r.Read(part)
			buf.Write(part[:n])
			last.Store(time.Now().UnixNano())
			if err == io.EOF {
				break
			}
			if err != nil {
				done <- piped{nil, err}
				return
			}
		}
		done <- piped{buf.Bytes(), nil}
	}()
	tick := time.NewTicker(min(sayAfter, time.Second) / 4)
	defer tick.Stop()
	said := false
	for {
		select {
		case r := <-done:
			return piped{r.data, FileError(ShownName(name), r.err)}
		case <-a.Ended:
			return piped{nil, context.Canceled}
		case <-tick.C:
			silent := time.Since(time.Unix(0, last.Load()))
			if !said && silent >= sayAfter {
				a.Say(fmt.Sprintf("waiting for %s, a pipe that is silent; Ctrl-C ends this", ShownName(name)))
				said = true
			}
			if giveUp > 0 && silent >= giveUp {
				return piped{nil, term.WithHint(fmt.Errorf("%s: is a pipe that was silent for %s", ShownName(name), giveUp), "start the program that writes to it first, or name a file")}
			}
		}
	}
}
