package nights

import (
	"fmt"
	"time"

	"lehr/anneal/outage"
	"lehr/anneal/rescue"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/web"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

// outagePast is what the sheet says of a power failure: what to do and why, before
// the program of the first way, and the other ways after it.
func outagePast(c powerCase, x *outage.Answer, next *verify.Report, keyed bool) *web.Past {
	head := words.WayOn(x.Ways[0].Way)
	if first := x.Ways[0]; x.Advice.AtOnce && first.Way == rescue.SoakAgain && !first.BreaksNow() {
		head = "at once: " + head
	}
	lines := func(of words.Fields) []string { return outageLines(c, x, next, keyed, of) }
	return &web.Past{Heading: "After the power failure: " + head, Lines: lines, Curve: func() (*picture.Curve, error) {
		past := c.Nights[0].Past.End()
		nominal := report.Nominal{}
		if next.Load.Start != nil {
			const day = 24 * 60
			start := unit.Clock((int(*next.Load.Start) + 7*day - int(past.Round(time.Minute)/time.Minute)) % day)
			nominal.Clock = &start
		}
		curve, err := report.NewNightCurve(x.Ways[0].Report, nominal)
		if err == nil {
			curve.Now, curve.Done = past.Seconds(), false
			curve.End = "ends " + report.ClockOnly(next, next.Actual.Total().Seconds())
			curve.Title = "What the kiln did, what it is told now, and tension in " + curve.Pieces[0].Label
		}
		return curve, err
	}}
}

// outageLines says what to do after a power failure, and why, to who fills in a form
// with these fields.
func outageLines(c powerCase, x *outage.Answer, next *verify.Report, keyed bool, of words.Fields) []string {
	first, sys := x.Ways[0], c.studio.Units
	lines := append([]string{term.Capital(words.About(first.Report).Outage(x.Advice.Case, x.Glass.Name, c.Failed, c.Found())) + "."}, append(c.checkHour(sys), c.lengthText(sys, of)...)...)
	if x.Advice.StopController {
		lines = append(lines, words.StopController)
	}
	if !keyed {
		lines = append(lines, words.StayOff)
	}
	for _, p := range x.Past.Pieces {
		if p.Tension.Use > 1 {
			lines = append(lines, p.Piece.What+" has been over its limit of tension already, "+report.BearsText(p.Tension, sys)+". "+words.LookForCracks(untilText(next, c.studio.Opening)))
		}
	}
	if !x.Keeps() {
		lines = append(lines, term.Capital(whyFirst(x, next)))
	}
	lines = append(lines, c.apartLines(x)...)
	for _, w := range x.Ways[1:] {
		verdict := words.Verdict(w.Report.Verdict())
		if w.Ruled {
			verdict = "ruled out"
		}
		if closed, ok := report.ClosedText(w.Report); ok && !w.Ruled {
			verdict += ", then closed " + closed
		}
		tension, left := nearest(w.Report)
		lines = append(lines, fmt.Sprintf("Other way: %s, %s, tension %s, left %s of its limit: %s.", words.WayOn(w.Way), unit.FormatDuration(unit.WholeMinutes(w.Lasts)),
			report.PercentText(tension.Use), report.PercentText(left.Use), verdict))
	}
	return append(lines, openText(first, next, c.studio.Opening), term.Capital(outageAssumed(c)[0])+".")
}
