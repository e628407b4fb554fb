package web

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"lehr/anneal/piece"
	"lehr/anneal/verify"

	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
	"lehr/safety/checklist"
)

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

// Sheet makes the page of a report.
func Sheet(rep *verify.Report, back string) ([]byte, error) {
	v, err := newSheetView(rep)
	if err != nil {
		return nil, err
	}
	v.Back = back
	return v.page()
}

func newSheetView(rep *verify.Report) (*sheetView, error) {
	u := rep.Studio.Controller.Units
	curve, err := report.NewCurve(rep)
	if err != nil {
		return nil, err
	}
	svg, err := curve.Inline(picture.Square)
	if err != nil {
		return nil, err
	}
	pages, err := report.KilnPages(rep)
	if err != nil {
		return nil, err
	}
	say := words.About(rep)
	v := &sheetView{Name: rep.Load.Name, Within: rep.Verdict() == verify.WithinLimits, Curve: svg,
		Share: report.ShareText(rep), Begin: rep.Schedule.From.Text(u),
		Notes: say.List(report.OnPage(rep.Notes)), Reasons: say.Reasons(rep.Reasons),
		Assumed: say.Assumed(rep.Assumptions), Sources: sheetSources(rep)}
	if v.Name == "" {
		v.Name = loadTitle(rep.Load)
	}
	v.About = []string{report.GlassNames(rep.Load), "into " + string(rep.Load.Into), countText(rep.Load)}
	if rep.Shortest != nil {
		v.Share = strings.TrimSpace(v.Share + " " + report.ShortestText(rep))
	}
	v.Verdict, v.Numbers = report.VerdictText(rep)
	v.Numbers = term.Capital(v.Numbers)
	end := report.EndText(rep)
	cut := strings.IndexAny(end, ",;")
	v.Ends, v.End = end[:cut], term.Capital(strings.TrimLeft(end[cut:], ",; "))
	for _, p := range rep.Pieces {
		if len(p.Over) > 0 {
			v.Over = append(v.Over, p.Piece.What+": "+report.OverText(rep, p))
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
		v.Segments = append(v.Segments, sheetSegment{i + 1, seg.Off, report.PurposeText(rep, i), dash(report.RateText(rep, i)), term.Whole(to), dash(report.HourMin(seg.Hold)),
			report.HourMin(unit.Seconds(span.End - span.Start)), report.ClockText(rep, span.End)})
	}
	v.ProgramNotes = report.ProgramNotes(rep)
	v.CurveNote = curveNote(rep)
	v.sheetPieces(rep)
	v.Pages, v.Call = pages, session.Call(session.EmergencyNumber(rep.Studio))
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
			return term.Whole(x)
		}
		return fmt.Sprintf("%.2f", x)
	}
	for _, p := range rep.Pieces {
		row := sheetPiece{Name: report.CountName(p.Piece), Tension: in(p.Peak), TensionShare: report.Used(p.Tension) + " %",
			Where: report.PeakWhere(rep, p),
			Left:  "–", Relaxed: "–", Shows: "–", Over: report.OverText(rep, p)}
		if p.ResidualAsked {
			row.Left, row.LeftShare = in(max(p.Residual, 0)), report.Used(p.Left)+" %"
			row.Shows = term.Whole(float64(p.Retardation) * 1e9)
			if p.SoakAsked {
				row.Relaxed = term.Short(math.Floor(p.Relaxed*1e4) / 100)
			}
		}
		v.Pieces = append(v.Pieces, row)
		if len(rep.Pieces) > 1 && len(p.Decides) > 0 {
			v.Deciders = append(v.Deciders, fmt.Sprintf("%s decides: %s.", p.Piece.What, strings.Join(report.Purposes(p.Decides), ", ")))
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
		names = append(names, report.CountName(p))
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

// Enlarged makes the letters of a page half as large again. On paper what
// stands side by side then stands one below the other.
func Enlarged(page []byte) []byte {
	const style = "<style>html{font-size:150%}.word,.program .n{font-size:1.6rem}" +
		"@media print{body{zoom:1.5}.two,.top{display:block}.pages,.small{columns:1}}</style></head>"
	return bytes.Replace(page, []byte("</head>"), []byte(style), 1)
}
