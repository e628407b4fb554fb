package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"lehr/anneal"
	"lehr/glass/unit"
	"lehr/safety"
)

// eyeFlags are the flags of lehr safety eye, as typed.
type eyeFlags struct {
	load                       loadFlags
	facts                      []string
	piece, glassAt, from, lens string
	kiln, opening              string
}

func newSafetyEyeCommand(a *app) *cobra.Command {
	e := &eyeFlags{}
	c := &cobra.Command{
		Use:   "eye [<load.toml>] --glass-at <temperature> --from <length> [--piece <piece>]",
		Short: "Infrared at the eye from a hot piece, against the limit",
		Long: `Computes the infrared (780 to 3000 nm) that a hot piece may put on the bare eye, and sets it against the limit for long work, 100 W/m²: how many times over, how long a look reaches the short-exposure limit, and the most infrared a lens may pass. It is an upper bound for clear glass; the flame is not counted. The lens maker's curve and an eye-care professional decide.

With --kiln it is the open kiln instead, seen straight on through its door or lid. What no flag gives is taken from the session facts glass_temperature, eye_distance, lens_infrared, kiln_temperature and kiln_opening; the piece is the largest of the load.

Status 3: more than the limit reaches the eye, behind the lens if its figure is given.`,
		Example: `lehr safety eye --piece "sphere 3in" --glass-at 1200C --from 300mm
lehr safety eye mixed.toml --glass-at 1200C --from 300mm --lens-infrared 5%
lehr safety eye mixed.toml --glass-at 2200F --from 12in --units f
lehr safety eye --kiln 560C --opening "200mm x 200mm" --from 500mm`,
		Args:        atMost(1),
		Annotations: withJSON(),
		RunE:        func(_ *cobra.Command, args []string) error { return a.runEye(e, args) },
	}
	f := c.Flags()
	f.StringVar(&e.piece, "piece", "", "the `piece`, such as \"sphere 3in\"; its greatest measure counts (default: the largest of the load)")
	f.StringVar(&e.glassAt, "glass-at", "", "`temperature` of the glass at its hottest")
	f.StringVar(&e.from, "from", "", "`length` from the eye to the middle of the piece, or to the opening of the kiln")
	f.StringVar(&e.lens, "lens-infrared", "", "greatest infrared `transmittance` the lens maker publishes, such as 5%")
	f.StringVar(&e.kiln, "kiln", "", "look into the kiln at this `temperature`")
	f.StringVar(&e.opening, "opening", "", "door or lid `opening` of the kiln, such as \"200mm x 200mm\"")
	a.addFactFlags(c, &e.facts, &e.load)
	return c
}

func (a *app) runEye(e *eyeFlags, args []string) error {
	const cmd = "eye"
	if e.kiln+e.opening != "" && e.piece+e.glassAt != "" {
		return usagef("ask for one, then for the other", "eye: both a piece and the kiln")
	}
	facts, load, err := a.factsOf(cmd, &e.load, args, e.facts)
	if err != nil {
		return err
	}
	typed, err := factsOfFlags(cmd, []factFlag{{"glass-at", "glass_temperature", e.glassAt}, {"from", "eye_distance", e.from},
		{"lens-infrared", "lens_infrared", e.lens}, {"kiln", "kiln_temperature", e.kiln}, {"opening", "kiln_opening", e.opening}})
	if err != nil {
		return err
	}
	f := facts.Over(typed)
	if f.EyeDistance == 0 {
		return usagef("write --from 300mm, from the eye to the middle of the piece", "eye: needs --from")
	}
	if e.kiln != "" || e.opening != "" {
		return a.eyeAtKiln(f)
	}
	size, what, err := e.size(f, load)
	if err != nil {
		return err
	}
	if f.GlassTemp.IsZero() {
		return usagef("write --glass-at 1200C, the glass at its hottest", "eye: needs --glass-at")
	}
	rep, err := safety.Eye(f.GlassTemp, size, f.EyeDistance, f.LensInfrared)
	if err != nil {
		return localError(err, f.Units)
	}
	head := fmt.Sprintf("%s at %s, the eye %s from its middle", what, f.GlassTemp.Text(f.Units), lengthText(f.EyeDistance, f.Units))
	return a.eyeAnswer(eyeOf{what, f.GlassTemp, f.EyeDistance}, head, rep, f.Units)
}

