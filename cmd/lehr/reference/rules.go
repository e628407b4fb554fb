package reference

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/formula"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/rule"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass"
	"lehr/glass/unit"
)

// RulesFlags are the flags of lehr rules.
type RulesFlags struct {
	Glass, GlassFile, Piece, Count string
	Tension, Left                  unit.Stress
}

// Rules is lehr rules; changed says which flags were given.
func Rules(a *desk.App, opt *RulesFlags, changed func(string) bool) error {
	studio, err := a.ReadStudio()
	if err != nil {
		return err
	}
	name := opt.Glass
	if name == "" {
		name = studio.Glass
	}
	if name == "" {
		return desk.Usagef(`write --glass borosilicate-33; list the names with: lehr glass`, "rules: needs --glass")
	}
	table, err := flags.GlassTable(a, opt.GlassFile)
	if err != nil {
		return err
	}
	g, err := table.Find(name)
	if err != nil {
		return desk.AsUsage("rules: --glass", err)
	}
	piece, err := piece.Parse(opt.Piece)
	if err != nil {
		return desk.AsUsage("rules: --piece", err)
	}
	if err := flags.BareOnly("rules", piece); err != nil {
		return err
	}
	piece.Glass = g
	limits := studio.Limits
	if changed("max-tension") {
		limits.Tension = opt.Tension
	}
	if changed("max-left") {
		limits.Residual = opt.Left
	}
	if opt.Count != "equal" && opt.Count != "full" {
		return desk.Usagef(`write --count equal or --count full`, "rules: --count %q: no way to count a round piece", opt.Count)
	}
	v, err := compareRules(piece, limits, opt.Count == "full")
	if err != nil {
		return err
	}
	v.system, v.kiln = a.System(studio.Units), studio.Kiln
	if a.JSON {
		return rulesJSON(a, v)
	}
	return showRules(a, v)
}

// rulesView is what every rule says of one piece.
type rulesView struct {
	piece   piece.Piece
	body    piece.Body
	limits  kiln.Limits
	kiln    kiln.Kiln
	system  unit.System
	applied []appliedRule
	refused []refusedRule
}

type appliedRule struct {
	rule.Rule
	result rule.Result
}

type refusedRule struct {
	rule.Rule
	reason error
}

// supported says what a rule from memory stands on beside that.
func supported(by string) string {
	if by == "" {
		return ""
	}
	return "beside memory, " + by
}

// compareRules applies every rule to the piece. It fails only when the piece
// or the glass lacks something that every rule needs.
func compareRules(p piece.Piece, limits kiln.Limits, full bool) (rulesView, error) {
	v := rulesView{piece: p, body: p.Body(), limits: limits}
	if !(limits.Tension > 0) || !(limits.Residual > 0) {
		return v, desk.Usagef("write --max-tension 3.5MPa", "rules: a stress limit must be above zero")
	}
	q := rule.Request{
		Glass: p.Glass, Shape: v.body.Form, Size: v.body.Size, OneFace: v.body.OneFace,
		CountFull:     full && v.body.Form != formula.FormSlab,
		DesignCooling: limits.Tension, DesignResidual: limits.Residual,
		TensionFactor: v.body.TensionFactor, ResidualFactor: v.body.ResidualFactor,
	}
	for _, r := range rule.All() {
		res, err := r.Apply(q)
		if err != nil {
			v.refused = append(v.refused, refusedRule{r, err})
			continue
		}
		v.applied = append(v.applied, appliedRule{r, res})
	}
	return v, nil
}

// sideBySide is how many rules stand in one table.
const sideBySide = 3

// showRules prints the rules that apply next to each other, those that refuse
// below, and the sources.
func showRules(a *desk.App, v rulesView) error {
	a.Print(a.Style(term.Bold, fmt.Sprintf("%s, %s", v.piece.What, v.piece.Glass.Name)) + "\n")
	text, doubt := words.In(v.system).Body(v.piece)
	a.Prose(0, "Counts as "+strings.Join(text, "; ")+".")
	if doubt != "" {
		a.Prose(0, "Uncertain: "+doubt+".")
	}
	a.Prose(0, fmt.Sprintf("Limits: tension while cooling %s, locked in %s.", v.limits.Tension.Text(v.system), v.limits.Residual.Text(v.system)))
	if len(v.applied) == 0 {
		a.Print("\n")
		a.Prose(0, "No rule applies.")
	}
	if len(v.applied) > 0 {
		a.Prose(0, "Closed forms, not simulated: lehr plan simulates, and slows what exceeds a limit, often by a third. A kiln falls slower than the last ramps ask, so two totals stand below; both begin with the soak.")
	}
	var cites []string
	for group := range slices.Chunk(v.applied, sideBySide) {
		a.Print("\n")
		if err := a.Table(v.columns(group), v.rows(group, &cites)); err != nil {
			return err
		}
	}
	say := words.In(v.system)
	for _, r := range v.applied {
		a.Section(r.Title + " (" + r.Name + ")")
		for _, text := range []string{r.Note, supported(r.Support), "counted: " + say.Say(r.result.CountsAs)} {
			if text != "" {
				a.Item("- ", sentence(text))
			}
		}
		for _, f := range r.result.Assumed {
			text := say.Say(f)
			if f.Kind != finding.TakenFor { // which begins with the name of a glass
				text = term.Capital(text)
			}
			a.Item("- ", stopped(text))
		}
		for _, text := range r.Deviations {
			a.Item("- ", sentence("about the print: "+text))
		}
	}
	if len(v.refused) > 0 {
		a.Section("Rules that do not apply")
		for _, r := range v.refused {
			a.Item("- ", stopped(r.Name+": "+r.why(v.system)))
		}
	}
	if len(cites) > 0 {
		a.Section("Sources")
		for i, text := range cites {
			a.Item(fmt.Sprintf("%3d. ", i+1), text)
		}
	}
	return nil
}

