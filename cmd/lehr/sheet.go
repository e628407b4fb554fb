package main

import (
	"fmt"
	"math"
	"strings"

	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
	"lehr/safety/checklist"
)

func newSheetCommand(a *app) *cobra.Command {
	var l *loadFlags
	c := &cobra.Command{
		Use:   "sheet [<load.toml>] [--glass <name> --piece <piece>...] [-o <file>]",
		Short: "Make the sheet to print and pin on the kiln, or to read on a phone",
		Long: `Plans the program for a load as lehr plan does and makes one page of HTML of it: the verdict and the end, the program in large numerals with a box to tick for each segment as it is keyed in, the curve, each piece's numbers against the limits, the cautions for leaving and opening the kiln, what was assumed, and the sources.

The page holds everything it shows and loads nothing. It prints on one sheet of Letter or A4 paper for an ordinary load, with what to do when something is wrong on the back, and reads on a phone.`,
		Example: `lehr sheet mixed.toml -o mixed.html
lehr sheet --glass borosilicate-33 --piece "sphere 2.5in" > tonight.html
lehr sheet mixed.toml -o mixed.html --svg mixed.svg
lehr sheet mixed.toml -o large.html --large`,
		Args: atMost(1),
	}
	l = a.addLoadFlags(c)
	l.sayFacts(c)
	a.addRuleFlags(c, l)
	a.addLimitFlags(c, l)
	v := &viewFlags{}
	a.addCurveFlags(c, v)
	c.Flags().BoolVar(&v.large, "large", false, "make the page half as large again, on the screen and on paper")
	v.sheet = a.outFlag(c, "output", "o", outfile.HTML, "sheet", "write the page to `file.html`, \"-\" for standard output (default -)")
	a.forceFlag(c)
	c.RunE = func(c *cobra.Command, args []string) error {
		if stop, err := a.danger("sheet", l.facts); stop {
			return err
		}
		if !v.sheet.given() {
			v.sheet.Name = outfile.Stdout
		}
		load, st, err := a.readLoad("sheet", l, args)
		if err != nil {
			return err
		}
		o, err := l.options("sheet")
		if err != nil {
			return err
		}
		if err := a.claim(c); err != nil {
			return err
		}
		rep, err := plan.Plan(c.Context(), load, st, o)
		if err != nil {
			return explained(err, st.Units)
		}
		if err := a.saveViews(v, rep); err != nil {
			return err
		}
		if rep.Verdict() != verify.WithinLimits {
			return errOverLimit
		}
		return nil
	}
	return c
}

// sheetView is what the page of a report shows, in words.
type sheetView struct {
	Back             string // where the form is, "" in a file
	Name             string
	About            []string
	Within           bool
	Verdict, Numbers string
	Over             []string
	End, Ends, Share string
	Begin            string
	RateUnit, To     string
	Segments         []sheetSegment
	Curve            string
	ProgramNotes     []string // below the table
	CurveNote        string
	StressUnit       string
	LeftLimit        string
	Pieces           []sheetPiece
	Deciders         []string
	Pages            []checklist.Page
	Call             string // whom to call when something is wrong
	Notes, Reasons   []string
	Assumed, Sources []string
	Foot             string
}

type sheetSegment struct {
	Number                                int
	Off                                   bool // nothing is keyed in
	What, Rate, Target, Hold, Takes, Ends string
}

type sheetPiece struct {
	TensionShare, LeftShare                    string // of the limit
	Name, Tension, Where, Left, Relaxed, Shows string
	Over                                       string
}

// sheetHTML makes the page of a report.
func sheetHTML(rep *verify.Report, back string) ([]byte, error) {
	v, err := newSheetView(rep)
	if err != nil {
		return nil, err
	}
	v.Back = back
	return v.page()
}

