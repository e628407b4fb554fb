package main

import (
	"lehr/anneal/outage"
	"lehr/anneal/piece"
	"lehr/anneal/rescue"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"

	"lehr/glass/unit"
)

// programOf is a way as a report of a program, nil if nothing is keyed in.
func programOf(w outage.Way, load *piece.Load) *verify.Report {
	if len(w.Schedule.Segments) == 0 || w.Schedule.Segments[0].Off {
		return nil
	}
	rep := *w.Report
	k := rep.Studio.Kiln
	rep.Load, rep.Schedule, rep.Replayed = load, w.Schedule, false
	rep.Actual, rep.Nominal = w.Schedule.As(&k), w.Schedule.Followed(rep.Studio)
	return &rep
}

// showOutage prints what to do: the advice, the ways, the program of the first.
func (a *app) showOutage(c outage.Case, x *outage.Answer, next *verify.Report) error {
	sys := c.Studio.Units
	first := x.Ways[0]
	say := words.About(first.Report)
	style := term.Good
	if !x.Keeps() {
		style = term.Bad
	}
	head := term.Capital(words.WayOn(first.Way))
	if x.Advice.AtOnce && first.Way == rescue.SoakAgain {
		head = "At once: " + words.WayOn(first.Way)
	}
	word, numbers := report.VerdictText(first.Report)
	a.lead(style, head, "", ": "+word+", "+numbers+".")
	a.prose(0, term.Capital(say.Outage(x.Advice.Case, x.Glass.Name, c.Failed, c.Past.Temp(c.Past.End())))+".")
	if x.Advice.StopController {
		a.prose(0, words.StopController)
	}
	for _, p := range x.Past.Pieces {
		if p.Tension.Use > 1 {
			a.prose(0, p.Piece.What+" has been over its limit of tension already, "+report.BearsText(p.Tension, sys)+". "+words.LookForCracks)
		}
	}
	if !x.Keeps() {
		a.prose(0, words.NoWayKeeps)
	}
	a.print("\n")
	if err := a.outageWays(x, sys); err != nil {
		return err
	}
	for _, w := range x.Ways {
		for _, p := range w.Report.Pieces {
			if len(p.Over) > 0 {
				a.item("- ", words.WayOn(w.Way)+": "+p.Piece.What+": "+report.OverText(w.Report, p))
			}
		}
	}
	if next != nil {
		a.print("\n")
		if err := a.view().ShowProgram(next); err != nil {
			return err
		}
	}
	assumed := outageAssumed(c)
	if a.why {
		assumed = append(assumed, say.Assumed(first.Report.Assumptions)...)
	}
	a.list("Assumed", assumed)
	if a.why {
		a.list("Sources", words.Sources(first.Report.Sources))
	}
	return nil
}

// nearest are the tension and what is left, each of the piece nearest to its limit.
func nearest(rep *verify.Report) (tension, left verify.Bears) {
	for _, p := range rep.Pieces {
		tension = report.Nearer(tension, p.Tension)
		if p.ResidualAsked {
			left = report.Nearer(left, p.Left)
		}
	}
	return tension, left
}

// outageWays prints the three ways beside each other.
func (a *app) outageWays(x *outage.Answer, sys unit.System) error {
	_, u := unit.Stress(0).In(sys)
	cols := []column{longColumn("way"), numberColumn("takes\nh:min"), numberColumn("tension\n" + u), numberColumn("of limit\n%"), numberColumn("locked in\n" + u), numberColumn("of limit\n%"), longColumn("verdict")}
	var rows [][]string
	for _, w := range x.Ways {
		tension, left := nearest(w.Report)
		name, verdict := words.WayOn(w.Way), w.Report.Verdict().String()
		if w.Way == rescue.SoakAgain && w.Rate > 0 {
			name += ", at " + w.Rate.Text(sys)
		}
		if w.Ruled {
			verdict = "ruled out"
		}
		rows = append(rows, []string{name, report.HourMin(w.Lasts), report.StressCell(max(tension.Worst, 0), sys), report.Used(tension), report.StressCell(max(left.Worst, 0), sys), report.Used(left), verdict})
	}
	return a.table(cols, rows)
}

// outageAssumed is what the answer rests on beside its report.
func outageAssumed(c outage.Case) []string {
	out := []string{"stresses are those of the past and of the way together; the kiln stays closed, and until the power failed it did what the program of this load says"}
	if c.Logged {
		out[0] = "stresses are those of the past, as the log has it, and of the way together; the kiln stays closed"
	}
	if !c.Studio.Kiln.Measured {
		out = append(out, "this kiln was not measured: it is taken to fall with a time constant of "+unit.FormatDuration(c.Studio.Kiln.Fall.TimeConstant))
	}
	return out
}

// outageJSON prints what to do as JSON.
func (a *app) outageJSON(c outage.Case, x *outage.Answer, next *verify.Report) error {
	type wayOnJSON struct {
		Way     string             `json:"way"`
		TotalH  num                `json:"total_h"`
		Rate    num                `json:"heating_K_per_h"`
		Peak    num                `json:"peak_tension_MPa"`
		Left    num                `json:"left_max_tension_MPa"`
		Ruled   bool               `json:"ruled_out"`
		Verdict string             `json:"verdict"`
		Pieces  []report.PieceJSON `json:"pieces"`
	}
	type answerJSON struct {
		Verdict  string               `json:"verdict"`
		Case     string               `json:"case"`
		Why      string               `json:"why"`
		FailedC  num                  `json:"failed_C"`
		FoundC   num                  `json:"found_C"`
		FellH    num                  `json:"past_h"`
		AtOnce   bool                 `json:"at_once"`
		Stop     bool                 `json:"stop_controller"`
		PastOver []string             `json:"over_already"`
		Ways     []wayOnJSON          `json:"ways"`
		Schedule *report.ScheduleJSON `json:"schedule"`
		Assumed  []string             `json:"assumptions"`
		Sources  []string             `json:"sources"`
	}
	first := x.Ways[0].Report
	say, found := words.About(first), c.Past.Temp(c.Past.End())
	v := answerJSON{Verdict: first.Verdict().String(), Case: x.Advice.Case.String(), Why: say.Outage(x.Advice.Case, x.Glass.Name, c.Failed, found),
		FailedC: num(c.Failed.Celsius()), FoundC: num(found.Celsius()), FellH: hoursJSON(c.Past.End()), AtOnce: x.Advice.AtOnce, Stop: x.Advice.StopController,
		PastOver: []string{}, Assumed: append(outageAssumed(c), say.Assumed(first.Assumptions)...), Sources: words.Sources(first.Sources)}
	for _, p := range x.Past.Pieces {
		if p.Tension.Use > 1 {
			v.PastOver = append(v.PastOver, p.Piece.What)
		}
	}
	for _, w := range x.Ways {
		rep, err := report.NewJSON(w.Report)
		if err != nil {
			return err
		}
		tension, left := nearest(w.Report)
		v.Ways = append(v.Ways, wayOnJSON{w.Way.String(), hoursJSON(w.Lasts), num(w.Rate.KelvinPerHour()), report.MPa(tension.Worst), report.MPa(left.Worst), w.Ruled, rep.Verdict, rep.Pieces})
	}
	if next != nil {
		s := report.NewScheduleJSON(next)
		v.Schedule = &s
	}
	return a.printJSON(v)
}
