package main

import (
	"strconv"

	"github.com/spf13/cobra"

	"lehr/anneal/kiln"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/notes"
	"lehr/glass/unit"
)

func newFindCommand(a *app) *cobra.Command {
	n := &notes.Search{}
	c := &cobra.Command{
		Use:   "find [<word>...] [flags]",
		Short: "Find what was fired, and how it came out",
		Long: `Looks through the notebook for pieces in which every word stands, in the piece or in its firing: a size ("3in"), a color, a glass, a result, a file, a date, a word of the notes. The newest come first: what program, which rods, how it came out. One night by its name shows all that is written of it.

--by counts how the pieces found came out, by color, size, glass or kiln: which color cracked twice. --compare shows what two nights do not share.`,
		Example: `lehr find 3in cobalt cracked
lehr find --size 3in --json
lehr find 2026-11-25-big
lehr find --by color
lehr find --compare 2026-11-25-big 2026-12-02-big
lehr find --all --csv > firings.csv`,
		Annotations: withJSON(),
	}
	c.RunE = func(_ *cobra.Command, args []string) error { return notes.Find(a.App, n, args) }
	f := c.Flags()
	n.Changed = f.Changed
	n.Notebook = notes.AddFlag(c)
	f.StringVar(&n.Size, "size", "", "pieces meant to have this `size`, within 1 %")
	f.StringVar(&n.Kiln, "kiln", "", "firings of the kiln of this `name`")
	f.StringVar(&n.Result, "result", "", "pieces that came out so, in the `words` of lehr note")
	f.StringVar(&n.Since, "since", "", "firings from this `day` on")
	f.StringVar(&n.Until, "until", "", "firings up to and with this `day`")
	f.Var(flags.OneOf(&n.By, "color|size|glass|kiln"), "by", "count how the pieces came out, by one of these")
	f.BoolVar(&n.Compare, "compare", false, "what the two nights named do not share")
	f.BoolVar(&n.All, "all", false, "all that are found, not only the last "+strconv.Itoa(notes.FewHits))
	f.BoolVar(&n.CSV, "csv", false, "print CSV, a row for each kind of piece; a text that a spreadsheet would compute gets an apostrophe before it")
	return c
}

func newKilnCommand(a *app) *cobra.Command {
	var which, limit string
	c := &cobra.Command{
		Use:   "kiln [--kiln <name>] [flags]",
		Short: "What this kiln is like, from its firings",
		Long: `Sets what was measured in the pieces against what was computed for them, over the nights of the notebook, and gives this kiln's factor with its error; beside it the time constant of its fall and its greatest lag below the program, night by night: as the record has them (lehr note --time-constant, --lag), else from the log that the record names, and from log and program. A log that several firings share is taken by the date of the record. A piece counts when its record has a reading and what the program was computed to leave (lehr note --load --program keeps it). Pieces with the word mismatch in their record are left out, and those that are computed for another place than is read: the bright ring of a sphere, the axis of a rod, the middle plane of a flat piece. What counts as computed is average glass; the worst case, which lehr plan prints, stands beside it in the record.

Above one, the pieces keep more than average glass, be it less than the worst case: the limit proposed is divided by the factor and its error. A limit in studio.toml is one of the worst case alone; so it starts from the published limit of average glass, times what the worst case of these pieces is over average, and at most from the published worst case.

It prints lines for studio.toml. Nothing is used by lehr plan until they stand there. Three pieces say little: until there are ten, or with flat pieces among them, the factor never loosens a limit. It is of one kiln, one place on the shelf and one glass.`,
		Example: `lehr kiln
lehr kiln --kiln big --json`,
		Args:        noArgs,
		Annotations: withJSON(),
	}
	dir := notes.AddFlag(c)
	c.Flags().StringVar(&which, "kiln", "", "the kiln of this `name` (default: each)")
	c.Flags().StringVar(&limit, "limit", "", "the `stress` that may be left in the worst case, before the factor (default: what the published limits come to for its pieces, 1 to 2 MPa)")
	logs := flags.AddLog(c)
	c.RunE = func(*cobra.Command, []string) error {
		base := unit.Stress(0)
		if limit != "" {
			var err error
			if base, err = unit.ParseStress(limit); err != nil {
				return desk.AsUsage("kiln: --limit", err)
			}
			if base <= 0 || base > kiln.LargestLimit {
				return desk.Usagef(`write --limit "2 MPa"`, "kiln: --limit %s: must be above 0 and at most %s", limit, kiln.LargestLimit)
			}
		}
		b, err := notes.Open("kiln", *dir, false)
		if err != nil {
			return err
		}
		return notes.Kiln(a.App, b, which, base, logs)
	}
	return c
}