// why says which rule refuses and for what reason.
func (r refusedRule) why(sys unit.System) string {
	text := r.reason.Error()
	if own, ok := r.reason.(*rule.Error); ok && own.Rule == r.Name {
		text = own.Reason
	}
	var out *glass.RangeError
	if errors.As(r.reason, &out) {
		text = fmt.Sprintf("%s %s: valid from %s to %s", out.Quantity, out.Value.Text(sys), out.Low.Text(sys), out.High.Text(sys))
	}
	return text
}

func (v rulesView) columns(group []appliedRule) []term.Column {
	cols := []term.Column{term.TextColumn("")}
	for _, r := range group {
		cols = append(cols, term.LongColumn(r.Name))
	}
	return cols
}

// rows returns the comparison, one line per question.
func (v rulesView) rows(group []appliedRule, cites *[]string) [][]string {
	row := func(name string, cell func(r appliedRule) string) []string {
		cells := []string{name}
		for _, r := range group {
			cells = append(cells, cell(r))
		}
		return cells
	}
	rows := [][]string{
		row("soak", func(r appliedRule) string { return v.stageText(r.result.Stages[0]) }),
		row("cooling", func(r appliedRule) string {
			var lines []string
			for _, s := range r.result.Stages[1:] {
				lines = append(lines, v.stageText(s))
			}
			return strings.Join(lines, "\n")
		}),
		row("total\nas keyed in", func(r appliedRule) string { return desk.HoursText(r.result.Total()) }),
		row("total\nin this kiln", func(r appliedRule) string { return v.inKiln(r.result) }),
		row("tension\n(closed form)", func(r appliedRule) string { return v.against(r.result.ImpliedCooling, v.limits.Tension) }),
		row("locked in\n(closed form)", func(r appliedRule) string { return v.against(r.result.ImpliedResidual, v.limits.Residual) }),
		row("counted", func(r appliedRule) string {
			if r.result.Slab == 0 {
				return "its own shape"
			}
			return "slab " + r.result.Slab.Text(v.system)
		}),
		row("heating", func(r appliedRule) string {
			if r.result.HeatRate == 0 {
				return "–"
			}
			return "at most " + r.result.HeatRate.Text(v.system)
		}),
		row("status", func(r appliedRule) string { return r.result.Status }),
		row("source", func(r appliedRule) string {
			at := slices.Index(*cites, r.result.Source)
			if at < 0 {
				*cites = append(*cites, r.result.Source)
				at = len(*cites) - 1
			}
			return fmt.Sprint(at + 1)
		}),
	}
	return rows
}

// inKiln is how long a rule takes in the kiln of the studio, which falls no
// faster than it can: the hours that lehr plan speaks of.
func (v rulesView) inKiln(r rule.Result) string {
	about := ""
	if !v.kiln.Measured {
		about = "about "
	}
	return about + desk.HoursText(v.totalInKiln(r))
}

func (v rulesView) totalInKiln(r rule.Result) time.Duration {
	s := program.Schedule{From: r.Stages[0].To}
	for _, st := range r.Stages {
		s.Segments = append(s.Segments, program.Segment{Rate: st.Rate, To: st.To, Hold: st.Hold})
	}
	return s.As(&v.kiln).Total()
}

// stageText is a hold or a ramp in words.
func (v rulesView) stageText(s rule.Stage) string {
	to, degree := s.To.In(v.system)
	if s.To == kiln.OpenAt && v.system == unit.US {
		to = math.Ceil(to) // 43 °C is nominal: 110 °F, not 109
	}
	if s.Rate == 0 {
		return fmt.Sprintf("%s %s for %s", term.Whole(to), degree, desk.HoursText(s.Hold))
	}
	rate, per := s.Rate.In(v.system)
	text := fmt.Sprintf("%s %s to %s %s", term.Short3(max(rate, -rate)), per, term.Whole(to), degree)
	if s.Hold > 0 {
		text += "\n" + term.Whole(to) + " " + degree + " for " + desk.HoursText(s.Hold)
	}
	return text
}

// over reports whether a stress exceeds its limit by more than the digits
// shown: a rule that works to the limit meets it up to rounding.
func over(x, limit unit.Stress) bool { return x > limit*(1+5e-4) }

// against is a stress, and a word when it is over its limit.
func (v rulesView) against(x, limit unit.Stress) string {
	if over(x, limit) {
		return x.Text(v.system) + ", over limit"
	}
	return x.Text(v.system)
}

// sentence gives a clause a capital and a full stop.
func sentence(s string) string { return stopped(term.Capital(s)) }

// stopped gives a clause its full stop.
func stopped(s string) string { return strings.TrimRight(s, ".") + "." }
