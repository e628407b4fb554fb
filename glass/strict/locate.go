package strict

import (
	"bytes"
	"strconv"
	"strings"
)

// span is a part of the text, in bytes.
type span struct{ start, length int }

// Keys of File.where are the path joined by NUL bytes; the same with
// valueMark after it is the place of the value.
const valueMark = "\x00\x00value"

func join(key []string) string { return strings.Join(key, "\x00") }

// find returns the place of a key, and whether it is the key itself or only
// the nearest table above it.
func (f *File) find(key []string) (span, bool) {
	f.index()
	for n := len(key); n > 0; n-- {
		if at, ok := f.where[join(key[:n])]; ok {
			return at, n == len(key)
		}
	}
	return span{-1, 0}, false
}

// Has reports whether the key itself stands in the file.
func (f *File) Has(key ...string) bool {
	_, exact := f.find(key)
	return exact
}

// typed returns a scalar value as it was typed, without quotes, or "".
func (f *File) typed(key []string) string {
	at, ok := f.where[join(key)+valueMark]
	if !ok {
		return ""
	}
	s := string(f.Text[at.start : at.start+at.length])
	if s == "" || s[0] == '[' || s[0] == '{' || strings.Contains(s, "\n") {
		return ""
	}
	if (s[0] == '"' || s[0] == '\'') && len(s) >= 2 {
		s = s[1 : len(s)-1]
	}
	return s
}

// index walks text that is known to be valid TOML and notes where every key
// and every list element stands. It does so once.
func (f *File) index() {
	if f.indexed {
		return
	}
	f.indexed = true
	f.where, f.lists = map[string]span{}, map[string]int{}
	s := scanner{f: f, text: f.Text}
	var table []string
	for s.space(true); s.pos < len(s.text); s.space(true) {
		before := s.pos
		switch {
		case bytes.HasPrefix(s.text[s.pos:], []byte("[[")):
			start := s.pos
			s.pos += 2
			parts := s.key()
			s.pos += 2
			table = s.resolve(parts[:len(parts)-1])
			table = append(table, parts[len(parts)-1].name)
			n := f.lists[join(table)]
			f.lists[join(table)] = n + 1
			table = append(table, strconv.Itoa(n))
			f.where[join(table)] = span{start, s.pos - start}
		case s.text[s.pos] == '[':
			start := s.pos
			s.pos++
			table = s.resolve(s.key())
			s.pos++
			f.where[join(table)] = span{start, s.pos - start}
		default:
			s.pair(table)
		}
		if s.pos <= before { // cannot happen in valid TOML; never hang
			return
		}
	}
}

// scanner is a cursor over valid TOML.
type scanner struct {
	f    *File
	text []byte
	pos  int
}

// part is one piece of a dotted key.
type part struct {
	name string
	at   span
}

// resolve turns the parts of a table header into a path, taking the last
// element wherever a part names a list of tables.
func (s *scanner) resolve(parts []part) []string {
	var path []string
	for _, p := range parts {
		path = append(path, p.name)
		if n, ok := s.f.lists[join(path)]; ok && n > 0 {
			path = append(path, strconv.Itoa(n-1))
		}
	}
	return path
}

func (s *scanner) peek() byte {
	if s.pos < len(s.text) {
		return s.text[s.pos]
	}
	return 0
}

// space skips blanks and, when lines is set, line ends and comments.
func (s *scanner) space(lines bool) {
	for s.pos < len(s.text) {
		switch c := s.text[s.pos]; {
		case c == ' ' || c == '\t':
		case lines && (c == '\n' || c == '\r'):
		case lines && c == '#':
			n := bytes.IndexByte(s.text[s.pos:], '\n')
			if n < 0 {
				s.pos = len(s.text)
				return
			}
			s.pos += n
		default:
			return
		}
		s.pos++
	}
}

