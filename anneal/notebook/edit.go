package notebook

import (
	"bytes"
	"fmt"
	"reflect"
	"strings"

	"lehr/glass/strict"
)

// Change is one value to set in a record, or something to add to it.
type Change struct {
	Piece int    // from 1; 0 for the firing as a whole
	Key   string // "result"; "rod" adds a rod, "piece" a piece
	Value string // as TOML: quoted text, a number, a list; for "rod" and "piece" the lines of the table
}

// ErrByHand says that a text is written in a way that no change can be put
// into without risk to what else stands there.
var ErrByHand = fmt.Errorf("is written in a way that lehr does not change; mend it with an editor")

// Edit puts changes into the text of a record and leaves every other byte as
// it stands: comments, order, keys that are not ours.
//
// The result is read again and compared: apart from the changes it must say
// the same. Errors: [ErrByHand] when it would not, a piece that is not there,
// and those of [Read] for a value that is none.
func Edit(text []byte, name string, changes []Change) ([]byte, error) {
	before, err := decode(text, name)
	if err != nil {
		return nil, err
	}
	out := bytes.Clone(text)
	if len(out) > 0 && out[len(out)-1] != '\n' {
		out = append(out, '\n')
	}
	for _, c := range changes {
		if before, err = apply(before, c); err != nil {
			return nil, err
		}
		if out, err = edit(out, c); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	after, err := decode(out, name)
	if err != nil || !reflect.DeepEqual(before, after) {
		return nil, fmt.Errorf("%s: %w", name, ErrByHand)
	}
	if _, err := read(out, name, false); err != nil {
		return nil, err
	}
	return out, nil
}

func decode(text []byte, name string) (tree, error) {
	var t tree
	_, err := strict.Decode(bytes.NewReader(text), name, &t)
	return t, err
}

// apply makes the change in the tree, as it ought to be.
func apply(t tree, c Change) (tree, error) {
	add := func(at tree, key string) error {
		value, err := decode([]byte(c.Value), "value")
		if err != nil {
			return err
		}
		list, _ := at[key].([]tree)
		at[key] = append(list, value)
		return nil
	}
	at := t
	if c.Piece > 0 {
		list, _ := tablesOf(t["piece"])
		if c.Piece > len(list) {
			return nil, noPiece(c.Piece, len(list))
		}
		at = list[c.Piece-1]
	}
	if c.Key == "piece" || c.Key == "rod" {
		return t, add(at, c.Key)
	}
	value, err := decode([]byte("x = "+c.Value), "value")
	if err != nil {
		return nil, err
	}
	at[c.Key] = value["x"]
	return t, nil
}

func noPiece(n, of int) error {
	return &ValueError{fmt.Sprintf("piece %d", n), fmt.Sprintf("is not there; the record has %d", of), ""}
}

// edit makes the change in the text.
func edit(text []byte, c Change) ([]byte, error) {
	if c.Key == "piece" {
		return append(text, []byte("\n[[piece]]\n"+c.Value)...), nil
	}
	lines := bytes.SplitAfter(text, []byte("\n"))
	from, to, inner, err := block(lines, c.Piece)
	if err != nil {
		return nil, err
	}
	put := func(at int, line string, replace bool) []byte {
		var out []byte
		for i, l := range lines {
			if i == at {
				out = append(out, line...)
				if replace {
					continue
				}
			}
			out = append(out, l...)
		}
		if at >= len(lines) {
			out = append(out, line...)
		}
		return out
	}
	// Blank lines and comments at the end of a block belong to what follows.
	trim := func(end int) int {
		for end > from {
			s := strings.TrimSpace(string(lines[end-1]))
			if s != "" && s[0] != '#' || end == from {
				break
			}
			end--
		}
		return end
	}
	if c.Key == "rod" {
		return put(trim(to), "[[piece.rod]]\n"+c.Value, false), nil
	}
	for i := from; i < inner; i++ {
		key, rest, ok := strings.Cut(string(lines[i]), "=")
		if !ok || strings.TrimSpace(key) != c.Key {
			continue
		}
		tail := ""
		if _, after, ok := one(strings.TrimLeft(rest, " \t")); ok {
			if n := strings.IndexByte(after, '#'); n >= 0 { // a comment stays
				tail = " " + strings.TrimRight(after[n:], "\r\n")
			}
		}
		end := "\n"
		if strings.HasSuffix(string(lines[i]), "\r\n") {
			end = "\r\n"
		}
		return put(i, strings.TrimRight(key, " \t")+" = "+c.Value+tail+end, true), nil
	}
	return put(trim(inner), c.Key+" = "+c.Value+"\n", false), nil
}

// block returns the lines of a piece, or of the firing as a whole: from its
// first line up to the next piece, and up to its first inner table.
func block(lines [][]byte, piece int) (from, to, inner int, err error) {
	n := 0
	from, to, inner = 0, len(lines), -1
	for i, l := range lines {
		s := strings.TrimSpace(string(l))
		if !strings.HasPrefix(s, "[") {
			continue
		}
		if inner < 0 && n == piece {
			inner = i
		}
		if comment(s) == "[[piece]]" {
			if n == piece {
				to = i
				break
			}
			if n++; n == piece {
				from, inner = i+1, -1
			}
		}
	}
	if n < piece {
		return 0, 0, 0, ErrByHand // it is there, but not as a table of its own
	}
	if inner < 0 || inner > to {
		inner = to
	}
	if to == len(lines) && len(lines) > 0 && len(lines[len(lines)-1]) == 0 {
		to = len(lines) - 1
		inner = min(inner, to)
	}
	return from, to, inner, nil
}
