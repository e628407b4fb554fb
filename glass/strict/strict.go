// Package strict reads the TOML files that people write for lehr: glasses,
// loads, schedules, rules and studio settings.
//
// It is strict because a typing error in such a file can ruin a week of work:
// a key that nobody reads, a number without its unit or a value of the wrong
// kind is an error that names the file, the line and what was meant. The text
// itself is parsed by a TOML library; this package decides what may go where.
//
// What goes where is told by the Go type handed to [Decode]:
//
//   - a struct takes a table; every key must be a field (tag `toml:"name"`,
//     "-" hides one), spelled exactly, upper and lower case included;
//   - string, bool, int, float64, slices, pointers, map[string]T and any take
//     what their names say;
//   - a type with UnmarshalText takes text. A bare number is handed over as it
//     was typed, so that the type can say "has no unit";
//   - a struct that also has UnmarshalText takes either: text goes to
//     UnmarshalText, a table to the fields. So one key can be short or long;
//   - a slice type with the mark [OneOrMany] also takes a single value.
//
// The package opens no files and knows nothing of glass.
package strict

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

// MaxBytes is the size above which a file is refused.
const MaxBytes = 1 << 20

// maxDepth is how deep tables, lists and dotted keys may nest. Nothing that
// lehr reads needs more than four; the limit keeps a hostile file from
// exhausting the stack.
const maxDepth = 24

// maxValues is how many values a file may hold, counted by the marks that
// begin them. It bounds the time and the memory that an odd file takes.
const maxValues = 40_000

// File is a decoded file. It remembers where each key stands, so that a rule
// found broken later can still be reported at its line.
type File struct {
	Name string
	Text []byte

	// Where keys stand is worked out only when something is wrong.
	indexed bool
	where   map[string]span
	lists   map[string]int
}

// Decode reads TOML text from r into the value that into points to.
//
// name is used in messages only. The text must be UTF-8 of at most [MaxBytes]
// without NUL bytes, with at most 40,000 values, and no number in it may be
// infinite or NaN. Every key must have a place in the type of into (see the
// package comment). Text is handed on as [Visible] shows it.
//
// Errors: an *[Error] for everything that is wrong with the text, and the
// error of r, with the name before it, when reading fails. On an error the
// value of into is partly filled and must not be used.
func Decode(r io.Reader, name string, into any) (*File, error) {
	text, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	f := &File{Name: name, Text: text}
	if err := f.checkText(); err != nil {
		return nil, err
	}
	var raw toml.Primitive
	md, err := toml.Decode(string(text), &raw)
	if err != nil {
		return nil, f.syntaxError(err)
	}
	var tree any
	if err := md.PrimitiveDecode(raw, &tree); err != nil {
		return nil, f.syntaxError(err)
	}
	table, _ := tree.(map[string]any)
	// In a file without faults nobody asks where a key stands. If there is one,
	// go again in the order of the file and with places, for a good message.
	if f.decodeInto(table, into) != nil {
		f.index()
		return f, f.decodeInto(table, into)
	}
	return f, nil
}

// checkText refuses what cannot be a file of ours before it is parsed.
func (f *File) checkText() error {
	switch {
	case len(f.Text) > MaxBytes:
		return f.whole(0, fmt.Sprintf("is larger than %d MiB, the most that is read", MaxBytes>>20), "check that this is the file you meant")
	case bytes.HasPrefix(f.Text, []byte("\xff\xfe")) || bytes.HasPrefix(f.Text, []byte("\xfe\xff")):
		return f.whole(0, "is text in UTF-16, and must be UTF-8", "save it again as UTF-8")
	}
	bad := bytes.IndexByte(f.Text, 0)
	if bad < 0 && !utf8.Valid(f.Text) {
		for bad = 0; ; {
			r, n := utf8.DecodeRune(f.Text[bad:])
			if r == utf8.RuneError && n <= 1 {
				break
			}
			bad += n
		}
	}
	if bad >= 0 {
		return f.whole(f.lineNumber(bad), fmt.Sprintf("is not a text file: byte 0x%02x", f.Text[bad]),
			"check that this is the file you meant, and save it as UTF-8 text")
	}
	if at := tooDeep(f.Text); at >= 0 {
		return f.errorAt(span{at, 1}, fmt.Sprintf("nests deeper than %d levels", maxDepth), "", nil)
	}
	if n := bytes.Count(f.Text, []byte("=")) + bytes.Count(f.Text, []byte(",")) + bytes.Count(f.Text, []byte("[")); n > maxValues {
		return f.whole(0, fmt.Sprintf("holds more than %d values, the most that is read", maxValues), "check that this is the file you meant")
	}
	return nil
}

