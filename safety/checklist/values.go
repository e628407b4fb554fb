package checklist

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"lehr/glass/unit"
	"lehr/safety/quantity"
)

// Answer is yes, no, or not given. The zero value is not given, and a rule
// then takes the hazard to be present.
type Answer int

// The answers.
const (
	NotGiven Answer = iota
	Yes
	No
)

// Date is a day as year-month-day, empty if it is not known.
type Date string

// value is one field of Facts: the one way to read it, to write it and to lay
// it over another, whatever its type.
type value interface {
	read(row Fact, v any, today time.Time) error
	text(s unit.System) string // empty if it was not given
	over(from value)
}

// kind is how values of one type are read and written.
type kind[T any] struct {
	read func(row Fact, v any, today time.Time) (T, error)
	text func(x T, s unit.System) string
}

// cell is a field of Facts with its kind.
type cell[T any] struct {
	p *T
	k *kind[T]
}

func (c cell[T]) read(row Fact, v any, today time.Time) (err error) {
	*c.p, err = c.k.read(row, v, today)
	return err
}
func (c cell[T]) text(s unit.System) string { return c.k.text(*c.p, s) }
func (c cell[T]) over(from value)           { *c.p = *from.(cell[T]).p }

// at ties a field of Facts to the kind of its values.
func at[T any](k *kind[T], field func(*Facts) *T) func(*Facts) value {
	return func(f *Facts) value { return cell[T]{field(f), k} }
}

// measured is the kind of a quantity, which comes as text with a unit.
func measured[T comparable](q quantity.Kind[T]) *kind[T] {
	var none T
	return &kind[T]{
		read: func(row Fact, v any, _ time.Time) (T, error) {
			s, ok := v.(string)
			switch _, bare := number(v); {
			case bare:
				return none, &FactError{Reason: "has no unit", Next: "write it with its unit in quotes, such as " + row.Name + " = " + strconv.Quote(row.Example)}
			case !ok:
				return none, &FactError{Reason: "must be text with a unit", Next: "write " + row.Name + " = " + strconv.Quote(row.Example)}
			}
			return q.Parse(s)
		},
		text: func(x T, s unit.System) string {
			if x == none {
				return ""
			}
			return q.Text(x, s)
		},
	}
}

var (
	aLength  = measured(quantity.Lengths)
	aTemp    = measured(quantity.Temps)
	aPower   = measured(quantity.Powers)
	anArea   = measured(quantity.Areas)
	aVolume  = measured(quantity.Volumes)
	aSpeed   = measured(quantity.Speeds)
	aFlow    = measured(quantity.Flows)
	aGasFlow = measured(quantity.GasFlows)
	aLevel   = measured(quantity.Levels)
	aCurrent = measured(quantity.Currents)
	aVoltage = measured(quantity.Voltages)
)

// aShare is a share of one, which may come as a bare number.
var aShare = &kind[quantity.Fraction]{
	read: func(_ Fact, v any, _ time.Time) (quantity.Fraction, error) {
		s, isText := v.(string)
		x, bare := number(v)
		if t, err := strconv.ParseFloat(strings.TrimSpace(s), 64); isText && err == nil {
			x, bare = t, true
		}
		switch {
		case bare && x >= 0 && x <= 1:
			s = strconv.FormatFloat(x*100, 'f', -1, 64) + " %"
		case bare && x > 1 && x <= 100:
			of := strconv.FormatFloat(x, 'f', -1, 64)
			return 0, &FactError{Reason: "must be from 0 to 1, or in percent", Next: `write "` + of + ` %" or ` + strconv.FormatFloat(x/100, 'g', 6, 64)}
		case bare:
			return 0, &FactError{Reason: "must be from 0 to 1, or text such as \"5 %\""}
		case !isText:
			return 0, &FactError{Reason: "must be a share", Next: `write "5 %" or 0.05`}
		}
		if strings.HasPrefix(s, "0 ") || s == "0%" {
			return 0, &FactError{Reason: "is no lens's value", Next: "write what its maker publishes, or leave it out"}
		}
		return quantity.Shares.Parse(s)
	},
	text: measured(quantity.Shares).text,
}

var anAnswer = &kind[Answer]{
	read: func(row Fact, v any, _ time.Time) (Answer, error) {
		switch v := v.(type) {
		case bool:
			if v {
				return Yes, nil
			}
			return No, nil
		case string:
			switch plain(v) {
			case "yes", "true", "y":
				return Yes, nil
			case "no", "false", "n":
				return No, nil
			}
		}
		return NotGiven, &FactError{Reason: "is neither yes nor no", Next: "write " + row.Name + ` = "yes" or ` + row.Name + ` = "no"`}
	},
	text: func(a Answer, _ unit.System) string { return [...]string{"", "yes", "no"}[a] },
}

var aCount = &kind[int]{
	read: func(_ Fact, v any, _ time.Time) (int, error) {
		x, ok := number(v)
		if s, isText := v.(string); isText {
			n, err := strconv.Atoi(strings.TrimSpace(s))
			x, ok = float64(n), err == nil
		}
		if !ok || x != float64(int(x)) || x < 1 || x > 1000 {
			return 0, &FactError{Reason: "must be a whole number from 1 to 1000"}
		}
		return int(x), nil
	},
	text: func(n int, _ unit.System) string {
		if n == 0 {
			return ""
		}
		return strconv.Itoa(n)
	},
}

var freeText = &kind[string]{
	read: func(_ Fact, v any, _ time.Time) (string, error) { return oneLine(v) },
	text: func(s string, _ unit.System) string { return s },
}