func newSheetView(rep *verify.Report) (*sheetView, error) {
	u := rep.Studio.Controller.Units
	curve, err := newCurve(rep)
	if err != nil {
		return nil, err
	}
	svg, err := curve.Inline(picture.Square)
	if err != nil {
		return nil, err
	}
	pages, err := kilnPages(rep)
	if err != nil {
		return nil, err
	}
	say := words.About(rep)
	v := &sheetView{Name: rep.Load.Name, Within: rep.Verdict() == verify.WithinLimits, Curve: svg,
		Share: shareText(rep), Begin: rep.Schedule.From.Text(u),
		Notes: say.List(rep.Notes), Reasons: say.Reasons(rep.Reasons),
		Assumed: say.Assumed(rep.Assumptions), Sources: sheetSources(rep)}
	if v.Name == "" {
		v.Name = loadTitle(rep.Load)
	}
	v.About = []string{glassNames(rep.Load), "into " + string(rep.Load.Into), countText(rep.Load)}
	if rep.Shortest != nil {
		v.Share = strings.TrimSpace(v.Share + " " + shortestText(rep))
	}
	v.Verdict, v.Numbers = verdictText(rep)
	v.Numbers = capital(v.Numbers)
	end := endText(rep)
	cut := strings.IndexAny(end, ",;")
	v.Ends, v.End = end[:cut], capital(strings.TrimLeft(end[cut:], ",; "))
	for _, p := range rep.Pieces {
		if len(p.Over) > 0 {
			v.Over = append(v.Over, p.Piece.What+": "+overText(rep, p))
		}
	}
	v.To = "°C"
	if u == unit.US {
		v.To = "°F"
	}
	v.RateUnit = v.To + "/h"
	if rep.Studio.Controller.Minutes {
		v.RateUnit = "min"
	}
	for i, seg := range rep.Schedule.Segments {
		span := rep.Actual.Spans[i]
		to, _ := seg.To.In(u)
		v.Segments = append(v.Segments, sheetSegment{i + 1, seg.Off, string(seg.Purpose), dash(rateText(rep, i)), whole(to), dash(hourMin(seg.Hold)),
			hourMin(unit.Seconds(span.End - span.Start)), clockText(rep, span.End)})
	}
	v.ProgramNotes = programNotes(rep)
	v.CurveNote = curveNote(rep)
	v.sheetPieces(rep)
	v.Pages, v.Call = pages, call(numberOf(rep.Studio))
	v.Foot = "Local codes, the makers' instructions and licensed trades overrule these lines. Checklist of " + checklist.Version +
		". lehr computes; it does not watch your kiln."
	return v, nil
}

// sheetPieces fills the numbers of the pieces.
func (v *sheetView) sheetPieces(rep *verify.Report) {
	sys := rep.Studio.Units
	_, v.StressUnit = rep.Limits.Tension.In(sys)
	in := func(s unit.Stress) string {
		x, _ := s.In(sys)
		if sys == unit.US {
			return whole(x)
		}
		return fmt.Sprintf("%.2f", x)
	}
	for _, p := range rep.Pieces {
		row := sheetPiece{Name: countName(p.Piece), Tension: in(p.Peak), TensionShare: used(p.Tension) + " %",
			Where: peakWhere(rep, p),
			Left:  "–", Relaxed: "–", Shows: "–", Over: overText(rep, p)}
		if p.ResidualAsked {
			row.Left, row.LeftShare = in(max(p.Residual, 0)), used(p.Left)+" %"
			row.Shows = whole(float64(p.Retardation) * 1e9)
			if p.SoakAsked {
				row.Relaxed = short(math.Floor(p.Relaxed*1e4) / 100)
			}
		}
		v.Pieces = append(v.Pieces, row)
		if len(rep.Pieces) > 1 && len(p.Decides) > 0 {
			v.Deciders = append(v.Deciders, fmt.Sprintf("%s decides: %s.", p.Piece.What, strings.Join(purposes(p.Decides), ", ")))
		}
	}
}

// sheetSources are the sources but for those of the limits, which would take a
// page of their own.
func sheetSources(rep *verify.Report) (out []string) {
	for _, s := range words.Sources(rep.Sources) {
		if !strings.HasPrefix(s, verify.LimitSource) {
			out = append(out, s)
		}
	}
	return append(out, "limits: published texts; lehr plan --why names them")
}

// curveNote says how temperatures and tension belong together when the kiln is
// slower than its program.
func curveNote(rep *verify.Report) string {
	for _, span := range rep.Actual.Spans {
		if !rep.Studio.Kiln.Measured && (span.ByItself || span.Overshoots) {
			return "Temperatures for a kiln that falls by itself; tension for one that follows the program exactly. Yours was not measured and may pull harder."
		}
	}
	return ""
}

// capital begins a sentence.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func dash(s string) string {
	if s == "-" {
		return "–"
	}
	return s
}

// loadTitle names a load that has no name by its pieces.
func loadTitle(l *piece.Load) string {
	var names []string
	for i, p := range l.Pieces {
		if i == 3 && len(l.Pieces) > 4 {
			return fmt.Sprintf("%s and %d more kinds", strings.Join(names, ", "), len(l.Pieces)-i)
		}
		names = append(names, countName(p))
	}
	return strings.Join(names, ", ")
}

func countText(l *piece.Load) string {
	n, kinds := l.Count(), len(l.Pieces)
	switch {
	case n == 1:
		return "1 piece"
	case kinds == 1:
		return fmt.Sprintf("%d pieces", n)
	}
	return fmt.Sprintf("%d pieces of %d kinds", n, kinds)
}