// whole is a fault of a file that no key has.
func (f *File) whole(line int, message, hint string) error {
	return &Error{Name: f.Name, Line: line, Message: message, Reason: message, advice: Plain(hint)}
}

// syntaxError turns the TOML library's error into ours, at the same place.
func (f *File) syntaxError(err error) error {
	var pe toml.ParseError
	if !errors.As(err, &pe) {
		return f.errorAt(span{-1, 0}, strings.TrimPrefix(err.Error(), "toml: "), "", err)
	}
	at := min(max(pe.Position.Start, 0), len(f.Text))
	if line := f.lineNumber(at); line != pe.Position.Line {
		at = lineStart(f.Text, pe.Position.Line)
	}
	if at > 0 && f.Text[at-1] == '\n' && strings.Contains(pe.Message, `but got '\n'`) {
		at-- // the line that ends too soon, not the one after it
	}
	msg := strings.TrimSuffix(pe.Message, ".")
	if msg != "" && msg[0] >= 'A' && msg[0] <= 'Z' && !strings.HasPrefix(msg, "TOML") {
		msg = strings.ToLower(msg[:1]) + msg[1:]
	}
	hint := ""
	line := f.lineAt(at)
	switch {
	case strings.Contains(msg, `expected value but found '\n'`):
		msg = "has no value behind the ="
	case strings.Contains(msg, "expected value but found"):
		hint = `text stands in quotes, for example what = "sphere 2.5 in"`
		if m := bareText.FindStringSubmatch(line); m != nil {
			msg, hint = "is text without quotes", "put it in quotes: "+m[1]+`"`+m[2]+`"`
		}
	case strings.Contains(msg, "to end table name"), strings.Contains(msg, "table array name delimiter"):
		msg, hint = "the name of a table is not closed", "close it with as many brackets as opened it, such as [[piece]]"
	case strings.Contains(msg, "strings cannot contain newlines"):
		msg, hint = "a text is not closed before the line ends", "put a quote mark at its end: "+strings.TrimSpace(line)+openQuote(line)
	case strings.Contains(msg, "to end with a newline"):
		if m := innerInch.FindStringSubmatch(line); m != nil {
			msg, hint = "a quote mark inside a text ends it", "write inches as in: "+m[1]+`"`+inchMark.ReplaceAllString(m[2], "${1}in$2")+`"`
		} else {
			msg = "goes on after the value; one line holds one key"
		}
	case strings.HasPrefix(msg, "expected '.' or '='"), strings.Contains(msg, "keys cannot contain"), strings.Contains(msg, "bare keys cannot"):
		msg, hint = "is no key = value", `write one on each line, such as name = "rock pools", and # before words of your own`
	}
	return f.errorAt(span{at, max(pe.Position.Len, 1)}, msg, hint, nil)
}

var (
	bareText  = regexp.MustCompile(`^\s*([\w-]+\s*=\s*)[“”„]?(\pL[^"'#“”„]*?)[“”„]?\s*(?:#.*)?$`)
	innerInch = regexp.MustCompile(`^\s*([\w-]+\s*=\s*)"(.*\d\s*".*?)"?\s*(?:#.*)?$`)
	inchMark  = regexp.MustCompile(`(\d)\s*"(\S?)`)
)

// openQuote returns the mark that closes the text which a line leaves open.
func openQuote(line string) string {
	if at := strings.IndexAny(line, `"'`); at >= 0 {
		return line[at : at+1]
	}
	return `"`
}

// lineAt returns the line in which a byte stands.
func (f *File) lineAt(at int) string {
	from := bytes.LastIndexByte(f.Text[:at], '\n') + 1
	line, _, _ := bytes.Cut(f.Text[from:], []byte("\n"))
	return strings.TrimRight(string(line), "\r")
}

// lineStart returns the byte offset at which the line with this number begins.
func lineStart(text []byte, line int) int {
	at := 0
	for ; line > 1; line-- {
		next := bytes.IndexByte(text[at:], '\n')
		if next < 0 {
			break
		}
		at += next + 1
	}
	return at
}
