package piece

import (
	"strings"

	"lehr/glass"
)

// ofGlass finds the glass behind a piece: "sphere 2in of soda-104".
var ofGlass = pattern(`(?i)^(.*\S)\s+of\s+([\pL][\pL\pN._-]*)\s*$`)

// ParseOf is [Parse] for a piece that may say which glass it is of, where no
// key beside it can: "6 x sphere 2.5in of soda-104". The name is returned as
// typed, "" if there is none; the Glass of the piece is left to the caller.
func ParseOf(text string) (p Piece, glassName string, err error) {
	if p, err = Parse(text); err == nil {
		return p, "", nil // a stone of a material, too
	}
	head, _, _ := strings.Cut(text, ";")
	if _, stone, _ := parseStone(head); stone {
		return p, "", err
	}
	if m := ofGlass().FindStringSubmatch(head); m != nil {
		glassName = m[2]
		p, err = Parse(withoutGlass(text))
	}
	if e, ok := err.(*Error); ok && e.glass != "" {
		e.hint = `write "` + e.what + " of " + e.glass + `"`
	}
	return p, glassName, err
}

// withoutGlass takes the name of its glass out of the words for a piece.
func withoutGlass(text string) string {
	head, inside, _ := strings.Cut(text, ";")
	if m := ofGlass().FindStringSubmatch(head); m != nil {
		if head = m[1]; inside != "" {
			head += ";" + inside
		}
		return head
	}
	return text
}

// withGlass returns the error of a piece that names its glass, which Parse does
// not read; nil if that is not what is wrong.
func withGlass(text string) *Error {
	rest, name := text, ""
	if m := ofGlass().FindStringSubmatch(text); m != nil {
		rest, name = m[1], m[2]
	} else if at := strings.LastIndexByte(strings.TrimSpace(text), ' '); at > 0 {
		rest, name = text[:at], strings.TrimSpace(text[at:])
		if _, err := glass.Find(name); err != nil {
			return nil
		}
	}
	if name == "" {
		return nil
	}
	if _, err := parsePiece(rest); err != nil {
		return nil
	}
	rest = strings.TrimSpace(rest)
	return &Error{Text: shorten(strings.TrimSpace(text)), Reason: "names its glass", hint: `write glass = "` + name + `" beside what = "` + rest + `"`, what: rest, glass: name}
}
