package flags

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
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/report"
	"lehr/glass/strict"
)

// Drawn say what a curve shows.
type Drawn struct {
	pieces []string
	Over   string
	other  program.Schedule // what over names
}

// addDrawn adds the flags that say what a curve shows.
func addDrawn(c *cobra.Command) *Drawn {
	f := &Drawn{}
	c.Flags().StringArrayVar(&f.pieces, "draw", nil, "curve: draw this kind of `piece`, by its number in the load or by its words, repeatable (default: those nearest to a limit)")
	c.Flags().StringVar(&f.Over, "over", "", "curve: draw the program of `mine.toml` in the same load over it")
	return f
}

// Given names the first of the flags that was given, "" if none was.
func (f *Drawn) Given() string {
	switch {
	case len(f.pieces) > 0:
		return "--draw"
	case f.Over != "":
		return "--over"
	}
	return ""
}

// ReadDrawn reads what the flags say of a load, before anything is computed.
func ReadDrawn(a *desk.App, cmd string, v *Views, load *piece.Load) (d report.Drawn, err error) {
	f := v.Drawn
	if flag := f.Given(); flag != "" && !v.Given() && !a.Chart {
		return d, desk.Usagef("add --svg curve.svg, --png, --pdf, or --chart", "%s: %s: no curve is drawn", cmd, flag)
	}
	most := picture.MostChosen
	if f.Over != "" {
		most = picture.MostBeside
		err := a.ReadAs(cmd, desk.ScheduleFile, f.Over, func(r io.Reader) (err error) {
			f.other, err = program.Read(r, desk.ShownName(f.Over))
			return err
		})
		if err != nil {
			return d, err
		}
		d.Own, d.Name = "planned", desk.ShownName(f.Over)
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
		return d, desk.Usagef("leave some of them out", "%s: --draw: %d kinds of piece, and one curve shows at most %d", cmd, len(d.Pieces), most)
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
		return 0, desk.Usagef("give its number or its words: "+strings.Join(names[:min(len(names), 8)], ", "), "%s: --draw: no piece %q in the load", cmd, text)
	}
	return 0, desk.Usagef("say more of it, or give its number", "%s: --draw: %q is %s", cmd, text, strings.Join(found, " and "))
}

// LayOver simulates the other program of a curve, if there is one.
func LayOver(ctx context.Context, a *desk.App, v *Views, d report.Drawn, rep *verify.Report, limits kiln.Limits) (err error) {
	if v.Drawn.Over != "" {
		d.Over, err = verify.Program(ctx, v.Drawn.other, rep.Load, rep.Studio, limits)
	}
	a.Shows = d
	return err
}