func newNoteCommand(a *app) *cobra.Command {
	n := &notes.Flags{}
	c := &cobra.Command{
		Use:   "note [<night>] [flags]",
		Short: "Write down a firing, or how a piece came out",
		Long: `Writes one plain TOML file a firing into the folder of the notebook, named by date and kiln: 2026-11-25-big.toml. Read it, mend it, put it under version control; keys of your own are kept. Load, program, log and photo are named by their path from the folder and their SHA-256, so that a later change of them shows.

Without a night it writes a new firing: by flags, or with --ask (or no flag at all) by questions, with last time's answers to take over. With a night it adds to that one; --for says to which piece.

Results: whole, cracked in kiln, cracked later (with --days), cracked at torch, checked, stress seen, remelted. Say of a crack where it starts: at a color (mismatch), at a mark (handling) or in the middle (annealing).

The former text is kept beside a changed file; --undo brings it back, and a second --undo the new one. A file that another hand changes meanwhile is not overwritten.`,
		Example: `lehr note --notebook book --load mixed.toml --program tonight.toml --kiln big
lehr note 2026-11-25-big --for 1 --result "cracked later" --days 12
lehr note 2026-11-25-big --for 2 --mass 37.2g --rod "19mm clear: 820g to 262g"
lehr note --undo
lehr note --ask`,
		Args:        atMost(1),
		Annotations: withJSON(),
	}
	c.RunE = func(c *cobra.Command, args []string) error { return notes.Note(c.Context(), a.App, n, args) }
	f := c.Flags()
	n.Changed = f.Changed
	n.Notebook = notes.AddFlag(c)
	f.StringVar(&n.Kiln, "kiln", "", "`name` of the kiln (default: last time's)")
	f.StringVar(&n.Date, "date", "", "`time` at which the program started, such as \"2026-11-25 22:15\" (default: now)")
	f.StringVar(&n.Load, "load", "", "the load, `load.toml`: its pieces are taken over")
	f.StringVar(&n.Program, "program", "", "the program, `schedule.toml`: with the load, what each piece should show, and where, is computed and kept")
	f.StringVar(&n.Log, "log", "", "the kiln's log, `night.csv`")
	f.StringArrayVar(&n.Pieces, "piece", nil, "a kind of `piece`, repeatable, when there is no load file: \"6 x sphere 2.5in\"")
	n.Glass = flags.AddGlass(c)
	f.StringVar(&n.Opened, "opened", "", "`time` at which the kiln was opened; an hour alone, such as \"12:40 pm\", is the next after the start")
	f.StringVar(&n.OpenedAt, "opened-at", "", "`temperature` it read then")
	f.StringVar(&n.Constant, "time-constant", "", "time `constant` of its natural fall, as fitted from the log")
	f.StringVar(&n.Lag, "lag", "", "greatest `lag` behind the program in the log, such as 4K")
	f.StringVar(&n.Words, "words", "", "free `words` on the firing")
	f.StringVar(&n.Which, "for", "", "`number` of the piece that the following are of, or all (default: the only one)")
	f.StringVar(&n.Result, "result", "", "how it came out, in `words` as above")
	f.IntVar(&n.Count, "count", 0, "of how many of the kind that result is (default: all)")
	f.IntVar(&n.Days, "days", 0, "days until it cracked")
	f.StringVar(&n.Got, "got", "", "`size` that came out")
	f.StringVar(&n.Mass, "mass", "", "`mass` of one piece")
	f.StringArrayVar(&n.Rods, "rod", nil, "what was taken of a `rod` for all of the kind, repeatable: \"19mm clear: 820g to 262g\"")
	f.StringVar(&n.Color, "color", "", "`colors`, with commas: \"cobalt, clear\"")
	f.StringVar(&n.Crack, "crack", "", "where a crack starts, in `words`")
	f.StringVar(&n.Reading, "reading", "", "what the polariscope showed, where lehr polariscope says to look, a `reading`: \"60 nm\", \"20 deg at 546nm\", \"sky blue order 2\"")
	f.Var(flags.OneOf(&n.In, "air|liquid"), "in", "what the piece was read in")
	f.StringVar(&n.Photo, "photo", "", "a photo, `file`")
	f.StringVar(&n.Note, "note", "", "free `words` on the piece")
	f.BoolVar(&n.Ask, "ask", false, "ask for each thing; Enter takes what is in brackets, back goes a step back")
	f.BoolVar(&n.Undo, "undo", false, "bring back the text before the last change, of the night named or of the last changed")
	return c
}
