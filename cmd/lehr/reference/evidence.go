package reference

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"

	"lehr/anneal/evidence"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
	"lehr/glass/strict"
	"lehr/testdata"
)

// RadiationRecipe is the one measurement that would settle how heat passes
// through clear glass; the two answers are those of the two models.
const RadiationRecipe = `1. A clear sphere of borosilicate 3.3, 63.5 mm (2.5 in) across, annealed, with a hole of 2 mm to its middle and no color or bubbles between. 2. One thin thermocouple (0.5 mm or less, type K or N of one batch) in the middle, the hole packed with glass powder; one held to the surface at half height, under a speck of cement no larger than itself. 3. The sphere hangs free, away from elements and shelf. Heat it to 560 °C and hold 2 hours: the two must then agree within 0.5 °C; note by how much they do not. 4. Cool at 100 °C/h to 450 °C, logging both every 10 seconds. 5. At the moment when the surface passes 500 °C, take middle less surface, less what you noted. If heat passes clear glass as light, in the bands that lehr counts with, it is 5.1 °C; if it only conducts, as dark glass does, 6.7 °C. A mean of three runs with a spread under 0.3 °C decides. Write down the kind of glass and the wires; both carry heat.`

// Validate is lehr validate: it runs the cases whose quantity holds the word.
func Validate(ctx context.Context, a *desk.App, word string, page *desk.OutFlag) error {
	list, err := testdata.Cases()
	if err != nil {
		return fmt.Errorf("validate: %w", err)
	}
	if list, err = evidence.About(list, word); err != nil {
		hint := "list them with: lehr validate"
		if near := strict.Nearest(word, evidence.Names()); near != "" {
			hint = fmt.Sprintf("did you mean %q? ", near) + hint
		}
		return desk.Usagef(hint, "validate: no quantity is called %q", word)
	}
	rep, err := evidence.Run(ctx, list, word, progressOf(a, "cases"))
	if err != nil {
		return fmt.Errorf("validate: %w", err)
	}
	if err := a.Put(page, func() ([]byte, error) { return []byte(EvidencePage(rep)), nil }); err != nil {
		return err
	}
	if a.JSON {
		err = validateJSON(a, rep)
	} else {
		err = showEvidence(a, rep)
	}
	if err == nil && (len(rep.Failed) > 0 || len(rep.Grown()) > 0) {
		err = desk.ErrOverLimit
	}
	return err
}

// progressOf returns what tells on a terminal how many are done.
func progressOf(a *desk.App, what string) func(done, of int) {
	line := &desk.Progress{App: a}
	var mu sync.Mutex
	most := 0
	return func(done, of int) {
		mu.Lock()
		defer mu.Unlock()
		if most = max(most, done); most < of {
			line.Tell(fmt.Sprintf("%d of %d %s", most, of, what))
		} else {
			line.End()
		}
	}
}

// showEvidence prints the table of quantities, what deviates and what failed.
func showEvidence(a *desk.App, rep *evidence.Report) error {
	a.Prose(0, evidenceVerdict(rep))
	a.Print("\n")
	cols := []term.Column{term.LongColumn("quantity"), term.NumberColumn("text"), term.NumberColumn("form"), term.NumberColumn("code"), term.NumberColumn("here"),
		term.NumberColumn("bias"), term.NumberColumn("spread"), term.NumberColumn("worst"), term.TextColumn("in")}
	var rows, bounds [][]string
	for _, l := range rep.Lines {
		var n []string
		for _, s := range l.Of {
			n = append(n, orNone(s.Cases))
		}
		if l.Bounds {
			bounds = append(bounds, append(append([]string{l.Name}, n...), term.Signed(l.All.Worst), term.Signed(l.All.Bias), l.Unit))
			continue
		}
		rows = append(rows, append(append([]string{l.Name}, n...), term.Signed(l.All.Bias), term.Fixed(l.All.Spread), term.Signed(l.All.Worst), l.Unit))
	}
	if len(rows) > 0 {
		if err := a.Table(cols, rows); err != nil {
			return err
		}
	}
	if len(bounds) > 0 {
		a.Section("Bounds: at least what is expected, and how much more")
		cols = append(cols[:5:5], term.NumberColumn("least"), term.NumberColumn("mean"), term.TextColumn("in"))
		if err := a.Table(cols, bounds); err != nil {
			return err
		}
	}
	a.List("Known to deviate", knownText(rep))
	a.List("Not met", rep.Failed)
	a.List("Grown since this lehr was built", rep.Grown())
	a.Print("\n")
	a.Prose(0, "text: printed in a source. form: closed forms. code: general-purpose codes. here: computed by this project, which proves little. One measurement would settle how clear glass passes heat: lehr help validate.")
	return nil
}

// evidenceVerdict is the line that is read first.
func evidenceVerdict(rep *evidence.Report) string {
	text := fmt.Sprintf("%d cases, %d of them posed twice", rep.Cases, rep.Posed-rep.Cases)
	if rep.Posed == rep.Cases {
		text = term.Counted(rep.Cases, "case")
	}
	known := 0
	for _, k := range rep.Known {
		known += len(k.Cases)
	}
	if n := len(rep.Failed); n > 0 {
		text = fmt.Sprintf("%d NOT MET of %s", n, text)
	} else {
		text += ": all met"
	}
	if known > 0 {
		text += fmt.Sprintf(" but %s known to deviate", term.Counted(known, "answer"))
	}
	return text + "."
}

// knownText says what deviates and why, by cause.
func knownText(rep *evidence.Report) (out []string) {
	for _, k := range rep.Known {
		var names []string
		for _, d := range k.Cases {
			_, name, _ := strings.Cut(d.Case, "/")
			names = append(names, fmt.Sprintf("%s (%s %%)", name, term.Signed(d.Worst)))
		}
		out = append(out, fmt.Sprintf("%s, found %s: %s", k.Cause, k.Found, strings.Join(slices.Compact(names), ", ")))
	}
	return out
}

func orNone(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}
