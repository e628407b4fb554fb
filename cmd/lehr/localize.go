package main

import (
	"regexp"
	"strconv"
	"sync"

	"lehr/glass/unit"
)

const number = `(-?\d+(?:\.\d+)?)`

var (
	// Most specific first: a range before its end, a rate before a temperature.
	fahrenheits  = pattern(number + ` ?°F\b`)
	celsiusRate  = pattern(number + ` ?°C/h`)
	celsiusRange = pattern(number + `(-|–| to )` + number + ` ?°C`)
	celsiusPoint = pattern(number + ` ?°C`)
	kelvinStep   = pattern(number + ` K\b`)
	millimeters  = pattern(number + ` ?mm\b`)
	megapascals  = pattern(number + ` ?MPa\b`)
)

// localize turns the quantities inside a text of the tables or of an error to
// the display system, so that a run never mixes two. They are metric but for a
// few temperatures that a source prints in °F.
// Kelvin up to 250 are taken for a difference, above for a temperature.
func localize(text string, system unit.System) string {
	each := func(pattern *regexp.Regexp, f func(x float64) string) {
		text = pattern.ReplaceAllStringFunc(text, func(s string) string {
			x, err := strconv.ParseFloat(pattern.FindStringSubmatch(s)[1], 64)
			if err != nil {
				return s
			}
			if t := f(x); t != "" {
				return t
			}
			return s
		})
	}
	if system != unit.US {
		each(fahrenheits(), func(x float64) string { return whole(unit.Fahrenheit(x).Celsius()) + " °C" })
		return text
	}
	fahrenheit := func(celsius string) string {
		x, err := strconv.ParseFloat(celsius, 64)
		if err != nil {
			return celsius
		}
		return whole(unit.Celsius(x).Fahrenheit())
	}
	each(celsiusRate(), func(x float64) string { return unit.KelvinPerHour(x).Text(unit.US) })
	text = celsiusRange().ReplaceAllStringFunc(text, func(s string) string {
		m := celsiusRange().FindStringSubmatch(s)
		return fahrenheit(m[1]) + m[2] + fahrenheit(m[3]) + " °F"
	})
	text = celsiusPoint().ReplaceAllStringFunc(text, func(s string) string {
		return fahrenheit(celsiusPoint().FindStringSubmatch(s)[1]) + " °F"
	})
	each(kelvinStep(), func(x float64) string {
		if x > 250 {
			return unit.Kelvin(x).Text(unit.US)
		}
		return short(unit.Delta(x).Fahrenheit()) + " °F"
	})
	each(millimeters(), func(x float64) string { return (unit.Length(x) * unit.Millimeter).Text(unit.US) })
	each(megapascals(), func(x float64) string { return (unit.Stress(x) * unit.Megapascal).Text(unit.US) })
	return text
}

// pattern compiles a regular expression when it is first asked for: most runs
// never do, and every command would pay for it at its start.
func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}