// aNumberToCall takes what a telephone takes, so that a word does not stand
// where somebody looks for a number.
var aNumberToCall = &kind[string]{
	read: func(row Fact, v any, _ time.Time) (string, error) {
		if n, whole := v.(int64); whole {
			v = strconv.FormatInt(n, 10)
		}
		s, err := oneLine(v)
		if err == nil && (strings.Trim(s, "+0123456789 ()-/#*") != "" || len(strings.Trim(s, "+ ()-/#*")) < 2 || len(s) > 24) {
			err = &FactError{Reason: "is no telephone number", Next: "write the digits to dial, in quotes"}
		}
		return s, err
	},
	text: freeText.text,
}

// aWord is one of the words of the table.
var aWord = &kind[string]{
	read: func(row Fact, v any, _ time.Time) (string, error) {
		s, err := oneLine(v)
		if err != nil {
			return "", err
		}
		if family := Family(s); row.Name == "glass" && family != "" {
			s = family
		}
		return row.word(s)
	},
	text: freeText.text,
}

// word returns the word of the table that is meant.
func (row Fact) word(typed string) (string, error) {
	w := plain(typed)
	for _, known := range row.Words {
		if w == known || trimUnit(w, "nm") == trimUnit(known, "nm") && strings.HasSuffix(w, "nm") {
			return known, nil
		}
	}
	return "", &FactError{Reason: "is none of " + strings.Join(row.Words, ", "), Next: suggest(w, row.Words)}
}

// trimUnit takes a unit off a word, with the blank before it.
func trimUnit(s, u string) string { return strings.TrimSpace(strings.TrimSuffix(s, u)) }

var aDate = &kind[Date]{
	read: func(row Fact, v any, today time.Time) (Date, error) {
		s, err := oneLine(v)
		if err != nil {
			return "", err
		}
		d, err := ParseDate(s, today)
		if e, ok := err.(*FactError); ok && e.Next == "" {
			e.Next = "write it as year-month-day, such as " + strconv.Quote(row.Example)
		}
		return d, err
	},
	text: func(d Date, _ unit.System) string { return string(d) },
}

// ParseDate reads a day that is not after today; the word "today" is one.
func ParseDate(s string, today time.Time) (Date, error) {
	if plain(s) == "today" {
		return Date(today.Format(time.DateOnly)), nil
	}
	d, err := time.Parse(time.DateOnly, s)
	switch {
	case err != nil:
		return "", &FactError{Value: strconv.Quote(s), Reason: "is not a date"}
	case d.Year() < 1950:
		return "", &FactError{Value: strconv.Quote(s), Reason: "is before any test that counts"}
	case s > today.Format(time.DateOnly):
		return "", &FactError{Value: strconv.Quote(s), Reason: "lies in the future", Next: "write the day of the last test that was done"}
	}
	return Date(s), nil
}

// age returns how many days ago a date was, and false if it is not given.
func (d Date) age(today time.Time) (days int, known bool) {
	t, err := time.Parse(time.DateOnly, string(d))
	if err != nil {
		return 0, false
	}
	y, m, day := today.Date()
	return int(time.Date(y, m, day, 0, 0, 0, 0, time.UTC).Sub(t).Hours() / 24), true
}

var someWords = &kind[[]string]{
	read: func(row Fact, v any, _ time.Time) ([]string, error) {
		var typed []string
		switch v := v.(type) {
		case string:
			typed = strings.Split(v, ",")
		case []string:
			typed = v
		case []any:
			for _, x := range v {
				s, _ := x.(string)
				typed = append(typed, s)
			}
		default:
			return nil, &FactError{Reason: "must be a list of words"}
		}
		var out []string
		for _, t := range typed {
			w, err := row.word(t)
			if err != nil {
				return nil, err
			}
			if !slices.Contains(out, w) {
				out = append(out, w)
			}
		}
		switch {
		case len(out) == 0:
			return nil, &FactError{Reason: "is empty", Next: `write "none" if there are none`}
		case len(out) > 1 && slices.Contains(out, "none"):
			return nil, &FactError{Reason: `"none" stands with another word`, Next: `write "none" alone, or leave it out`}
		}
		return out, nil
	},
	text: func(list []string, _ unit.System) string { return strings.Join(list, ", ") },
}

func number(v any) (float64, bool) {
	switch x := v.(type) {
	case float64:
		return x, true
	case int64:
		return float64(x), true
	case int:
		return float64(x), true
	}
	return 0, false
}

// oneLine reads text of a line, or a date as a file holds it.
func oneLine(v any) (string, error) {
	if t, ok := v.(time.Time); ok {
		v = t.Format(time.DateOnly)
	}
	s, ok := v.(string)
	if !ok {
		return "", &FactError{Reason: "must be text in quotes"}
	}
	s = strings.Join(strings.Fields(s), " ")
	switch {
	case s == "":
		return "", &FactError{Reason: "is empty", Next: "leave the key out if it is not known"}
	case len([]rune(s)) > 80:
		return "", &FactError{Reason: "is longer than 80 characters"}
	case strings.ContainsFunc(s, func(r rune) bool { return !strconv.IsPrint(r) }):
		return "", &FactError{Reason: "holds a control character"}
	}
	return s, nil
}

// plain lowers a word and joins its parts by single spaces.
func plain(s string) string {
	return strings.Join(strings.Fields(strings.NewReplacer("_", " ", "-", " ").Replace(strings.ToLower(s))), " ")
}
