package cost

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"

	"lehr/glass/unit"
)

// Joule per kilowatt-hour.
const kWh = 3.6e6

// Step is a stretch of time with one power.
type Step struct {
	Seconds float64
	Watts   float64
}

// KWh returns the electricity of steps.
func KWh(steps []Step) (sum float64) {
	for _, s := range steps {
		sum += s.Seconds * s.Watts / kWh
	}
	return sum
}

// Pulses returns the electricity that a meter has counted [kWh].
//
// Checked: testdata/cases/cost.toml
func Pulses(count, perKWh float64) float64 { return count / perKWh }

// Duty returns the electricity of elements that are on for a share of the time
// [kWh].
//
// Checked: testdata/cases/cost.toml
func Duty(p unit.Power, share, hours float64) float64 { return p.Watts() / 1000 * share * hours }

// glassHeat returns the heat that glass gives off on its way down [kWh]:
//
//	m c ΔT
//
// specificHeat is a mean over the way [J/(kg K)]. It is a few per cent of what
// a kiln takes, so that a cost is not shared by weight.
//
// Checked: testdata/cases/cost.toml
func glassHeat(m unit.Mass, specificHeat float64, by unit.Delta) float64 {
	return m.Kilograms() * specificHeat * float64(by) / kWh
}

// Money is an amount in a currency, by the word that was typed.
type Money struct {
	Amount   float64
	Currency string
}

// Text writes an amount with two decimals.
func (m Money) Text() string {
	return strconv.FormatFloat(m.Amount, 'f', 2, 64) + " " + m.Currency
}

// TextError is a price or a sum that cannot be understood.
type TextError struct{ Text, Reason, hint string }

func (e *TextError) Error() string { return e.Text + ": " + e.Reason }

// Hint returns one thing to do.
func (e *TextError) Hint() string { return e.hint }

// ParseMoney reads "12.50 EUR", "EUR 12.50" or "$12.50".
//
// Errors: *[TextError] for a bare number, a negative one, or no number.
func ParseMoney(text string) (Money, error) {
	s := strings.TrimSpace(text)
	fail := func(why, hint string) (Money, error) { return Money{}, &TextError{s, why, hint} }
	digit := func(r rune) bool { return r >= '0' && r <= '9' || r == '.' }
	from := strings.IndexFunc(s, digit)
	if from < 0 {
		return fail("has no amount", `write "12.50 EUR"`)
	}
	to := from + strings.IndexFunc(s[from:]+" ", func(r rune) bool { return !digit(r) })
	before, after := strings.TrimSpace(s[:from]), strings.TrimSpace(s[to:])
	x, err := strconv.ParseFloat(s[from:to], 64)
	switch {
	case strings.HasPrefix(after, ","):
		return fail("has a comma; decimals are marked by a point", "")
	case err != nil || x > 1e9:
		return fail("is no amount", `write "12.50 EUR"`)
	case strings.Contains(before, "-"):
		return fail("is negative", "")
	case before != "" && after != "":
		return fail("has two currencies", `write "12.50 EUR"`)
	case before+after == "":
		return fail("has no currency", `write "`+s+` EUR" or "`+s+` USD"`)
	case len(before+after) > 12 || strings.ContainsAny(before+after, "0123456789"):
		return fail("has no currency that is one word", `write "12.50 EUR"`)
	}
	return Money{x, before + after}, nil
}

// Tariff is the price of a kilowatt-hour by the clock.
type Tariff struct {
	Currency string
	Windows  []Window // in the order of the day; one for one price
	AsOf     string   // the day of the price as typed, "" if none
}

// Window is a price from an hour on, up to the next.
type Window struct {
	From  unit.Clock
	Price float64 // per kWh
}

const tariffHint = `write "0.30 EUR" or "0.40 EUR from 6:00, 0.22 EUR from 22:00"`

