package main

import (
	"errors"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/checks"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/glass/strict"
	"lehr/safety/checklist"
	"lehr/safety/emergency"
)

func newSafetyCommand(a *app) *cobra.Command {
	s := &checks.Flags{}
	c := &cobra.Command{
		Use:   "safety [<load.toml>] [--at <point>] [--fact <name=value>...]",
		Short: "Go through the safety list of this session, one line at a time",
		Long: `Goes through the lines to look at before the torch is lit (air, gas, you). Those before you reach into the kiln (--at reach), before you leave it alone (--at leave) and before you open it (--at open) come at their time. If something is wrong now: lehr wrong.

On a terminal it shows one line at a time and waits for done; no, if it is not done, and why; na, if it does not apply, and why; back, stop or wrong. Both no and na are recorded as NOT DONE. A test that is asked for wants its date. Anywhere else, and with --all, it prints the pages.

Lines depend on the facts of the session: those under [session] of the studio file, over them those of the load file, over them --fact. A fact that is not given counts as the hazard being there, and the line says which fact would remove it. What is so now, such as a smell of gas, is said with --fact and by no file; a danger ends the list with what to do. List the facts with: lehr safety --facts.

With --record every answer is kept as it is given, and a run that was stopped or interrupted goes on with --resume: what was reported done within the last hour still counts, the gas is looked for again.

Status 3: what is known breaks a line (a kiln left alone without a second cut-off that was tested, a breaker that does not fit, fume without a hood, a lens not marked for infrared, more of it than the limit); on a terminal also: a line is open or not done. Pages that are printed ask nothing, so their status 0 says only that nothing known breaks a line.`,
		Example: `lehr safety mixed.toml
lehr safety --at leave --fact oxygen=concentrator --fact overnight=yes
lehr safety --all --units f
lehr safety --record tonight-safety.toml
lehr safety --resume tonight-safety.toml
lehr safety --facts
lehr safety mixed.toml --json`,
		Args:        safetyArgs,
		Annotations: withJSON(),
		RunE:        func(c *cobra.Command, args []string) error { return checks.Safety(a.App, c, s, args) },
	}
	f := c.Flags()
	f.StringSliceVar(&s.At, "at", nil, "only this `point`, repeatable: air, gas, you, reach, leave, open")
	f.BoolVar(&s.All, "all", false, "print the pages of every point and ask nothing")
	f.BoolVar(&s.List, "facts", false, "list the facts, what they mean and the words they take")
	f.StringVar(&s.Record, "record", "", "keep what is answered in `file`, or in a dated file in a folder")
	f.StringVar(&s.Resume, "resume", "", "go on with the run whose record is `file`, and keep it there; name the same load and facts")
	checks.AddFacts(a.App, c, &s.Facts, &s.Load)
	desk.Must(c.RegisterFlagCompletionFunc("at", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		var words []string
		for _, p := range checklist.Points() {
			words = append(words, string(p)+"\t"+p.Title())
		}
		return words, cobra.ShellCompDirectiveNoFileComp
	}))
	wrong := newWrongCommand(a)
	wrong.Hidden = true // the help lists it once, at the top
	c.AddCommand(wrong, newSafetyEyeCommand(a), newSafetyAirCommand(a), newSafetyCircuitCommand(a))
	return c
}

// safetyArgs takes one load file, and helps when a word was meant for a
// command or a pause point.
func safetyArgs(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	word := strings.ToLower(args[0])
	if _, err := os.Stat(args[0]); args[0] != "-" && errors.Is(err, os.ErrNotExist) && !strings.ContainsAny(word, "./\\") {
		if _, err := checklist.ParsePoint(word); err == nil {
			return desk.Usagef("write: lehr safety --at "+word, "safety: %q is a point, no load file", args[0])
		}
		var names []string
		for _, child := range c.Commands() {
			names = append(names, child.Name())
		}
		if near := strict.Nearest(word, names); near != "" {
			return desk.Usagef("did you mean: lehr safety "+near+"?", "safety: no load file or command %q", args[0])
		}
	}
	return atMost(1)(c, args)
}

