package strict

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Error is something wrong at a place in a file.
type Error struct {
	Name    string // the file
	Line    int    // from 1; 0 when the whole file is meant
	Message string // what is wrong there
	Reason  string // that without the key, which Message names
	Key     string // the key itself, "" for a message of its own

	between string // key and reason in Message
	advice  Advice // what to do, "" for that of the cause
	line    string // the line as written
	column  int    // in characters, from 0
	width   int    // in characters
	cause   error
}

// Error returns one line, "NAME:LINE: message".
func (e *Error) Error() string {
	if e.Line == 0 {
		return e.Name + ": " + oneLine(Brief(e.Message))
	}
	return fmt.Sprintf("%s:%d: %s", e.Name, e.Line, oneLine(Brief(e.Message)))
}

// Hint returns one thing to do, or "".
func (e *Error) Hint() string { return Brief(e.Advice().String()) }

// Advice is the hint as data.
func (e *Error) Advice() Advice {
	if e.advice != "" {
		return e.advice
	}
	return AdviceOf(e.cause)
}

// Called is the message with the key called by a name of the reader's, "" for a
// message that names no key.
func (e *Error) Called(name string) string {
	if name == "" {
		return e.Reason
	}
	return name + e.between + e.Reason
}

// Unwrap returns the error that the message was made from, or nil.
func (e *Error) Unwrap() error { return e.cause }

// contextWidth is how many characters of a long line Context shows.
const contextWidth = 66

// Context returns the line with a caret under the part that is meant:
//
//	12 | what = "sphere 2.5"
//	   |        ^^^^^^^^^^^^
//
// It is "" when there is no line to show. Long lines are cut around the caret.
func (e *Error) Context() string {
	if e.line == "" {
		return ""
	}
	line := []rune(strings.Map(func(r rune) rune {
		if r == '\t' || hidden(r) { // one column each, or the caret is elsewhere
			return ' '
		}
		return r
	}, e.line))
	column, width := min(e.column, len(line)), max(e.width, 1)
	if len(line) > contextWidth {
		from := max(0, min(column-contextWidth/3, len(line)-contextWidth))
		cut := append([]rune{}, line[from:min(len(line), from+contextWidth)]...)
		if from > 0 {
			cut[0] = '…'
		}
		if from+contextWidth < len(line) {
			cut[len(cut)-1] = '…'
		}
		line, column = cut, column-from
	}
	width = max(1, min(width, len(line)-column))
	number := strconv.Itoa(e.Line)
	return fmt.Sprintf("%s | %s\n%s | %s%s", number, strings.TrimRight(string(line), " "),
		strings.Repeat(" ", len(number)), strings.Repeat(" ", column), strings.Repeat("^", width))
}

// Errorf returns an *[Error] at the given key.
//
// key is the path to it; the element of a list is its index from 0, written as
// a number: "piece", "1", "what". In the message elements count from 1, and
// are named only when the list has more than one:
//
//	load.toml:12: piece 2: what: no such shape
//
// A message that begins with the value as typed joins the key without a colon
// ("strain_point 560 °C: must be below annealing_point 548 °C"). When the key
// does not stand in the file, the line is that of the table it belongs to. An
// error wrapped with %w keeps its hint.
func (f *File) Errorf(key []string, format string, args ...any) error {
	return f.AdviseErrorf(key, "", format, args...)
}

// HintErrorf is Errorf with a hint, one thing for the reader to do.
func (f *File) HintErrorf(key []string, hint, format string, args ...any) error {
	return f.AdviseErrorf(key, Plain(hint), format, args...)
}

// AdviseErrorf is HintErrorf with a hint that names settings.
func (f *File) AdviseErrorf(key []string, a Advice, format string, args ...any) error {
	err := fmt.Errorf(format, args...)
	return f.errorAtKey(key, err.Error(), a, errors.Unwrap(err))
}

// At returns an *[Error] at the place of a key, with a message that names it
// itself. hint may be empty; cause may be nil, and lends its hint.
func (f *File) At(key []string, message, hint string, cause error) error {
	at, _ := f.find(key)
	if v, ok := f.where[join(key)+valueMark]; ok {
		at = v
	}
	return f.errorAt(at, message, hint, cause)
}

// Line returns the line on which the key stands, or that of the table it
// belongs to, or 0.
func (f *File) Line(key ...string) int {
	at, _ := f.find(key)
	if at.start < 0 {
		return 0
	}
	return f.lineNumber(at.start)
}

// lineNumber is the number, from 1, of the line in which a byte stands.
func (f *File) lineNumber(at int) int { return 1 + bytes.Count(f.Text[:at], []byte("\n")) }

func (f *File) errorAtKey(key []string, message string, a Advice, cause error) *Error {
	at, exact := f.find(key)
	typed := ""
	if exact {
		typed = f.typed(key)
		if v, ok := f.where[join(key)+valueMark]; ok {
			at = v
		}
	}
	place, between := f.place(key), ": "
	text := message
	if typed != "" && beginsWith(message, typed) {
		between = " "
	}
	if place != "" {
		text = place + between + message
	}
	e := f.errorAt(at, text, "", cause)
	e.Reason, e.between, e.advice = message, between, a
	if n := len(key); n > 0 && strings.Trim(key[n-1], "0123456789") != "" { // no place in a list
		e.Key = key[n-1]
	}
	return e
}

// place names a key for a reader: "piece 2: what". A list of one needs no
// number, and at the top level no name either when a key inside it is meant.
func (f *File) place(key []string) string {
	var words []string
	for i := 0; i < len(key); i++ {
		word, first := key[i], i
		for i+1 < len(key) {
			count, isList := f.lists[join(key[:i+1])]
			n, err := strconv.Atoi(key[i+1])
			if !isList || err != nil {
				break
			}
			if i++; count > 1 {
				word += " " + strconv.Itoa(n+1)
			}
		}
		if first == 0 && i == 1 && word == key[0] && len(key) > 2 {
			continue
		}
		words = append(words, word)
	}
	return strings.Join(words, ": ")
}

// beginsWith reports whether the message opens with the value, as a whole.
func beginsWith(message, value string) bool {
	rest, ok := strings.CutPrefix(message, value)
	return ok && (rest == "" || rest[0] == ':' || rest[0] == ' ')
}

// errorAt makes an error at a place in the text; a negative start means the
// whole file.
func (f *File) errorAt(at span, message, hint string, cause error) *Error {
	e := &Error{Name: f.Name, Message: message, Reason: message, advice: Plain(hint), cause: cause}
	if at.start < 0 {
		return e
	}
	start := min(at.start, len(f.Text))
	e.Line = f.lineNumber(start)
	from := bytes.LastIndexByte(f.Text[:start], '\n') + 1
	to := len(f.Text)
	if n := bytes.IndexByte(f.Text[start:], '\n'); n >= 0 {
		to = start + n
	}
	e.line = strings.TrimRight(string(f.Text[from:to]), "\r")
	e.column = utf8.RuneCount(f.Text[from:start])
	e.width = utf8.RuneCount(f.Text[start:min(start+max(at.length, 1), max(to, start))])
	return e
}
