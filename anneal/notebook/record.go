package notebook

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"lehr/glass/strict"
	"lehr/glass/unit"
)

// Record is one firing. What was not written down is zero.
type Record struct {
	Name    string // of the file, without .toml
	Date    time.Time
	Kiln    string
	Load    File
	Program File
	Log     File
	Opened  time.Time
	At      unit.Temp     // reading at which it was opened
	Falls   time.Duration // time constant of its natural fall, as fitted from the log
	Lag     unit.Delta    // greatest lag behind the program, as measured in the log
	Words   string
	Pieces  []Piece
	Unknown []string // keys that are not ours, kept
}

// File is a file that a record refers to: its path from the folder of the
// notebook, with slashes, and the SHA-256 of what it held then.
type File struct{ Path, SHA256 string }

// Piece is one kind of piece in a firing.
type Piece struct {
	What      string // as in a load: "sphere 3in"
	Count     int
	Glass     string
	Colors    []string
	Got       unit.Length // the size that came out
	Mass      unit.Mass   // of one piece
	Rods      []RodUse
	Result    Result
	Of        int // how many came out so, 0 for all
	Days      int // until it cracked, with CrackedLater
	Crack     string
	Reading   string    // as typed, for a polariscope
	In        string    // "air" or "liquid"
	Predicted Predicted // retardation that was computed
	Photo     File
	Note      string
}

// RodUse is what was taken of a rod for all pieces of a kind.
type RodUse struct {
	Rod           string
	Before, After unit.Mass
}

// ValueError is a value that cannot be kept.
type ValueError struct{ Text, Reason, hint string }

func (e *ValueError) Error() string { return e.Text + ": " + e.Reason }

// Hint returns one thing to do.
func (e *ValueError) Hint() string { return e.hint }

// tree is a record as TOML has it.
type tree = map[string]any

// Read reads a record. name is the file, for messages, without its folder.
//
// Unknown keys are kept and named in Unknown. Errors carry file and line: for a
// value of the wrong kind, a date that is none, grams after above grams
// before, a result that is none.
func Read(text []byte, name string) (Record, error) {
	r, err := read(text, name, true)
	return r, err
}

func read(text []byte, name string, fast bool) (Record, error) {
	var doc tree
	if fast {
		if t, ok := scan(text); ok {
			if r, err := fromTree(t, nil, name); err == nil {
				return r, nil
			}
		}
	}
	f, err := strict.Decode(bytes.NewReader(text), name, &doc)
	if err != nil {
		return Record{}, err
	}
	return fromTree(doc, f, name)
}

// reader takes values out of a tree, and remembers the first fault.
type reader struct {
	file *strict.File
	path []string
	t    tree
	used map[string]bool
	err  *error
}

func (r reader) fail(key, hint, format string, args ...any) {
	if *r.err != nil {
		return
	}
	if r.file == nil {
		*r.err = fmt.Errorf(format, args...)
		return
	}
	*r.err = r.file.HintErrorf(append(slices.Clone(r.path), key), hint, format, args...)
}

func (r reader) value(key string) (any, bool) {
	r.used[key] = true
	v, ok := r.t[key]
	return v, ok
}

func (r reader) text(key string) string {
	v, ok := r.value(key)
	if !ok {
		return ""
	}
	switch v := v.(type) {
	case string:
		return v
	case time.Time: // a date without quotes is as good
		return v.Format(time.RFC3339)
	}
	r.fail(key, "put it in quotes", "must be text")
	return ""
}

func (r reader) number(key string, low, high int) int {
	v, ok := r.value(key)
	if !ok {
		return 0
	}
	n, ok := v.(int64)
	if !ok {
		r.fail(key, "", "must be a whole number")
		return 0
	}
	if n < int64(low) || n > int64(high) {
		r.fail(key, "", "%d: must be from %d to %d", n, low, high)
		return 0
	}
	return int(n)
}

func (r reader) list(key string) []string {
	v, ok := r.value(key)
	if !ok {
		return nil
	}
	if s, ok := v.(string); ok {
		return []string{s}
	}
	all, ok := v.([]any)
	if !ok {
		r.fail(key, `write ["cobalt", "clear"]`, "must be a list of texts")
		return nil
	}
	var out []string
	for _, x := range all {
		s, ok := x.(string)
		if !ok {
			r.fail(key, `write ["cobalt", "clear"]`, "must be a list of texts")
			return nil
		}
		out = append(out, s)
	}
	return out
}

func (r reader) tables(key string) []tree {
	v, ok := r.value(key)
	if !ok {
		return nil
	}
	all, ok := tablesOf(v)
	if !ok {
		r.fail(key, "write [["+key+"]] before each one", "must be a list of tables")
	}
	return all
}

// tablesOf takes a list of tables in either of the ways that TOML writes it.
func tablesOf(v any) ([]tree, bool) {
	switch v := v.(type) {
	case []tree:
		return v, true
	case []any:
		var out []tree
		for _, x := range v {
			t, ok := x.(tree)
			if !ok {
				return nil, false
			}
			out = append(out, t)
		}
		return out, true
	}
	return nil, false
}

// quantity reads a value that reads its own text.
func quantity[T any](r reader, key string, parse func(string) (T, error)) (x T) {
	s := r.text(key)
	if s == "" {
		return x
	}
	x, err := parse(s)
	if err != nil {
		r.fail(key, "", "%w", err)
	}
	return x
}