func newSafetyAirCommand(a *app) *cobra.Command {
	r := &checks.AirFlags{}
	c := &cobra.Command{
		Use:   "air [<load.toml>] [--distance <length> --hood <opening>] [--fuel <gas> --fuel-flow <mass per time>]",
		Short: "Estimate hood airflow, make-up air and the gases of the torch",
		Long: `Estimates how much air kinds of hoods need to draw fume in from the far edge of the work, the air that must come in for it, and what the torch gives off: carbon dioxide, water and heat, and what they do to the room. Airflows stand in m³/h and cfm.

All are estimates to talk over with a ventilation engineer, never a design. Carbon monoxide and nitrogen dioxide are not computed; they must be measured.

What no flag gives is taken from the facts of the session; what cannot be computed is named with the fact it needs.

Status 3: what was stated does not keep a limit: an exhaust below what carbon dioxide alone asks, below what the studio's own hood needs or, without a hood, below what the welding rules ask of the room; air slower at the work than 0.51 m/s or --capture; carbon dioxide above 5000 ppm or oxygen above 23.5 % in the room.`,
		Example: `lehr safety air --distance 250mm --hood "300mm x 200mm"
lehr safety air --fuel propane --fuel-flow 200g/h --room 76m3 --exhaust 500cfm
lehr safety air --distance 10in --hood "12in x 8in" --units f`,
		Args:        atMost(1),
		Annotations: withJSON(),
		RunE:        func(_ *cobra.Command, args []string) error { return checks.Air(a.App, r, args) },
	}
	f := c.Flags()
	fact := func(flag, fact, usage string) {
		x := &checks.FactFlag{Flag: flag, Fact: fact}
		r.Given = append(r.Given, x)
		f.StringVar(&x.Value, flag, "", usage)
	}
	f.StringVar(&r.Capture, "capture", "", "air `velocity` wanted at the far edge of the work (default: 0.51 m/s, 100 ft/min)")
	fact("measured", "capture_speed", "air `velocity` at the far edge of the work, as measured")
	fact("vent", "vent", "`kind` of hood: plain, flanged, slot, booth, canopy, fan, windows or none")
	fact("distance", "hood_distance", "`length` from the hood's opening to the far edge of the work")
	fact("hood", "hood_size", "`opening` of the hood, such as \"300mm x 200mm\"")
	f.StringVar(&r.Slot, "slot", "", "`length` of a slot hood (default: five times its width, with the area of the hood)")
	f.StringVar(&r.Perimeter, "perimeter", "", "`length` around an overhead canopy (default: a square with the area of the hood)")
	fact("exhaust", "exhaust", "`airflow` of the exhaust, as measured")
	fact("inlet", "inlet", "`opening` through which fresh air comes in")
	fact("room", "room", "`volume` of the room, or its three sides")
	fact("ceiling", "ceiling", "`height` of the lowest ceiling")
	fact("workers", "workers", "`number` of people at a torch in the room")
	fact("fuel", "fuel", "fuel `gas`: propane or \"natural gas\"")
	fact("fuel-flow", "fuel_flow", "fuel burned by one torch, `mass per time`, such as 0.2kg/h")
	fact("oxygen-flow", "oxygen_flow", "oxygen that goes on coming with the torch out, an `airflow` such as 5L/min")
	f.StringVar(&r.Session, "session", "1h", "how `long` the torch burns, for the build-up in the room")
	checks.AddFacts(a.App, c, &r.Facts, &r.Load)
	return c
}

func newSafetyCircuitCommand(a *app) *cobra.Command {
	k := &checks.CircuitFlags{}
	c := &cobra.Command{
		Use:   "circuit --current <current> [--breaker <current>]",
		Short: "The kiln's rated current against its breaker",
		Long: `Sets the breaker against the rated current of the kiln: at least 1.25 times it, as US practice asks of a load that runs three hours and more, and at most what the plate on the kiln names, else 1.5 times it, the next standard size up allowed, or 20 A for 13.3 A or less. A breaker that is too small trips or heats; one that is too big lets a fault burn. The current comes from --current, or from --power and --voltage of a single-phase kiln; what no flag gives is taken from the facts of the session. A licensed electrician under your local code decides.

Status 3: the breaker is smaller or bigger than that, or no standard size fits both.`,
		Example: `lehr safety circuit --current 24A --breaker 30A
lehr safety circuit --current 24A --breaker 50A --plate 40A
lehr safety circuit --power 5760W --voltage 240V --breaker 25A`,
		Args:        noArgs,
		Annotations: withJSON(),
		RunE:        func(*cobra.Command, []string) error { return checks.Circuit(a.App, k) },
	}
	f := c.Flags()
	f.StringVar(&k.Current, "current", "", "rated `current` of the kiln")
	f.StringVar(&k.Power, "power", "", "rated `power` of the kiln")
	f.StringVar(&k.Voltage, "voltage", "", "rated `voltage` of the kiln")
	f.StringVar(&k.Breaker, "breaker", "", "breaker of its circuit, a `current`")
	f.StringVar(&k.Plate, "plate", "", "biggest breaker that the plate on the kiln names, a `current`")
	flags.AddFact(c, &k.Facts)
	return c
}

