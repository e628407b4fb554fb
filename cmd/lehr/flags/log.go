package flags

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"lehr/anneal/kiln"
	"lehr/anneal/kilnlog"
	"lehr/anneal/program"
	"lehr/cmd/lehr/desk"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// Log say how a log is written where it does not say so itself.
type Log struct {
	text    map[kilnlog.Option]*string
	Changed func(string) bool
}

// LogUsage is one line for each flag about how a log is written.
var LogUsage = []struct {
	Option kilnlog.Option
	usage  string
}{
	{kilnlog.OptTime, "log: `column` of the times, by its name or its number from 1"},
	{kilnlog.OptTemp, "log: `column` of the readings, by its name or its number from 1"},
	{kilnlog.OptTempUnit, "log: `unit` of the readings, C, F, K or mV"},
	{kilnlog.OptTimeUnit, "log: `unit` of the times, s, min, h, d or h:min:s"},
	{kilnlog.OptDates, "log: `order` of dates such as 03/04/2026, day-first or month-first"},
	{kilnlog.OptDecimal, "log: the `mark` of decimals, \".\" or \",\""},
	{kilnlog.OptCouple, "log in mV: `type` of the thermocouple, K, N, R or S"},
	{kilnlog.OptJunction, "log in mV: `temperature` where the wires of the thermocouple end, such as \"25 °C\""},
}

// AddLog adds the flags about how a log is written.
func AddLog(c *cobra.Command) *Log {
	n := &Log{text: map[kilnlog.Option]*string{}, Changed: c.Flags().Changed}
	for _, u := range LogUsage {
		n.text[u.Option] = c.Flags().String(string(u.Option), "", u.usage)
	}
	return n
}

// Options turns the flags into what the reader of logs takes.
func (n *Log) Options(cmd string, st kiln.Studio) (o kilnlog.Options, err error) {
	o.TimeColumn, o.TempColumn = *n.text[kilnlog.OptTime], *n.text[kilnlog.OptTemp]
	if st.Kiln.HeatingGiven {
		o.Heating = max(unit.KelvinPerHour(1200), 2*st.Kiln.Heating)
	}
	for _, set := range []struct {
		option kilnlog.Option
		parse  func([]byte) error
	}{
		{kilnlog.OptTempUnit, o.TempUnit.UnmarshalText},
		{kilnlog.OptTimeUnit, o.TimeUnit.UnmarshalText},
		{kilnlog.OptDates, o.Dates.UnmarshalText},
		{kilnlog.OptCouple, o.Couple.UnmarshalText},
		{kilnlog.OptJunction, o.Junction.UnmarshalText},
		{kilnlog.OptDecimal, func(text []byte) error {
			if s := string(text); s != "." && s != "," {
				return fmt.Errorf("%q: must be . or ,", strict.Visible(s))
			}
			o.Decimal = text[0]
			return nil
		}},
	} {
		if n.Changed(string(set.option)) {
			if err := set.parse([]byte(*n.text[set.option])); err != nil {
				return o, desk.AsUsage(cmd+": --"+string(set.option), err)
			}
		}
	}
	return o, nil
}

// IsLog reports whether a file is a log of readings and no program: by what it
// holds, where that can be told, else by its name.
func IsLog(a *desk.App, name string) bool {
	if name == "-" {
		return false
	}
	var text []byte
	if err := a.Read(name, func(r io.Reader) (err error) {
		text, err = io.ReadAll(io.LimitReader(r, strict.MaxBytes))
		return err
	}); err != nil {
		return false
	}
	var table map[string]any
	if _, err := strict.Decode(bytes.NewReader(text), "", &table); err == nil && len(table) > 0 {
		return false
	}
	if slices.Contains([]string{".csv", ".tsv", ".log"}, strings.ToLower(filepath.Ext(name))) {
		return true
	}
	// A spoiled program has keys, a log has cells.
	rows, keys := 0, 0
	for i, line := range bytes.Split(text, []byte("\n")) {
		switch line = bytes.TrimSpace(line); {
		case i > 50:
			return rows > keys && rows > 2
		case bytes.ContainsAny(line, "=[#"):
			keys++
		case bytes.ContainsAny(line, ",;\t"):
			rows++
		}
	}
	return rows > keys && rows > 2
}

// ReadLog reads a log of readings.
func ReadLog(a *desk.App, name string, o kilnlog.Options) (l *kilnlog.Log, err error) {
	err = a.Read(name, func(r io.Reader) (err error) {
		l, err = kilnlog.Read(r, desk.ShownName(name), o)
		return err
	})
	return l, err
}

// NominalCurve is a program exactly as told.
func NominalCurve(s program.Schedule) (kiln.Curve, error) {
	return s.As(nil).Curve()
}
