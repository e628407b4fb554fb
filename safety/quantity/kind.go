package quantity

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"lehr/glass/unit"
)

// scaled is a kind of quantity that is a number times a unit.
type scaled[T ~float64] struct {
	sides     int                // a product of so many lengths will do; 0 if none
	low, high float64            // the range in a studio, both ends allowed
	rule      string             // that range in words
	hints     []string           // spellings to show
	spelled   map[string]float64 // SI value of each unit, in small letters without blanks
	shown     [2][]form          // the units a value is written in, metric and US
}

// form is one unit in which a quantity is written.
type form struct {
	unit   string
	size   float64 // in SI
	digits int
}

func (k *scaled[T]) Parse(s string) (T, error) {
	x, err := k.number(s)
	if err == nil && !(x >= k.low && x <= k.high) { // NaN among them
		err = &Error{Reason: k.rule}
	}
	if e, ok := err.(*Error); ok && e.Value == "" {
		e.Value = strconv.Quote(s)
	}
	return T(x), err
}

func (k *scaled[T]) number(s string) (float64, error) {
	if k.sides > 0 && strings.ContainsAny(s, "x×*") {
		return k.product(s)
	}
	m := amount.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		return 0, &Error{Reason: "is not a number with its unit", Next: "write " + quoteOr(k.hints)}
	}
	x, err := strconv.ParseFloat(strings.ReplaceAll(m[1], ",", ""), 64)
	if err != nil {
		return 0, &Error{Reason: "is not a number", Next: "write " + quoteOr(k.hints)}
	}
	word := strings.NewReplacer("²", "2", "³", "3", "^", "", " ", "", "hr", "h").Replace(strings.ToLower(m[2]))
	size, ok := k.spelled[word]
	switch {
	case word == "":
		return 0, &Error{Reason: "has no unit", Next: "write " + k.spellings(m[1])}
	case !ok && k.sides > 0 && isLength(s):
		return 0, &Error{Reason: fmt.Sprintf("is one length, and needs %d sides", k.sides), Next: "write " + strconv.Quote(k.hints[0])}
	case !ok:
		return 0, &Error{Reason: "has an unknown unit", Next: "write " + quoteOr(k.hints)}
	}
	return x * size, nil
}

func isLength(s string) bool {
	_, err := unit.ParseLength(s)
	return err == nil
}

// amount is a number and what follows it. A comma parts thousands and nothing
// else: 0,5 would otherwise be read as 5.
var amount = regexp.MustCompile(`^([+-]?(?:[1-9]\d{0,2}(?:,\d{3})+|\d+)(?:\.\d+)?|[+-]?\.\d+)\s*([^\d.,+-].*)?$`)

// product reads "20 ft x 15 ft x 9 ft": lengths multiplied. A number without a
// unit takes the unit of the last one that has one.
func (k *scaled[T]) product(s string) (float64, error) {
	parts := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r == 'x' || r == '×' || r == '*' })
	if len(parts) != k.sides {
		return 0, &Error{Reason: fmt.Sprintf("needs %d sides", k.sides), Next: "write " + strconv.Quote(k.hints[0])}
	}
	last, bare := "", make([]string, len(parts))
	for i, part := range parts {
		bare[i] = strings.TrimSpace(part)
		if u := strings.TrimLeft(bare[i], "0123456789.,+- "); u != "" {
			last = u
		}
	}
	if last == "" {
		of := func(u string) string { return strings.Join(bare, " "+u+" x ") + " " + u }
		return 0, &Error{Reason: "has no unit", Next: "write " + quoteOr([]string{of("mm"), of("in")})}
	}
	p := 1.0
	for _, part := range parts {
		part = strings.TrimSpace(part)
		if strings.TrimLeft(part, "0123456789.,+- ") == "" {
			part += " " + last
		}
		l, err := unit.ParseLength(part)
		if err != nil {
			return 0, err
		}
		if !(l > 0) {
			return 0, &Error{Reason: "must be above zero"}
		}
		p *= float64(l)
	}
	return p, nil
}

// spellings puts the number the person typed before the units of the hints.
func (k *scaled[T]) spellings(num string) string {
	out := make([]string, len(k.hints))
	for i, h := range k.hints {
		out[i] = num + " " + strings.TrimLeft(h, "0123456789., ")
	}
	if k.sides > 0 {
		return quoteOr(k.hints)
	}
	return quoteOr(out)
}

func (k *scaled[T]) Text(x T, s unit.System) string {
	var parts []string
	for _, f := range k.shown[index(s)] {
		parts = append(parts, Digits(float64(x)/f.size, f.digits)+" "+f.unit)
	}
	if len(parts) > 1 {
		return parts[0] + " (" + parts[1] + ")"
	}
	return parts[0]
}

func index(s unit.System) int {
	if s == unit.US {
		return 1
	}
	return 0
}

// borrowed is a quantity of package unit with the range it has in a studio.
type borrowed[T interface{ Text(unit.System) string }] struct {
	parse  func(string) (T, error)
	within func(T) bool
	rule   string
}

func (k borrowed[T]) Parse(s string) (T, error) {
	x, err := k.parse(s)
	if err == nil && !k.within(x) {
		err = &Error{Value: strconv.Quote(s), Reason: k.rule}
	}
	return x, err
}

func (k borrowed[T]) Text(x T, s unit.System) string { return x.Text(s) }

func quoteOr(list []string) string {
	q := make([]string, len(list))
	for i, s := range list {
		q[i] = strconv.Quote(s)
	}
	return strings.Join(q, " or ")
}