func newSafetyEyeCommand(a *app) *cobra.Command {
	e := &checks.EyeFlags{}
	c := &cobra.Command{
		Use:   "eye [<load.toml>] --glass-at <temperature> --from <length> [--piece <piece>]",
		Short: "Infrared at the eye from a hot piece, against the limit",
		Long: `Computes the infrared (780 to 3000 nm) that a hot piece may put on the bare eye, and sets it against the limit for long work, 100 W/m²: how many times over, how long a look reaches the short-exposure limit, and the most infrared a lens may pass. The piece counts as a black body, which no glass outshines; the flame is not counted. The lens maker's curve and an eye-care professional decide.

A lens counts only as far as its maker's figure goes, --lens-to. Not given, that is 2000 nm, where the European norm for infrared filters ends; beyond it the lens counts as open.

With --kiln it is the open kiln instead, seen straight on through its door or lid. What no flag gives is taken from the session facts glass_temperature, eye_distance, lens_infrared, lens_to and kiln_opening; the piece is the largest of the load.

Status 3: more than the limit reaches the eye, behind the lens if its figure is given.`,
		Example: `lehr safety eye --piece "sphere 3in" --glass-at 1200C --from 300mm
lehr safety eye mixed.toml --glass-at 1200C --from 300mm --lens-infrared 5%
lehr safety eye mixed.toml --glass-at 2200F --from 12in --units f
lehr safety eye --kiln 560C --opening "200mm x 200mm" --from 500mm`,
		Args:        atMost(1),
		Annotations: withJSON(),
		RunE:        func(_ *cobra.Command, args []string) error { return checks.Eye(a.App, e, args) },
	}
	f := c.Flags()
	f.StringVar(&e.Piece, "piece", "", "the `piece`, such as \"sphere 3in\"; a rod or tube by its diameter and hot length, anything else as the ball around it (default: the largest of the load)")
	f.StringVar(&e.GlassAt, "glass-at", "", "`temperature` of the glass at its hottest")
	f.StringVar(&e.From, "from", "", "`length` from the eye to the middle of the piece, or to the opening of the kiln")
	f.StringVar(&e.Lens, "lens-infrared", "", "greatest infrared `transmittance` the lens maker publishes, such as 5%")
	f.StringVar(&e.LensTo, "lens-to", "", "`wavelength` at which that figure ends: 1400nm, 2000nm or 3000nm (default: 2000nm)")
	f.StringVar(&e.Kiln, "kiln", "", "look into the kiln at this `temperature`")
	f.StringVar(&e.Opening, "opening", "", "door or lid `opening` of the kiln, such as \"200mm x 200mm\"")
	checks.AddFacts(a.App, c, &e.Facts, &e.Load)
	return c
}

func newWrongCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "wrong [<word>...]",
		Short: "Something is wrong now: what to do, first words first",
		Long: `Prints what to do now, one line for each thing that can go wrong. With a word it goes to that line and says what comes after: gas, co, fire, clothes, kiln, shock, collapse, burn, eye, bleeding, breathe, flashback, oxygen, power, cracks, burst. Any other word prints the whole list.

The number to call is the fact emergency_number of the studio file; none is invented. Nothing is asked, and a studio file that cannot be read stops nothing.`,
		Example: `lehr wrong
lehr wrong fire
lehr wrong --json`,
		Args: func(*cobra.Command, []string) error { return nil },
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return emergency.Words(), cobra.ShellCompDirectiveNoFileComp
		},
		Annotations: withJSON(),
		RunE:        func(_ *cobra.Command, args []string) error { return checks.Wrong(a.App, args) },
	}
}
