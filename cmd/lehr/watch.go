package main

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/outfile"
	"lehr/glass/strict"
)

// watchEvery is how often the watched files are looked at. They are small and
// few, so they are read: an editor that writes a file anew, a folder on another
// machine and a clock that is wrong make no difference.
var watchEvery = 250 * time.Millisecond

// watch plans again whenever a file that the plan is made from has changed,
// until it is interrupted. args are those of the command, l its flags.
func (a *app) watch(c *cobra.Command, args []string, l *flags.Load) error {
	names, err := a.watched(c, args, l)
	if err != nil {
		return err
	}
	ctx, stop := desk.Interruptible(c.Context())
	defer stop()
	line := withoutWatch(a.Args)
	a.Say("watching " + strings.Join(names, " and ") + "; Ctrl-C ends this")
	var last []seen
	for first := true; ; first = false {
		now, changed, ok := awaitChange(ctx, names, last)
		if !ok {
			return nil
		}
		last = now
		if why := waitsFor(names, now); why != "" {
			a.Say("waiting for " + why)
			continue
		}
		if !first && len(changed) > 0 {
			a.Say(fmt.Sprintf("%s: %s changed", time.Now().Format("15:04:05"), strings.Join(changed, " and ")))
		}
		again := &app{a.Again()}
		again.Ended = ctx.Done()
		if again.run(ctx, line); ctx.Err() != nil {
			return nil
		}
	}
}

// watched returns the files that a plan is made from, the load first, or why
// they cannot be watched.
func (a *app) watched(c *cobra.Command, args []string, l *flags.Load) ([]string, error) {
	if len(args) == 0 {
		return nil, desk.Usagef("write: lehr plan --watch load.toml", "plan: --watch: needs a load file, which is looked at for changes")
	}
	names := []string{args[0], a.Studio}
	if a.Studio == "" {
		names[1] = desk.StudioName
	}
	if l.GlassFile != "" {
		names = append(names, l.GlassFile)
	}
	for _, name := range names {
		info, err := os.Stat(name)
		switch {
		case name == "-", err == nil && !info.Mode().IsRegular() && !info.IsDir():
			return nil, desk.Usagef("name a file", "plan: --watch: %s is a pipe, and is read once", desk.ShownName(name))
		case err == nil && info.IsDir():
			return nil, desk.Usagef("name the file in it", "plan: --watch: %s is a directory", name)
		}
	}
	for _, o := range a.Outs {
		if o.Cmd == c && o.Given() && o.Name != outfile.Stdout {
			for _, name := range names {
				if sameName(o.Name, name) {
					return nil, desk.Usagef("write to another file", "plan: %s %s: is a file that is watched", o.Flag, o.Name)
				}
			}
		}
	}
	return names, nil
}

// sameName reports whether two names lead to one file, there or not.
func sameName(a, b string) bool {
	if x, err := os.Stat(a); err == nil {
		if y, err := os.Stat(b); err == nil {
			return os.SameFile(x, y)
		}
	}
	x, err1 := filepath.Abs(a)
	y, err2 := filepath.Abs(b)
	return err1 == nil && err2 == nil && x == y
}

// seen is what a watched file held when it was looked at.
type seen struct {
	missing bool
	odd     bool // a pipe, a device or a folder has taken its place
	sum     [sha256.Size]byte
}

// waitsFor says what there must be before anything is planned.
func waitsFor(names []string, now []seen) string {
	for i, s := range now {
		if s.odd {
			return names[i] + ", which is no regular file now"
		}
	}
	if now[0].missing {
		return names[0] + ", which is not there"
	}
	return ""
}

// glance reads a watched file; one that cannot be read counts as missing.
func glance(name string) seen {
	f, err := outfile.Open(name)
	if err != nil {
		return seen{missing: true, odd: errors.Is(err, outfile.ErrIrregular)}
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, io.LimitReader(f, strict.MaxBytes+1)); err != nil {
		return seen{missing: true}
	}
	s := seen{}
	h.Sum(s.sum[:0])
	return s
}

// awaitChange returns what the files hold once that differs from last and has
// stayed so from one look to the next, so that no half-written file is read, and
// the names of those that changed. ok is false when ctx has ended.
func awaitChange(ctx context.Context, names []string, last []seen) (now []seen, changed []string, ok bool) {
	var before []seen
	for {
		now = now[:0]
		for _, name := range names {
			now = append(now, glance(name))
		}
		if !slices.Equal(now, last) && (last == nil || slices.Equal(now, before)) {
			for i := range now {
				if last != nil && now[i] != last[i] {
					changed = append(changed, names[i])
				}
			}
			return now, changed, ctx.Err() == nil
		}
		before = append(before[:0], now...)
		select {
		case <-ctx.Done():
			return nil, nil, false
		case <-time.After(watchEvery):
		}
	}
}

// withoutWatch is a command line without the flag, to be run each time.
func withoutWatch(args []string) []string {
	end := slices.Index(args, "--")
	return slices.DeleteFunc(slices.Clone(args), func(s string) bool {
		at := slices.Index(args, s)
		return (end < 0 || at < end) && (s == "--watch" || strings.HasPrefix(s, "--watch="))
	})
}