// key reads a dotted key; it always returns at least one part.
func (s *scanner) key() []part {
	var parts []part
	for {
		s.space(false)
		start := s.pos
		var name string
		if c := s.peek(); c == '"' || c == '\'' {
			s.quoted()
			name = string(s.text[start:s.pos])
			if unquoted, err := strconv.Unquote(name); err == nil && c == '"' {
				name = unquoted
			} else {
				name = strings.Trim(name, string(c))
			}
		} else {
			for s.pos < len(s.text) && !strings.ContainsRune(" \t\r\n.=[]{},#", rune(s.text[s.pos])) {
				s.pos++
			}
			name = string(s.text[start:s.pos])
		}
		parts = append(parts, part{name, span{start, s.pos - start}})
		s.space(false)
		if s.peek() != '.' {
			return parts
		}
		s.pos++
	}
}

// pair reads "key = value" in the table with this path.
func (s *scanner) pair(table []string) {
	path := append([]string{}, table...)
	for _, p := range s.key() {
		path = append(path, p.name)
		if at, ok := s.f.where[join(path)]; !ok || at.length == 0 {
			s.f.where[join(path)] = p.at
		}
	}
	s.space(false)
	if s.peek() == '=' {
		s.pos++
	}
	s.space(false)
	s.value(path)
}

// value reads one value and notes its place and what is inside it.
func (s *scanner) value(path []string) {
	start := s.pos
	switch s.peek() {
	case '"', '\'':
		s.quoted()
	case '[':
		s.pos++
		n := 0
		for s.space(true); s.pos < len(s.text) && s.peek() != ']'; s.space(true) {
			before := s.pos
			if s.peek() == ',' {
				s.pos++
				continue
			}
			element := append(append([]string{}, path...), strconv.Itoa(n))
			s.value(element)
			s.f.where[join(element)] = s.f.where[join(element)+valueMark]
			if n++; s.pos <= before {
				break
			}
		}
		s.f.lists[join(path)] = n
		s.pos++
	case '{':
		s.pos++
		for s.space(true); s.pos < len(s.text) && s.peek() != '}'; s.space(true) {
			before := s.pos
			if s.peek() == ',' {
				s.pos++
				continue
			}
			if s.pair(path); s.pos <= before {
				break
			}
		}
		s.pos++
	default:
		for s.pos < len(s.text) && !strings.ContainsRune(",]}#\r\n", rune(s.text[s.pos])) {
			s.pos++
		}
		s.pos = start + len(bytes.TrimRight(s.text[start:s.pos], " \t"))
	}
	s.pos = min(s.pos, len(s.text))
	s.f.where[join(path)+valueMark] = span{start, s.pos - start}
}

// quoted skips a string of any of the four kinds.
func (s *scanner) quoted() { s.pos = skipString(s.text, s.pos) }

// skipString returns the offset just after the string that begins at pos, or
// the end of its line (of the text, for a long string) when it is not closed.
func skipString(text []byte, pos int) int {
	q := text[pos]
	long := []byte{q, q, q}
	if bytes.HasPrefix(text[pos:], long) {
		for i := pos + 3; i < len(text); i++ {
			if text[i] == '\\' && q == '"' {
				i++
			} else if bytes.HasPrefix(text[i:], long) {
				i += 3
				for i < len(text) && text[i] == q { // up to two quotes may end the text
					i++
				}
				return i
			}
		}
		return len(text)
	}
	i := pos + 1
	for ; i < len(text) && text[i] != '\n'; i++ {
		if text[i] == '\\' && q == '"' {
			i++
		} else if text[i] == q {
			return i + 1
		}
	}
	return min(i, len(text))
}

// tooDeep returns where lists, tables or a dotted key nest beyond maxDepth in
// text that may not be valid, or -1.
func tooDeep(text []byte) int {
	depth, dots := 0, 0
	for i := 0; i < len(text); i++ {
		switch text[i] {
		case '#':
			n := bytes.IndexByte(text[i:], '\n')
			if n < 0 {
				return -1
			}
			i += n - 1
		case '"', '\'':
			i = skipString(text, i) - 1
		case '[', '{':
			depth++
			dots = 0
		case ']', '}':
			depth = max(0, depth-1)
			dots = 0
		case '.':
			dots++
		case '=', ',', '\n':
			dots = 0
		}
		if depth > maxDepth || dots > maxDepth {
			return i
		}
	}
	return -1
}
