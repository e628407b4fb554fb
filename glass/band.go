package glass

import (
	"regexp"
	"strconv"
	"strings"

	"lehr/glass/unit"
)

// Band is a range of wavelengths with the absorption of clear glass there; its
// Number is the coefficient κ [1/m], light falls to 1/e over 1/κ.
type Band struct {
	To        float64 // upper end of the band [m]; it begins where the one before ends, the first at 0
	Low, High float64 // the range of the absorption over such glasses [1/m]
	Value
}

var (
	wavelength = &quantity{name: "wavelength", low: 1e-7, high: 1e-3, limits: "0.1 µm to 1000 µm",
		spellings: []string{"µm", "nm"}, units: map[string]float64{"µm": 1e-6, "μm": 1e-6, "um": 1e-6, "nm": 1e-9}}
	absorptivity = &quantity{name: "absorption", low: 0.01, high: 1e6, limits: "0.01 /m to 1000000 /m",
		spellings: []string{"/m", "/cm"}, units: map[string]float64{"/m": 1, "1/m": 1, "m-1": 1, "/cm": 100, "1/cm": 100, "cm-1": 100, "/mm": 1000, "1/mm": 1000}}
	bandRange = regexp.MustCompile(`^([\d.]+)\s*(?:-|–|\.\.|to)\s*([\d.]+)\s*(.*)$`)
)

// mostBands is as many bands as a file may have for one glass.
const mostBands = 40

// absorption reads the bands of a glass.
func (l *loader) absorption(g *Glass, list []band) error {
	if list != nil && len(list) == 0 || len(list) > mostBands {
		return l.fail(l.path("absorption"), "leave the key out if it is not known", "absorption: must have 1 to %d bands", mostBands)
	}
	last := 0.0
	for i, b := range list {
		at := spot{"absorption", i}
		if err := l.provenance(at, b.Source, b.Status); err != nil {
			return err
		}
		v := Value{Text: strings.TrimSpace(b.Value), Source: b.Source, Status: b.Status, Note: b.Note}
		to, _, err := wavelength.parse(b.To)
		if err != nil {
			return l.fail(l.in(at, "to"), "", "absorption: to %w", err)
		}
		if to <= last {
			return l.fail(l.in(at, "to"), "begin with the shortest wavelengths", "absorption: to %s: must be longer than that of the band before", b.To)
		}
		if v.Number, _, err = absorptivity.parse(v.Text); err != nil {
			return l.fail(l.in(at, "value"), "", "absorption %w", err)
		}
		out := Band{To: to, Low: v.Number, High: v.Number, Value: v}
		if b.Range != "" {
			if out.Low, out.High, err = parseBandRange(b.Range); err != nil {
				return l.fail(l.in(at, "range"), "", "absorption: range %w", err)
			}
			if v.Number < out.Low || v.Number > out.High {
				return l.fail(l.in(at, "range"), "", "absorption: range %s: must enclose %s", b.Range, v.Text)
			}
		}
		if out.Over = "up to " + micrometers(to); last > 0 {
			out.Over = micrometers(last) + " to " + micrometers(to)
		}
		out.Spread = max(out.High-v.Number, v.Number-out.Low)
		g.Absorption = append(g.Absorption, out)
		last = to
	}
	return nil
}

// parseBandRange reads "2.2-7 /m".
func parseBandRange(text string) (low, high float64, err error) {
	m := bandRange.FindStringSubmatch(plain.Replace(strings.TrimSpace(text)))
	if m == nil {
		return 0, 0, &unit.ParseError{Quantity: "absorption", Input: text, Reason: "is not a range", Hints: []string{"2.2-7 /m"}}
	}
	if low, _, err = absorptivity.parse(m[1] + " " + m[3]); err == nil {
		high, _, err = absorptivity.parse(m[2] + " " + m[3])
	}
	return low, high, err
}

// micrometers writes a wavelength.
func micrometers(meters float64) string {
	return strconv.FormatFloat(meters*1e6, 'g', 4, 64) + " µm"
}
