package main

import (
	"context"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/report"
	"lehr/glass/strict"
)

// drawnFlags say what a curve shows.
type drawnFlags struct {
	pieces []string
	over   string
	other  program.Schedule // what over names
}

// addDrawnFlags adds the flags that say what a curve shows.
func addDrawnFlags(c *cobra.Command) *drawnFlags {
	f := &drawnFlags{}
	c.Flags().StringArrayVar(&f.pieces, "draw", nil, "curve: draw this kind of `piece`, by its number in the load or by its words, repeatable (default: those nearest to a limit)")
	c.Flags().StringVar(&f.over, "over", "", "curve: draw the program of `mine.toml` in the same load over it")
	return f
}

// given names the first of the flags that was given, "" if none was.
func (f *drawnFlags) given() string {
	switch {
	case len(f.pieces) > 0:
		return "--draw"
	case f.over != "":
		return "--over"
	}
	return ""
}

// drawn reads what the flags say of a load, before anything is computed.
func (a *app) drawn(cmd string, v *viewFlags, load *piece.Load) (d report.Drawn, err error) {
	f := v.drawn
	if flag := f.given(); flag != "" && !v.given() && !a.chart {
		return d, usagef("add --svg curve.svg, --png, --pdf, or --chart", "%s: %s: no curve is drawn", cmd, flag)
	}
	most := picture.MostChosen
	if f.over != "" {
		most = picture.MostBeside
		err := a.readAs(cmd, scheduleFile, f.over, func(r io.Reader) (err error) {
			f.other, err = program.Read(r, shownName(f.over))
			return err
		})
		if err != nil {
			return d, err
		}
		d.Own, d.Name = "planned", shownName(f.over)
	}
	for _, text := range f.pieces {
		i, err := whichPiece(cmd, strict.Visible(text), load)
		if err != nil {
			return d, err
		}
		if !slices.Contains(d.Pieces, i) {
			d.Pieces = append(d.Pieces, i)
		}
	}
	if len(d.Pieces) > most {
		return d, usagef("leave some of them out", "%s: --draw: %d kinds of piece, and one curve shows at most %d", cmd, len(d.Pieces), most)
	}
	return d, nil
}

// whichPiece finds a kind of piece by its number, its words, or a part of them.
func whichPiece(cmd, text string, load *piece.Load) (int, error) {
	if n, err := strconv.Atoi(text); err == nil && n >= 1 && n <= len(load.Pieces) {
		return n - 1, nil
	}
	var found, names []string
	at := -1
	plain := func(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }
	for i, p := range load.Pieces {
		names = append(names, strconv.Itoa(i+1)+" "+p.What)
		switch {
		case plain(p.What) == plain(text):
			return i, nil
		case plain(text) != "" && strings.Contains(plain(p.What), plain(text)):
			found, at = append(found, p.What), i
		}
	}
	switch len(found) {
	case 1:
		return at, nil
	case 0:
		return 0, usagef("give its number or its words: "+strings.Join(names[:min(len(names), 8)], ", "), "%s: --draw: no piece %q in the load", cmd, text)
	}
	return 0, usagef("say more of it, or give its number", "%s: --draw: %q is %s", cmd, text, strings.Join(found, " and "))
}

// layOver simulates the other program of a curve, if there is one.
func (a *app) layOver(ctx context.Context, v *viewFlags, d report.Drawn, rep *verify.Report, limits kiln.Limits) (err error) {
	if v.drawn.over != "" {
		d.Over, err = verify.Program(ctx, v.drawn.other, rep.Load, rep.Studio, limits)
	}
	a.shows = d
	return err
}
