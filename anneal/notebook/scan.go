package notebook

import (
	"bytes"
	"strconv"
	"strings"

	"lehr/glass/strict"
)

// Ext is the ending of a record's file.
const Ext = ".toml"

// scan reads the plain part of TOML in which records are written: comments,
// [[piece]] and [[piece.rod]], and keys with a text without escapes, a whole
// number, a truth value or a list of texts on one line. ok is false for
// anything else, which a TOML library then reads. It is many times as fast,
// and gives the same tree (scan_test.go).
func scan(text []byte) (doc tree, ok bool) {
	if !plain(text) {
		return nil, false
	}
	doc = tree{}
	at := doc
	for len(text) > 0 {
		line := text
		if n := bytes.IndexByte(text, '\n'); n >= 0 {
			line, text = text[:n], text[n+1:]
		} else {
			text = nil
		}
		s := strings.Trim(string(bytes.TrimSuffix(line, []byte("\r"))), " \t")
		switch {
		case s == "" || s[0] == '#':
			continue
		case s[0] == '[':
			if at = header(doc, comment(s)); at == nil {
				return nil, false
			}
			continue
		}
		key, value, found := strings.Cut(s, "=")
		key = strings.TrimRight(key, " \t")
		if !found || !bare(key) {
			return nil, false
		}
		if _, twice := at[key]; twice {
			return nil, false
		}
		v, rest, ok := one(strings.TrimLeft(value, " \t"))
		if !ok || comment(rest) != "" {
			return nil, false
		}
		at[key] = v
	}
	return doc, true
}

// plain refuses control characters, what is not UTF-8, and what package strict
// spells out, such as a turn of the order of writing: all that goes the slow way.
func plain(text []byte) bool {
	beyond := false // ASCII
	for i, c := range text {
		beyond = beyond || c >= 0x80
		if c < ' ' && c != '\n' && c != '\t' && (c != '\r' || i+1 == len(text) || text[i+1] != '\n') || c == 0x7f {
			return false
		}
	}
	if !beyond {
		return true
	}
	s := strings.ReplaceAll(string(text), "\r", "")
	return strict.Visible(s) == s
}

// comment cuts a comment and blanks from the end of a line without texts.
func comment(s string) string {
	if n := strings.IndexByte(s, '#'); n >= 0 {
		s = s[:n]
	}
	return strings.Trim(s, " \t")
}

// header opens the table of a header.
func header(doc tree, s string) tree {
	last := func(t tree, key string, more bool) tree {
		if _, there := t[key]; !there && more {
			t[key] = []tree{}
		}
		list, ok := t[key].([]tree)
		if !ok {
			return nil
		}
		if more {
			list = append(list, tree{})
			t[key] = list
		}
		if len(list) == 0 {
			return nil
		}
		return list[len(list)-1]
	}
	switch s {
	case "[[piece]]":
		return last(doc, "piece", true)
	case "[[piece.rod]]":
		p := last(doc, "piece", false)
		if p == nil {
			return nil
		}
		return last(p, "rod", true)
	}
	return nil
}

func bare(key string) bool {
	for _, r := range key {
		if !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '_' || r == '-') {
			return false
		}
	}
	return key != ""
}

// one reads a value at the start of s.
func one(s string) (v any, rest string, ok bool) {
	if s == "" {
		return nil, "", false
	}
	switch c := s[0]; {
	case c == '"' || c == '\'':
		return quoted(s)
	case c == '[':
		list := []any{}
		s = strings.TrimLeft(s[1:], " \t")
		for {
			if s == "" {
				return nil, "", false
			}
			if s[0] == ']' {
				return list, s[1:], true
			}
			x, rest, ok := quoted(s)
			if !ok {
				return nil, "", false
			}
			list = append(list, x)
			s = strings.TrimLeft(rest, " \t")
			if s != "" && s[0] == ',' {
				s = strings.TrimLeft(s[1:], " \t")
			} else if s == "" || s[0] != ']' {
				return nil, "", false
			}
		}
	case strings.HasPrefix(s, "true"):
		return true, s[4:], true
	case strings.HasPrefix(s, "false"):
		return false, s[5:], true
	case c >= '1' && c <= '9' || c == '0' && (len(s) == 1 || strings.IndexByte(" \t#", s[1]) >= 0):
		n := 0
		for n < len(s) && s[n] >= '0' && s[n] <= '9' {
			n++
		}
		if n > 9 || n < len(s) && strings.IndexByte(" \t#", s[n]) < 0 {
			return nil, "", false
		}
		x, err := strconv.ParseInt(s[:n], 10, 64)
		return x, s[n:], err == nil
	}
	return nil, "", false
}

// quoted reads a text without escapes at the start of s.
func quoted(s string) (v any, rest string, ok bool) {
	q := s[0]
	if q != '"' && q != '\'' || strings.HasPrefix(s, `"""`) || strings.HasPrefix(s, `'''`) {
		return nil, "", false
	}
	n := strings.IndexByte(s[1:], q)
	if n < 0 || q == '"' && strings.IndexByte(s[1:1+n], '\\') >= 0 {
		return nil, "", false
	}
	return s[1 : 1+n], s[n+2:], true
}
