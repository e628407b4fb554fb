package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"

	"lehr/cmd/lehr/term"
)

// num is a number in JSON output, rounded to four significant digits. Keys
// carry the unit.
type num float64

// MarshalJSON writes n with at most four significant digits. Infinite and
// undefined numbers are a fault of the caller, and refused.
func (n num) MarshalJSON() ([]byte, error) {
	x := float64(n)
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil, fmt.Errorf("number %v has no place in JSON", x)
	}
	return json.Marshal(term.Round4(x))
}

// printJSON prints v indented by two, without HTML escapes, with a newline at
// the end. JSON is UTF-8 whatever the locale.
func (a *app) printJSON(v any) error {
	var buf bytes.Buffer
	enc := json.NewEncoder(&buf)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(v); err != nil {
		return fmt.Errorf("json: %w", err)
	}
	_, err := a.out.Write(buf.Bytes())
	return err
}
