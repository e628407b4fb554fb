package checks

import (
	"errors"
	"fmt"
	"math"

	"lehr/anneal/piece"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
	"lehr/safety/checklist"
	"lehr/safety/figure"
	"lehr/safety/quantity"
)

// EyeFlags are the flags of lehr safety eye, as typed.
type EyeFlags struct {
	Load                               flags.Load
	Facts                              []string
	Piece, GlassAt, From, Lens, LensTo string
	Kiln, Opening                      string
}

// Eye is lehr safety eye.
func Eye(a *desk.App, e *EyeFlags, args []string) error {
	const cmd = "eye"
	if e.Kiln+e.Opening != "" && e.Piece+e.GlassAt != "" {
		return desk.Usagef("ask for one, then for the other", "eye: both a piece and the kiln")
	}
	if stop, err := Danger(a, cmd, e.Facts); stop {
		return err
	}
	facts, load, err := factsOf(a, cmd, &e.Load, args, e.Facts)
	if err != nil {
		return err
	}
	typed, err := factsOfFlags(cmd, []FactFlag{{"glass-at", "glass_temperature", e.GlassAt}, {"from", "eye_distance", e.From},
		{"lens-infrared", "lens_infrared", e.Lens}, {"lens-to", "lens_to", e.LensTo}, {"kiln", "kiln_temperature", e.Kiln}, {"opening", "kiln_opening", e.Opening}})
	if err != nil {
		return err
	}
	f := facts.Over(typed)
	if f.EyeDistance == 0 {
		return desk.Usagef("write --from 300mm, from the eye to the middle of the piece", "eye: needs --from")
	}
	if e.Kiln != "" || e.Opening != "" {
		return eyeAtKiln(a, f)
	}
	hot, what, err := e.hottest(f, load)
	if err != nil {
		return err
	}
	if f.GlassTemp.IsZero() {
		return desk.Usagef("write --glass-at 1200C, the glass at its hottest", "eye: needs --glass-at")
	}
	rep, err := hot.figures(f)
	if err != nil {
		return localError(err, f.Units)
	}
	head := fmt.Sprintf("%s at %s, the eye %s from its middle", what, f.GlassTemp.Text(f.Units), desk.LengthText(f.EyeDistance, f.Units))
	return eyeAnswer(a, eyeOf{what, f.GlassTemp, f.EyeDistance}, head, rep, f.Units)
}

// glowing is the form in which a piece counts for the eye: a rod or tube by its
// diameter and hot length, anything else as the ball around it.
type glowing struct{ diameter, length unit.Length }

// glow returns the form of a piece. A rod or tube whose length is not given
// counts as hot over three diameters.
func glow(p piece.Piece) glowing {
	switch p.Shape {
	case piece.RodShape, piece.TubeShape:
		if p.Across == 0 {
			return glowing{p.Size, 3 * p.Size}
		}
		return glowing{p.Size, p.Across}
	case piece.SphereShape:
		return glowing{diameter: p.Size}
	case piece.SlabShape:
		return glowing{diameter: unit.Length(math.Hypot(math.Sqrt2*float64(p.Across), float64(p.Size)))}
	}
	return glowing{diameter: unit.Length(math.Hypot(float64(p.Across), float64(p.Size)))}
}

// figures returns what the eye gets from it.
func (g glowing) figures(f checklist.Facts) (figure.EyeReport, error) {
	if g.length > 0 {
		return figure.EyeAtRod(f.GlassTemp, g.diameter, g.length, f.EyeDistance, f.WornLens())
	}
	return figure.Eye(f.GlassTemp, g.diameter, f.EyeDistance, f.WornLens())
}

// hottest returns the piece that gives the eye most, and what to call it.
func (e *EyeFlags) hottest(f checklist.Facts, load *piece.Load) (glowing, string, error) {
	if e.Piece != "" {
		p, err := piece.Parse(e.Piece)
		if err != nil {
			return glowing{}, "", desk.AsUsage("eye: --piece", err)
		}
		return glow(p), p.What + hotLength(p), nil
	}
	if f.LargestPiece == 0 {
		return glowing{}, "", desk.Usagef(`write --piece "sphere 3in", or name a load file`, "eye: needs --piece")
	}
	if load != nil && session.PieceFacts(load).LargestPiece == f.LargestPiece { // no fact overrules the load
		most, at := 0.0, -1
		for i, p := range load.Pieces {
			if g := glow(p); at < 0 || float64(g.diameter*max(g.length, g.diameter)) > most {
				most, at = float64(g.diameter*max(g.length, g.diameter)), i
			}
		}
		p := load.Pieces[at]
		return glow(p), p.What + hotLength(p) + ", the largest of the load,", nil
	}
	return glowing{diameter: f.LargestPiece}, "piece of " + desk.LengthText(f.LargestPiece, f.Units), nil
}

// hotLength says how much of a rod counts as hot when nobody said.
func hotLength(p piece.Piece) string {
	if glow(p).length > 0 && p.Across == 0 {
		return " (three diameters of it hot)"
	}
	return ""
}

