package checklist

import (
	"strconv"
	"strings"

	"lehr/glass/unit"
	"lehr/safety/quantity"
)

// valueText returns a field of Facts in words, or "" if it was not given.
func valueText(field any, s unit.System) string {
	switch p := field.(type) {
	case *Answer:
		return p.String()
	case *string:
		return *p
	case *[]string:
		return strings.Join(*p, ", ")
	case *int:
		return orEmpty(*p != 0, strconv.Itoa(*p))
	case *Length:
		return orEmpty(*p != 0, p.Text(s))
	case *Temp:
		return orEmpty(!p.IsZero(), p.Text(s))
	case *quantity.Area:
		return orEmpty(*p != 0, p.Text(s))
	case *quantity.Volume:
		return orEmpty(*p != 0, p.Text(s))
	case *quantity.Speed:
		return orEmpty(*p != 0, p.Text(s))
	case *quantity.Flow:
		return orEmpty(*p != 0, p.Text(s))
	case *quantity.GasFlow:
		return orEmpty(*p != 0, p.Text(s))
	case *quantity.Level:
		return orEmpty(*p != 0, p.Text(s))
	case *quantity.Fraction:
		return orEmpty(*p != 0, p.Text(s))
	case *quantity.Current:
		return orEmpty(*p != 0, p.Text(s))
	case *quantity.Voltage:
		return orEmpty(*p != 0, p.Text(s))
	case *Power:
		return orEmpty(*p != 0, p.Text(s))
	}
	return ""
}

func orEmpty(given bool, s string) string {
	if given {
		return s
	}
	return ""
}