// parseDate reads a time with its offset: "2026-11-25T22:15:00-05:00".
func parseDate(s string) (time.Time, error) {
	t, err := time.Parse(time.RFC3339, s)
	if err != nil {
		return t, &ValueError{s, "is no date and time with its offset", `write "2026-11-25T22:15:00-05:00"`}
	}
	return t, nil
}

func (r reader) file2(key string) File {
	return File{r.text(key), r.text(key + "_sha256")}
}

// unknown lists the keys that nobody asked for.
func (r reader) unknown(at string) []string {
	var out []string
	for key := range r.t {
		if !r.used[key] {
			out = append(out, at+key)
		}
	}
	slices.Sort(out)
	return out
}

func fromTree(t tree, f *strict.File, name string) (Record, error) {
	var err error
	top := reader{file: f, t: t, used: map[string]bool{}, err: &err}
	rec := Record{
		Name:    strings.TrimSuffix(name, Ext),
		Date:    quantity(top, "date", parseDate),
		Kiln:    top.text("kiln"),
		Load:    top.file2("load"),
		Program: top.file2("program"),
		Log:     top.file2("log"),
		Opened:  quantity(top, "opened", parseDate),
		At:      quantity(top, "opened_at", unit.ParseTemp),
		Falls:   quantity(top, "time_constant", unit.ParseDuration),
		Lag:     quantity(top, "lag", unit.ParseDelta),
		Words:   top.text("words"),
	}
	for i, pt := range top.tables("piece") {
		in := reader{file: f, path: []string{"piece", strconv.Itoa(i)}, t: pt, used: map[string]bool{}, err: &err}
		p := Piece{
			What:    in.text("what"),
			Count:   max(1, in.number("count", 1, 10000)),
			Glass:   in.text("glass"),
			Colors:  in.list("color"),
			Got:     quantity(in, "got", unit.ParseLength),
			Mass:    quantity(in, "mass", unit.ParseMass),
			Result:  quantity(in, "result", ParseResult),
			Of:      in.number("result_of", 1, 10000),
			Days:    in.number("days", 0, 100000),
			Crack:   in.text("crack"),
			Reading: in.text("reading"),
			In:      in.text("reading_in"),
			Photo:   in.file2("photo"),
			Note:    in.text("note"),
		}
		if p.Of > p.Count {
			in.fail("result_of", "", "%d: there are %d", p.Of, p.Count)
		}
		p.Predicted.Worst, _ = in.nanometers("predicted_worst")
		p.Predicted.Nanometers, p.Predicted.At = in.nanometers("predicted")
		if p.In != "" && p.In != "air" && p.In != "liquid" {
			in.fail("reading_in", `write "air" or "liquid"`, "%s: must be air or liquid", p.In)
		}
		for j, rt := range in.tables("rod") {
			at := reader{file: f, path: []string{"piece", strconv.Itoa(i), "rod", strconv.Itoa(j)}, t: rt, used: map[string]bool{}, err: &err}
			u := RodUse{at.text("rod"), quantity(at, "before", unit.ParseMass), quantity(at, "after", unit.ParseMass)}
			if u.After > u.Before && u.Before > 0 {
				at.fail("after", "weigh again, or change them over", "%s: more than the %s before", u.After, u.Before)
			}
			p.Rods = append(p.Rods, u)
			rec.Unknown = append(rec.Unknown, at.unknown(fmt.Sprintf("piece %d: rod %d: ", i+1, j+1))...)
		}
		rec.Unknown = append(rec.Unknown, in.unknown(fmt.Sprintf("piece %d: ", i+1))...)
		rec.Pieces = append(rec.Pieces, p)
	}
	rec.Unknown = append(rec.Unknown, top.unknown("")...)
	return rec, err
}

// Used returns the glass that went into all pieces of the kind; ok is false
// when not every rod was weighed before and after.
func (p Piece) Used() (m unit.Mass, ok bool) {
	for _, r := range p.Rods {
		if r.Before == 0 {
			return 0, false
		}
		m += r.Before - r.After
	}
	return m, len(p.Rods) > 0 && m > 0
}

// Loss returns the share of the glass taken up that was lost at the torch:
// 1 − mass · count/used. ok is false when something was not weighed.
func (p Piece) Loss() (share float64, ok bool) {
	used, ok := p.Used()
	if !ok || p.Mass == 0 {
		return 0, false
	}
	return 1 - float64(p.Mass)*float64(p.Count)/float64(used), true
}

var sizePart = strings.NewReplacer("×", " ", "x", " ")

// Size returns the first measure of what was meant: the diameter of a sphere.
// It is 0 when there is none.
func (p Piece) Size() unit.Length {
	words := strings.Fields(p.What)
	for n := 1; n <= 3 && n < len(words); n++ {
		// "sphere 3in", "sphere 3 in", "sphere 2 1/2 in"
		if l, err := unit.ParseLength(strings.Join(words[1:1+n], " ")); err == nil {
			return l
		}
	}
	if len(words) > 1 {
		if first := strings.Fields(sizePart.Replace(strings.Join(words[1:], " "))); len(first) > 0 {
			if l, err := unit.ParseLength(first[0]); err == nil {
				return l
			}
		}
	}
	return 0
}