func eyeAtKiln(a *desk.App, f checklist.Facts) error {
	switch {
	case f.KilnTemp.IsZero():
		return desk.Usagef("write --kiln 560C", "eye: needs --kiln")
	case f.KilnOpening == 0:
		return desk.Usagef(`write --opening "200mm x 200mm"`, "eye: needs --opening")
	}
	rep, err := figure.EyeAtKiln(f.KilnTemp, f.KilnOpening, f.EyeDistance, f.WornLens())
	if err != nil {
		return localError(err, f.Units)
	}
	head := fmt.Sprintf("open kiln at %s, opening %s, the eye %s in front of it", f.KilnTemp.Text(f.Units), quantity.Areas.Text(f.KilnOpening, f.Units), desk.LengthText(f.EyeDistance, f.Units))
	return eyeAnswer(a, eyeOf{"open kiln", f.KilnTemp, f.EyeDistance}, head, rep, f.Units)
}

// localError puts the quantities of an error into the display system.
func localError(err error, sys unit.System) error {
	var input *figure.InputError
	if errors.As(err, &input) {
		return errors.New(input.In(sys))
	}
	return err
}

// eyeOf is what an eye figure is about.
type eyeOf struct {
	what string
	temp unit.Temp
	from unit.Length
}

func eyeAnswer(a *desk.App, of eyeOf, head string, r figure.EyeReport, sys unit.System) error {
	over := r.PassesLimit()
	if a.JSON {
		if err := eyeJSON(a, of, r); err != nil {
			return err
		}
		return desk.OverIf(over)
	}
	limit := term.Short(r.Limit) + " W/m² limit"
	times := ""
	if r.Over {
		times = sig2(r.Times) + " times the"
	}
	var head1, rest, style string
	if r.Lens.Passes > 0 {
		head1, rest, style = "Behind your "+quantity.Shares.Text(r.Lens.Passes, sys)+" lens: up to "+sig2(r.Behind)+" W/m²,", "within the "+limit+" for long work.", term.Good
		if r.BehindOver {
			rest, style = "OVER the "+limit+" for long work.", term.Bad
		}
		if r.Over {
			rest += " Bare eye: " + times + " limit."
		} else {
			rest += " Bare eye: within it, too."
		}
	} else {
		head1, rest, style = "Bare eye: up to "+sig2(r.Irradiance)+" W/m² of infrared,", "within the "+limit+" for long work.", term.Good
		if r.Over {
			rest, style = times+" "+limit+" for long work.", term.Bad
		}
	}
	a.Print(a.Style(style, head1))
	a.Print(wrapAfter(rest, len([]rune(head1)), a.Width(), a.ASCII()))
	a.Prose(0, head)
	a.Print("\n")
	if r.Over {
		look := "less than 1 s"
		if s := int(r.ShortTime.Seconds()); s >= 1 {
			look = unit.FormatDuration(r.ShortTime.Truncate(1e9))
		}
		a.Item(eyeMark("short limit"), "reached by the bare eye in "+look+": "+lookMeans)
		a.Item(eyeMark("a lens may pass"), "at most "+percentDown(float64(r.MaxTransmittance))+" of infrared, up to 3000 nm")
	}
	if r.Over && r.LimitDistance > 0 {
		a.Item(eyeMark("or sit back"), "the bare eye gets the limit at "+lengthUp(r.LimitDistance, sys)+" from the middle")
	}
	a.Prose(0, eyewearStays)
	a.Assumed(eyeAssumed(r))
	showSources(a, r.Sources)
	showDeferrals(a, r.Defer)
	return desk.OverIf(over)
}

// What a figure for the eye does not say.
const (
	eyewearStays = "Eyewear stays on, whatever this says: it counts infrared alone, not glare, ultraviolet or flying glass."
	lookMeans    = "a computed limit, not a permission to look."
)

// eyeAssumed says in words what a figure for the eye assumes.
func eyeAssumed(r figure.EyeReport) []string {
	out := map[figure.Counted][]string{
		figure.AsBall: {"upper bound: the whole piece counts as a ball at one temperature, radiating as a black body; clear glass gives less", "the flame, its yellow flare and the kiln are not counted"},
		figure.AsRod:  {"upper bound: the whole length given counts as hot, at one temperature, radiating as a black body and pointing the worst way", "the flame, its yellow flare and the kiln are not counted"},
		figure.AsKiln: {"upper bound: the kiln counts as a black body all round, and the opening as a disc straight ahead", "hotter elements in view are not counted"},
	}[r.Counts]
	beyond := "a lens norm that ends at 2000 nm leaves out " + term.Short(math.Round(r.BeyondNorm*100)) + " % of what this radiates in the band of the limit"
	if r.Lens.Passes > 0 {
		nm := term.Short(math.Round(r.Lens.To * 1e9))
		if r.Lens.To < 2999e-9 {
			return append(out, beyond, "the figure of your lens counts up to "+nm+" nm; beyond, the lens counts as open")
		}
		return append(out, "the figure of your lens counts up to "+nm+" nm, as stated")
	}
	return append(out, beyond+"; a lens counts only as far as its maker's figure goes")
}

func eyeMark(s string) string { return fmt.Sprintf("%-16s ", s) }
