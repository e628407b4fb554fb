package main

import (
	"bytes"
	"io"
	"os"
	"strings"

	"lehr/glass/strict"
)

// fileKind is what a file of ours is for.
type fileKind string

// The kinds of file.
const (
	loadFile     fileKind = "load"
	scheduleFile fileKind = "schedule"
	studioFile   fileKind = "studio file"
	glassFile    fileKind = "glass file"
	recordFile   fileKind = "safety record"
)

// kindMarks are the keys at the top of a file that only one kind of it has.
var kindMarks = []struct {
	key    string
	tables bool // a list of tables, [[key]]
	kind   fileKind
}{
	{"piece", true, loadFile}, {"into", false, loadFile},
	{"segment", true, scheduleFile}, {"from", false, scheduleFile},
	{"kiln", false, studioFile}, {"controller", false, studioFile}, {"limits", false, studioFile},
	{"glass", true, glassFile},
	{"line", true, recordFile},
}

// kindOf tells by its keys what kind of file a text is, "" if they do not say
// or say two things.
func kindOf(text []byte) fileKind {
	var table map[string]any
	if _, err := strict.Decode(bytes.NewReader(text), "", &table); err != nil {
		return ""
	}
	var found fileKind
	for _, m := range kindMarks {
		v, there := table[m.key]
		if _, tables := v.([]map[string]any); !there || m.tables != tables {
			continue
		}
		if found != "" && found != m.kind {
			return ""
		}
		found = m.kind
	}
	return found
}

// kindOfFile is kindOf for a named file, "" for what cannot be read.
func (a *app) kindOfFile(name string) fileKind {
	if name == "-" {
		return ""
	}
	var kind fileKind
	a.read(name, func(r io.Reader) error {
		text, err := io.ReadAll(io.LimitReader(r, strict.MaxBytes+1))
		kind = kindOf(text)
		return err
	})
	return kind
}

// readAs is read for a file that must be of one kind. If f refuses it and the
// file is of another kind, the error says so, and what to write.
func (a *app) readAs(cmd string, want fileKind, name string, f func(io.Reader) error) error {
	err := a.read(name, f)
	if err == nil {
		return nil
	}
	if is := a.kindOfFile(name); is != "" && is != want {
		return mistaken(cmd, name, is, want)
	}
	return err
}

// mistaken says what a file is that was taken for another kind.
func mistaken(cmd, name string, is, want fileKind) error {
	word := shellWord(name)
	hint := map[fileKind]string{
		loadFile:     "write: lehr plan " + word,
		scheduleFile: "write: lehr verify " + word + " LOAD.toml",
		studioFile:   "write: lehr " + placeOf(cmd, want) + " --studio " + word,
		glassFile:    "write: lehr " + placeOf(cmd, want) + " --glass-file " + word,
		recordFile:   "it records what was reported done; read it with any editor",
	}[is]
	if want == scheduleFile && is == loadFile {
		hint = "the schedule comes first: lehr verify SCHEDULE.toml " + word
	}
	return usagef(hint, "%s: %s is a %s, not a %s", cmd, name, is, want)
}

// placeOf is how the command that wanted such a file is called.
func placeOf(cmd string, want fileKind) string {
	switch {
	case cmd == "verify":
		return "verify SCHEDULE.toml LOAD.toml"
	case cmd == "safety", cmd == "eye", cmd == "air", cmd == "circuit":
		return strings.TrimSuffix("safety "+cmd, " safety") + " LOAD.toml"
	case want == loadFile:
		return cmd + " LOAD.toml"
	}
	return "plan LOAD.toml"
}

// looksLikeFile reports whether an argument is a file, or is named like one.
func looksLikeFile(arg string) bool {
	if arg == "-" || strings.HasSuffix(arg, ".toml") {
		return true
	}
	_, err := os.Stat(arg)
	return err == nil
}
