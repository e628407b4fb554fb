package misfit

import (
	"fmt"
	"strings"

	"lehr/anneal/seal"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

// words says what a finding says.
func (v sealView) words(f seal.Finding, r seal.Report) string {
	return words.In(v.system).Seal(f, r, v.cases[0].problem.Contents)
}

// showWarmUp prints the stages that dry and warm what goes inside.
func showWarmUp(a *desk.App, v sealView) error {
	a.Section("Drying and warming, from the room to the flame")
	_, per := unit.Rate(0).In(v.system)
	_, degree := seal.Room().In(v.system)
	var rows [][]string
	for i, s := range v.warm.Stages {
		to, _ := s.To.In(v.system)
		q, _ := s.Rate.In(v.system)
		hold := "until the flame"
		if s.Hold > 0 {
			hold = desk.HoursText(s.Hold)
			if i == len(v.warm.Stages)-1 {
				hold += ", then until the flame"
			}
		}
		var why []string
		for _, w := range s.Reasons {
			why = append(why, words.WarmUp(w))
		}
		rows = append(rows, []string{fmt.Sprint(i + 1), term.Whole(q), term.Whole(to), hold, strings.Join(why, "; ")})
	}
	if err := a.Table([]term.Column{term.NumberColumn("#"), term.NumberColumn(per), term.NumberColumn("to " + degree), term.LongColumn("hold"), term.LongColumn("because")}, rows); err != nil {
		return err
	}
	ready := "after " + desk.HoursText(v.warm.Total)
	if v.start != nil {
		at, days := v.start.Add(v.warm.Total)
		ready = fmt.Sprintf("at %s%s, %s after %s", at.Text(v.system), [...]string{"", " the next day"}[min(days, 1)], desk.HoursText(v.warm.Total), v.start.Text(v.system))
		if days > 1 {
			ready = fmt.Sprintf("at %s on day %d, %s after %s", at.Text(v.system), days+1, desk.HoursText(v.warm.Total), v.start.Text(v.system))
		}
	}
	bears := "more than " + unit.KelvinPerHour(300).Text(v.system)
	if v.warm.Rate < unit.KelvinPerHour(300) {
		bears = v.warm.Rate.Text(v.system)
	}
	text := fmt.Sprintf("Ready for the flame %s. By thermal tension alone the %s would bear %s; rates and holds for drying are judged from what was published of such stones, for yours was not measured.", ready, v.warm.Slow, bears)
	if held := v.glass.Garage; !held.Low.IsZero() {
		if i, fits := v.warm.Beside(held.Low, held.High); !fits {
			text += fmt.Sprintf(" It needs a kiln of its own: stage %d is colder than finished %s is held, %s to %s.", i+1, v.glass.Name, held.Low.Text(v.system), held.High.Text(v.system))
		}
	}
	a.Prose(0, text)
	return nil
}
