package main

import (
	"regexp"
	"strconv"

	"lehr/glass/unit"
)

const number = `(-?\d+(?:\.\d+)?)`

var (
	// Most specific first: a range before its end, a rate before a temperature.
	fahrenheits  = regexp.MustCompile(number + ` ?°F\b`)
	celsiusRate  = regexp.MustCompile(number + ` ?°C/h`)
	celsiusRange = regexp.MustCompile(number + `(-|–| to )` + number + ` ?°C`)
	celsiusPoint = regexp.MustCompile(number + ` ?°C`)
	kelvinStep   = regexp.MustCompile(number + ` K\b`)
	millimeters  = regexp.MustCompile(number + ` ?mm\b`)
	megapascals  = regexp.MustCompile(number + ` ?MPa\b`)
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
		each(fahrenheits, func(x float64) string { return whole(unit.Fahrenheit(x).Celsius()) + " °C" })
		return text
	}
	fahrenheit := func(celsius string) string {
		x, err := strconv.ParseFloat(celsius, 64)
		if err != nil {
			return celsius
		}
		return whole(unit.Celsius(x).Fahrenheit())
	}
	each(celsiusRate, func(x float64) string { return unit.KelvinPerHour(x).Text(unit.US) })
	text = celsiusRange.ReplaceAllStringFunc(text, func(s string) string {
		m := celsiusRange.FindStringSubmatch(s)
		return fahrenheit(m[1]) + m[2] + fahrenheit(m[3]) + " °F"
	})
	text = celsiusPoint.ReplaceAllStringFunc(text, func(s string) string {
		return fahrenheit(celsiusPoint.FindStringSubmatch(s)[1]) + " °F"
	})
	each(kelvinStep, func(x float64) string {
		if x > 250 {
			return unit.Kelvin(x).Text(unit.US)
		}
		return short(unit.Delta(x).Fahrenheit()) + " °F"
	})
	each(millimeters, func(x float64) string { return (unit.Length(x) * unit.Millimeter).Text(unit.US) })
	each(megapascals, func(x float64) string { return (unit.Stress(x) * unit.Megapascal).Text(unit.US) })
	return text
}
