package words

import (
	"fmt"
	"slices"
	"strings"

	"lehr/anneal/piece"
	"lehr/anneal/spread"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// Ranges says what lies between average glass and the worst case of a piece: the
// shares of what nobody measured, of most weight first. "" if there is none.
func (w Words) Ranges(p verify.PieceReport) string {
	var out []string
	say := func(what string, b verify.Tension) {
		shares := Shares(b.Why)
		if shares == "" {
			return
		}
		text := fmt.Sprintf("%s %s in average glass, %s at worst: %s", what, w.stress(max(b.Expected, 0)), w.stress(max(b.Worst, 0)), shares)
		if most := dearest(b.Why); most != "" {
			text += "; " + most
		}
		out = append(out, text)
	}
	say("tension", p.Tension)
	if p.ResidualJudged {
		say("left", p.ResidualTension)
	}
	if len(out) == 0 {
		return ""
	}
	return p.Piece.What + ": " + strings.Join(out, ". ")
}

// dearest says how much of a worst case would go if the heaviest question were
// answered, "" if that is little.
func dearest(c spread.Combined) string {
	best := spread.Part{}
	for _, p := range c.Parts {
		if p.Costs > best.Costs {
			best = p
		}
	}
	share := best.Costs / c.Factor
	if share < 0.01 {
		return ""
	}
	return fmt.Sprintf("of it %.0f %% would go if %s were known", 100*share, Unknown(best.Of))
}

// unknowns names what is called otherwise than its key.
var unknowns = [...]struct {
	of   spread.Unknown
	text string
}{
	{spread.PhononPart, "conductivity without radiation"},
	{spread.Young, "Young's modulus"},
	{spread.LiquidExpansion, "liquid expansion"},
	{spread.Absorption, "absorption of its own heat"},
	{spread.Structure, "pace of structural relaxation"},
	{spread.Light, "how clear the glass is"},
}

// Unknown names what nobody knows exactly.
func Unknown(u spread.Unknown) string {
	for _, n := range unknowns {
		if n.of == u {
			return n.text
		}
	}
	return strings.ReplaceAll(string(u), "_", " ") // conductivity, strain point
}

// Part names a part of a worst case, with the answer that is taken.
func Part(of spread.Unknown, answer string) string {
	if answer == "" {
		return Unknown(of)
	}
	return Unknown(of) + ": " + answer
}

// Shares names the parts of a worst case that matter: "annealing point +9 %,
// conductivity +8 %". It leaves out what is below half a per cent.
func Shares(c spread.Combined) string {
	var out []string
	for _, p := range c.Parts {
		if p.Share >= 0.005 {
			out = append(out, fmt.Sprintf("%s +%.0f %%", Part(p.Of, p.Answer), 100*p.Share))
		}
	}
	return strings.Join(out, ", ")
}

// alone names the fixed points of which a person's own range counts beside that
// of the annealing point.
func (w Words) alone() string {
	text := ""
	var said []string
	for _, p := range w.load.Pieces {
		for _, key := range p.Glass.Alone {
			if !slices.Contains(said, key) {
				said = append(said, key)
				text += ", " + Unknown(spread.Unknown(key))
			}
		}
	}
	return text
}

// Limits says what each limit keeps back, and what it rests on for the glasses of
// the load.
func (w Words) Limits() []string {
	var out []string
	for _, l := range spread.Limits() {
		var on []string
		for _, p := range w.load.Pieces {
			for _, s := range l.For(p.Glass) {
				fact := s.Text
				if w.sys == unit.US { // its numbers stand in the units of the print
					fact = s.Cite
				}
				if text := fmt.Sprintf("%s [%s]", fact, s.Status); !slices.Contains(on, text) {
					on = append(on, text)
				}
			}
		}
		out = append(out, fmt.Sprintf("%s, %s in average glass and %s at worst: %s. It rests on: %s", l.Name,
			w.stress(l.Ordinary.Expected), w.stress(l.Ordinary.Worst), l.Reserve, strings.Join(on, "; ")))
	}
	if slices.ContainsFunc(w.load.Pieces, func(p piece.Piece) bool { return !p.Contents.Empty() }) {
		out = append(out, "why a misfit may pull a surface more than annealing may leave there: the limit of a misfit is all that is allowed for years, as no program takes it away; a program can take its own share away, so that half is kept back for scratches")
	}
	return out
}

// UsualLimit says what a piece is judged by where nobody gives a limit, by the key
// of one of [spread.Limits].
func UsualLimit(key string, sys unit.System) string {
	for _, l := range spread.Limits() {
		if l.Key == key {
			return "by size and use, commonly " + l.Ordinary.Worst.Text(sys) + " at worst"
		}
	}
	return ""
}