// ParseTariff reads a price per kWh, or several by the hour from which they
// hold, round the clock; "as of" and a day may follow:
//
//	0.30 EUR
//	0.40 EUR from 6:00, 0.22 EUR from 22:00 as of 2026-10-01
//
// Errors: *[TextError].
func ParseTariff(text string) (Tariff, error) {
	var t Tariff
	fail := func(why string) (Tariff, error) {
		return Tariff{}, &TextError{strings.TrimSpace(text), why, tariffHint}
	}
	rest, asOf, dated := strings.Cut(text, " as of ")
	if dated {
		if t.AsOf = strings.TrimSpace(asOf); t.AsOf == "" {
			return fail("names no day after as of")
		}
	}
	parts := strings.Split(rest, ",")
	for _, part := range parts {
		amount, from, timed := strings.Cut(part, " from ")
		amount = strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(strings.TrimSpace(amount), "per kWh"), "/kWh"))
		m, err := ParseMoney(amount)
		if err != nil {
			return Tariff{}, err
		}
		if timed != (len(parts) > 1) && len(parts) > 1 {
			return fail("a price among several says from when on it holds")
		}
		w := Window{Price: m.Amount}
		if timed {
			if w.From, err = unit.ParseClock(strings.TrimSpace(from)); err != nil {
				return Tariff{}, fmt.Errorf("%s: %w", strings.TrimSpace(text), err)
			}
		}
		if t.Currency == "" {
			t.Currency = m.Currency
		}
		if m.Currency != t.Currency {
			return fail("has two currencies")
		}
		if m.Amount > 1000 {
			return fail("a kilowatt-hour for more than 1000: is that the price?")
		}
		t.Windows = append(t.Windows, w)
	}
	sort.Slice(t.Windows, func(i, j int) bool { return t.Windows[i].From < t.Windows[j].From })
	for i := 1; i < len(t.Windows); i++ {
		if t.Windows[i].From == t.Windows[i-1].From {
			return fail("two prices hold from one hour")
		}
	}
	return t, nil
}

// Even is a tariff of one price.
func Even(m Money) Tariff { return Tariff{Currency: m.Currency, Windows: []Window{{Price: m.Amount}}} }

const day = 24 * 3600.

// at returns the price at a second of the day, and for how long it holds.
func (t Tariff) at(second float64) (price, holds float64) {
	second = math.Mod(second, day)
	n := len(t.Windows)
	at := n - 1 // before the first of the day the last of the day before holds
	next := float64(t.Windows[0].From) * 60
	for i, w := range t.Windows {
		if float64(w.From)*60 <= second+1e-9 {
			at = i
			next = day + float64(t.Windows[0].From)*60
			if i+1 < n {
				next = float64(t.Windows[i+1].From) * 60
			}
		}
	}
	if n == 1 {
		return t.Windows[0].Price, math.Inf(1)
	}
	return t.Windows[at].Price, next - second
}

// Cost returns what steps of power cost that begin at a time of day, each
// minute in the price of its hour.
//
// Checked: testdata/cases/cost.toml
func (t Tariff) Cost(start unit.Clock, steps []Step) Money {
	at, sum := float64(start)*60, 0.0
	for _, s := range steps {
		for left := s.Seconds; left > 1e-9; {
			price, holds := t.at(at)
			d := min(left, holds)
			sum += d * s.Watts / kWh * price
			at += d
			left -= d
		}
	}
	return Money{sum, t.Currency}
}

// Mean returns the mean price over a stretch of time, for electricity of which
// only the sum is known.
func (t Tariff) Mean(start unit.Clock, seconds float64) float64 {
	if len(t.Windows) == 1 || seconds <= 0 {
		p, _ := t.at(float64(start) * 60)
		return p
	}
	return t.Cost(start, []Step{{seconds, 1000}}).Amount / (seconds / 3600)
}

// Shares returns what one piece of each kind bears of a sum, by the shelf that
// it covers: all pieces lie for the same hours.
func Shares(sum float64, counts []int, areas []float64) []float64 {
	whole := 0.0
	for i, n := range counts {
		whole += float64(n) * areas[i]
	}
	out := make([]float64, len(counts))
	for i := range counts {
		if whole > 0 {
			out[i] = sum * areas[i] / whole
		}
	}
	return out
}