// size returns the greatest measure of the piece and what to call it.
func (e *eyeFlags) size(f safety.Facts, load *anneal.Load) (unit.Length, string, error) {
	if e.piece != "" {
		p, err := anneal.ParsePiece(e.piece)
		if err != nil {
			return 0, "", asUsage("eye: --piece", err)
		}
		return max(p.Size, p.Across), p.What, nil
	}
	if f.LargestPiece == 0 {
		return 0, "", usagef(`write --piece "sphere 3in", or name a load file`, "eye: needs --piece")
	}
	if load != nil {
		for _, p := range load.Pieces {
			if max(p.Size, p.Across) == f.LargestPiece {
				return f.LargestPiece, p.What + ", the largest of the load,", nil
			}
		}
	}
	return f.LargestPiece, "piece of " + lengthText(f.LargestPiece, f.Units), nil
}

func (a *app) eyeAtKiln(f safety.Facts) error {
	switch {
	case f.KilnTemp.IsZero():
		return usagef("write --kiln 560C", "eye: needs --kiln")
	case f.KilnOpening == 0:
		return usagef(`write --opening "200mm x 200mm"`, "eye: needs --opening")
	}
	rep, err := safety.EyeAtKiln(f.KilnTemp, f.KilnOpening, f.EyeDistance, f.LensInfrared)
	if err != nil {
		return localError(err, f.Units)
	}
	head := fmt.Sprintf("open kiln at %s, opening %s, the eye %s in front of it", f.KilnTemp.Text(f.Units), f.KilnOpening.Text(f.Units), lengthText(f.EyeDistance, f.Units))
	return a.eyeAnswer(eyeOf{"open kiln", f.KilnTemp, f.EyeDistance}, head, rep, f.Units)
}

// localError puts the quantities of an error into the display system.
func localError(err error, sys unit.System) error {
	return withHint(fmt.Errorf("%s", localize(err.Error(), sys)), hintOf(err))
}

// eyeOf is what an eye figure is about.
type eyeOf struct {
	what string
	temp unit.Temp
	from unit.Length
}

func (a *app) eyeAnswer(of eyeOf, head string, r safety.EyeReport, sys unit.System) error {
	over := r.Over
	if r.LensPassed > 0 {
		over = r.BehindOver
	}
	if a.json {
		if err := a.eyeJSON(of, r); err != nil {
			return err
		}
		return overIf(over)
	}
	word, style := "Within the limit", styleGood
	if r.Over {
		word, style = "OVER THE LIMIT", styleBad
	}
	text := fmt.Sprintf("at the bare eye: up to %s W/m² of infrared, %s times the %s W/m² limit for long work.", sig2(r.Irradiance), sig2(r.Times), short(r.Limit))
	a.print(a.style(style, word))
	a.print(wrapAfter(text, len(word), a.width(), a.ascii()))
	a.prose(0, head)
	a.print("\n")
	if r.Over {
		look := "under 1 s"
		if s := int(r.ShortTime.Seconds()); s >= 1 {
			look = unit.FormatDuration(r.ShortTime.Truncate(1e9))
		}
		a.item(eyeMark("longest look"), look+" reaches the short-exposure limit. It ranks what is worst; it is no leave to look.")
		a.item(eyeMark("a lens may pass"), "at most "+percentDown(float64(r.MaxTransmittance))+" of infrared")
	}
	if r.LensPassed > 0 {
		verdict := "within the limit"
		if r.BehindOver {
			verdict = "OVER THE LIMIT"
		}
		a.item(eyeMark("your lens"), fmt.Sprintf("passes %s: up to %s W/m² behind it, %s", r.LensPassed.Text(sys), sig2(r.Behind), verdict))
	}
	if r.Over && r.LimitDistance > 0 {
		a.item(eyeMark("or sit back"), "the bare eye gets the limit at "+lengthText(r.LimitDistance, sys)+" from the middle")
	}
	a.assumed(r.Assumed)
	a.showSources(r.Sources)
	a.showDeferrals(r.Defer)
	return overIf(over)
}

func eyeMark(s string) string { return fmt.Sprintf("%-16s ", s) }
