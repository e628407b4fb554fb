package desk

import (
	"strconv"
	"time"

	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
)

// GramsText writes a mass as a bench scale shows it, in both unit systems.
func GramsText(m unit.Mass) string { return CellMass(m, unit.Metric) + " g" }

// CellMass is the number of a mass in a table.
func CellMass(m unit.Mass, sys unit.System) string {
	x, _ := m.In(sys)
	switch {
	case sys == unit.US && x >= 1:
		return strconv.FormatFloat(x, 'f', 1, 64)
	case x >= 100:
		return term.Whole(x)
	case x >= 1:
		return strconv.FormatFloat(x, 'f', 1, 64)
	}
	return strconv.FormatFloat(x, 'f', 2, 64)
}

// LengthText writes a length without idle zeros.
func LengthText(l unit.Length, sys unit.System) string {
	x, u := l.In(sys)
	return term.Short(x) + " " + u
}

// Assumed prints what an answer takes for granted, nothing if that is nothing.
func (a *App) Assumed(list []string) {
	if len(list) == 0 {
		return
	}
	a.Print("\n" + a.Style(term.Bold, "Assumed") + "\n")
	for _, s := range list {
		a.Item("- ", s)
	}
}

// HoursText is a duration to the minute, long ones in hours.
func HoursText(d time.Duration) string {
	if d >= 10*time.Hour {
		return term.Short3(d.Hours()) + " h"
	}
	return unit.FormatDuration(d.Round(time.Minute))
}
