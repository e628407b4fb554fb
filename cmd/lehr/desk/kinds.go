package desk

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
	LoadFile     fileKind = "load"
	ScheduleFile fileKind = "schedule"
	StudioFile   fileKind = "studio file"
	GlassFile    fileKind = "glass file"
	RecordFile   fileKind = "safety record"
)

// kindMarks are the keys at the top of a file that only one kind of it has.
var kindMarks = []struct {
	key    string
	tables bool // a list of tables, [[key]]
	kind   fileKind
}{
	{"piece", true, LoadFile}, {"into", false, LoadFile},
	{"segment", true, ScheduleFile}, {"from", false, ScheduleFile},
	{"kiln", false, StudioFile}, {"controller", false, StudioFile}, {"limits", false, StudioFile},
	{"glass", true, GlassFile},
	{"line", true, RecordFile},
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

// KindOfFile is kindOf for a named file, "" for what cannot be read.
func (a *App) KindOfFile(name string) fileKind {
	if name == "-" {
		return ""
	}
	var kind fileKind
	a.Read(name, func(r io.Reader) error {
		text, err := io.ReadAll(io.LimitReader(r, strict.MaxBytes+1))
		kind = kindOf(text)
		return err
	})
	return kind
}

// ReadAs is read for a file that must be of one kind. If f refuses it and the
// file is of another kind, the error says so, and what to write.
func (a *App) ReadAs(cmd string, want fileKind, name string, f func(io.Reader) error) error {
	err := a.Read(name, f)
	if err == nil {
		return nil
	}
	if is := a.KindOfFile(name); is != "" && is != want {
		return mistaken(cmd, name, is, want)
	}
	return err
}

// mistaken says what a file is that was taken for another kind.
func mistaken(cmd, name string, is, want fileKind) error {
	word := ShellWord(name)
	hint := map[fileKind]string{
		LoadFile:     "write: lehr plan " + word,
		ScheduleFile: "write: lehr verify " + word + " LOAD.toml",
		StudioFile:   "write: lehr " + placeOf(cmd, want) + " --studio " + word,
		GlassFile:    "write: lehr " + placeOf(cmd, want) + " --glass-file " + word,
		RecordFile:   "it records what was reported done; read it with any editor",
	}[is]
	if want == ScheduleFile && is == LoadFile {
		hint = "the schedule comes first: lehr verify SCHEDULE.toml " + word
	}
	return Usagef(hint, "%s: %s is a %s, not a %s", cmd, name, is, want)
}

// placeOf is how the command that wanted such a file is called.
func placeOf(cmd string, want fileKind) string {
	switch {
	case cmd == "verify":
		return "verify SCHEDULE.toml LOAD.toml"
	case cmd == "safety", cmd == "eye", cmd == "air", cmd == "circuit":
		return strings.TrimSuffix("safety "+cmd, " safety") + " LOAD.toml"
	case want == LoadFile:
		return cmd + " LOAD.toml"
	}
	return "plan LOAD.toml"
}

// LooksLikeFile reports whether an argument is a file, or is named like one.
func LooksLikeFile(arg string) bool {
	if arg == "-" || strings.HasSuffix(arg, ".toml") {
		return true
	}
	_, err := os.Stat(arg)
	return err == nil
}
