package reference

import (
	"lehr/anneal/evidence"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
)

type statsJSON struct {
	Origin    string     `json:"origin,omitempty"`
	Cases     int        `json:"cases"`
	Numbers   int        `json:"numbers"`
	Bias      report.Num `json:"bias"`
	Spread    report.Num `json:"spread"`
	Worst     report.Num `json:"worst"`
	WorstCase string     `json:"worst_case"`
}

type quantityJSON struct {
	Name   string `json:"name"`
	Unit   string `json:"unit"`
	Bounds bool   `json:"bounds"`
	statsJSON
	Known   int         `json:"known"`
	Failed  int         `json:"failed"`
	Origins []statsJSON `json:"by_origin"`
}

type deviationJSON struct {
	Case    string     `json:"case"`
	Source  string     `json:"source"`
	Text    string     `json:"text"`
	Percent report.Num `json:"worst_percent"`
}

type causeJSON struct {
	Cause string          `json:"cause"`
	Found string          `json:"found"`
	Cases []deviationJSON `json:"cases"`
}

// validateJSON prints the whole account.
func validateJSON(a *desk.App, rep *evidence.Report) error {
	out := struct {
		Cases      int            `json:"cases"`
		Posed      int            `json:"posed"`
		Quantities []quantityJSON `json:"quantities"`
		Known      []causeJSON    `json:"known"`
		Failed     []string       `json:"failed"`
		Grown      []string       `json:"grown"`
	}{rep.Cases, rep.Posed, []quantityJSON{}, []causeJSON{}, append([]string{}, rep.Failed...), append([]string{}, rep.Grown()...)}
	stats := func(s evidence.Stats, origin string) statsJSON {
		return statsJSON{origin, s.Cases, s.Numbers, report.Num(s.Bias), report.Num(s.Spread), report.Num(s.Worst), s.WorstCase}
	}
	for _, l := range rep.Lines {
		q := quantityJSON{Name: l.Name, Unit: l.Unit, Bounds: l.Bounds, statsJSON: stats(l.All, ""), Known: l.Known, Failed: l.Failed}
		for o, s := range l.Of {
			if s.Cases > 0 {
				q.Origins = append(q.Origins, stats(s, evidence.Origin(o).String()))
			}
		}
		out.Quantities = append(out.Quantities, q)
	}
	for _, k := range rep.Known {
		c := causeJSON{Cause: k.Cause, Found: k.Found}
		for _, d := range k.Cases {
			c.Cases = append(c.Cases, deviationJSON{d.Case, d.Source, d.Words, report.Num(d.Worst)})
		}
		out.Known = append(out.Known, c)
	}
	return a.PrintJSON(out)
}
