package notes

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"lehr/anneal/notebook"
	"lehr/anneal/piece"
	"lehr/anneal/polariscope"
	"lehr/anneal/spread"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/glass"
	"lehr/glass/unit"
)

// measured is one piece in which was read what had been computed.
type measured struct {
	size  unit.Length
	glass string
	pair  notebook.Pair
	worst float64 // the worst case computed over average glass, 1 if nobody wrote it down
	flat  bool
}

// kilnOf is what the notebook says of a kiln.
type kilnOf struct {
	name     string
	firings  int
	pieces   []measured
	leftOut  []string // readings that do not count, and why
	untold   []string // what logs could not tell, and why
	falls    notebook.Middle
	lag      notebook.Middle
	factor   float64
	se       float64
	divisor  float64
	fromNone bool
	// base is what may be left at worst before the factor, worst the least that the
	// worst case of its pieces is over average glass.
	base  unit.Stress
	own   bool // base is the person's
	flat  bool // there are flat pieces among them
	worst float64
}

// Kiln is lehr kiln: what the nights of a kiln say of it, beside base, the tension
// that its programs may leave at worst; 0 is what the published limits come to.
func Kiln(a *desk.App, b Book, name string, base unit.Stress, logs *flags.Log) error {
	records, err := b.All(a)
	if err != nil {
		return err
	}
	st, err := a.LocalStudio()
	if err != nil {
		return err
	}
	o, err := logs.Options("kiln", st)
	if err != nil {
		return err
	}
	names := []string{}
	for _, r := range records {
		if !slices.Contains(names, r.Kiln) && (name == "" || strings.EqualFold(name, r.Kiln)) {
			names = append(names, r.Kiln)
		}
	}
	if len(names) == 0 {
		if name != "" {
			return term.WithHint(fmt.Errorf("kiln: no firing of %q in %s", name, b.dir), "list what was fired with: lehr find --by kiln")
		}
		a.Say("the notebook has no firing yet")
	}
	slices.Sort(names)
	var kilns []kilnOf
	for _, n := range names {
		var untold []string
		for i := range records {
			if r := &records[i]; r.Kiln == n {
				for _, why := range fromLogs(a, b, r, o, st) {
					untold = append(untold, r.Name+": "+why)
				}
			}
		}
		k := kilnOfRecords(n, records)
		if k.untold = untold; base > 0 {
			k.base, k.own = base, true
		}
		kilns = append(kilns, k)
	}
	if a.JSON {
		return kilnsJSON(a, kilns)
	}
	for i, k := range kilns {
		if i > 0 {
			a.Print("\n")
		}
		if err := showKiln(a, k, st.Units); err != nil {
			return err
		}
	}
	return nil
}

// kilnOfRecords gathers what the records say of a kiln.
func kilnOfRecords(name string, records []notebook.Record) kilnOf {
	k := kilnOf{name: name}
	var falls, lags []float64
	for _, r := range records {
		if r.Kiln != name {
			continue
		}
		k.firings++
		if r.Falls > 0 {
			falls = append(falls, r.Falls.Hours())
		}
		if r.Lag != 0 {
			lags = append(lags, float64(r.Lag))
		}
		for _, p := range r.Pieces {
			if p.Reading == "" || p.Predicted.Nanometers == 0 {
				continue
			}
			m, why := measuredIn(p)
			if why != "" {
				k.leftOut = append(k.leftOut, r.Name+", "+p.What+": "+why)
				continue
			}
			k.pieces = append(k.pieces, m)
		}
	}
	k.falls, k.lag = notebook.MiddleOf(falls), notebook.MiddleOf(lags)
	var err error
	if k.factor, k.se, err = notebook.Factor(pairsOf(k.pieces)); err != nil {
		k.fromNone = true
		return k
	}
	k.divisor = notebook.Divisor(k.factor, k.se, len(k.pieces))
	k.worst = math.Inf(1)
	for _, m := range k.pieces {
		k.worst, k.flat = math.Min(k.worst, m.worst), k.flat || m.flat
	}
	if k.flat {
		k.divisor = math.Max(1, k.divisor)
	}
	// A studio's limit is one of the worst case alone, and takes the place of a pair of
	// which that of average glass mostly decides: no piece may keep more by it.
	limits := spread.Limits()
	for i := range limits {
		if l := &limits[i]; l.Key == "left-inside" {
			share := unit.Stress(math.Floor(1000*k.worst) / 1000) // down: the cautious side
			k.base = min(l.Ordinary.Expected*share, l.Ordinary.Worst)
		}
	}
	return k
}

func pairsOf(list []measured) []notebook.Pair {
	var out []notebook.Pair
	for _, m := range list {
		out = append(out, m.pair)
	}
	return out
}

// elsewhere says why a prediction is not of the place where the piece is read.
func elsewhere(q notebook.Predicted, at piece.Shown) string {
	switch {
	case at == piece.NotShown:
		return "what light shows in it is not computed"
	case q.At == string(at), q.At == "" && at == piece.AtRing: // the brightest place of a sphere is its ring
		return ""
	case at == piece.ThroughEdge:
		return "computed with what its rim adds, which does not show through its edge"
	case q.At == "":
		q.At = "for its brightest place"
	}
	return "computed " + q.At + ", but it is read " + string(at)
}

// measuredIn returns the reading of a piece as straight rays would give it, or
// why it does not count.
func measuredIn(p notebook.Piece) (m measured, why string) {
	all := strings.ToLower(p.Crack + " " + p.Note)
	if strings.Contains(all, "mismatch") || strings.Contains(all, "halo") {
		return m, "mismatch"
	}
	r, err := polariscope.ParseNoted(p.Reading)
	if err != nil {
		return m, err.Error()
	}
	typed, err := piece.Parse(p.What)
	if err != nil {
		return m, err.Error()
	}
	at := typed.Shown()
	if why := elsewhere(p.Predicted, at); why != "" {
		return m, why
	}
	gain := 1.0
	switch {
	case at == piece.AtBrightest && p.In != "liquid":
		return m, "a hollow piece that was read in air"
	case at == piece.AtRing && p.In != "liquid":
		g, err := glass.Find(p.Glass)
		if err != nil || !g.Refractive.Known() {
			return m, "read in air, and the refractive index of its glass is not known"
		}
		v := polariscope.View{Shape: polariscope.Sphere, Size: typed.Size, Place: polariscope.Brightest, Index: g.Refractive.Number}
		gain = v.Gain()
	}
	nm := float64(polariscope.Nanometer)
	value, e := float64(r.Retardation)/nm*gain, float64(r.Error)/nm*gain
	if r.Below { // anywhere from nothing to faint
		value, e = value/2, value/2
	}
	worst := math.Max(1, p.Predicted.Worst/p.Predicted.Nanometers)
	return measured{typed.Size, p.Glass, notebook.Pair{Predicted: p.Predicted.Nanometers, Measured: value, Error: e}, worst, at == piece.ThroughEdge}, ""
}

// showKiln prints what is known of a kiln, and lines for the studio file.
func showKiln(a *desk.App, k kilnOf, sys unit.System) error {
	name := k.name
	if name == "" {
		name = "a kiln without a name"
	}
	a.Strong(fmt.Sprintf("%s: %s, %s measured", name, term.Counted(k.firings, "firing"), term.Counted(len(k.pieces), "piece")))
	if k.fromNone {
		a.Prose(0, "No piece has both a reading and what was computed for it: write them with lehr note --load --program, and --reading.")
	} else {
		more, but := "about as much stress as", ""
		switch {
		case k.factor-k.se > 1:
			if more = "more stress than"; k.factor+k.se <= k.worst {
				but = fmt.Sprintf(", and less than the worst case, which is %.2f times that", k.worst)
			}
		case k.factor+k.se < 1:
			more = "less stress than"
		}
		a.Prose(0, fmt.Sprintf("Factor %.2f ± %.2f: its pieces keep %s computed for average glass%s.", k.factor, k.se, more, but))
		if len(k.pieces) <= 3 {
			a.Prose(0, "So few pieces say little.")
		}
		if k.flat {
			a.Prose(0, "Flat pieces loosen no limit: what their rim adds to the middle does not show through the edge.")
		}
		if slices.ContainsFunc(k.pieces, func(m measured) bool { return m.glass != k.pieces[0].glass }) {
			a.Prose(0, "They are of more than one glass; a factor is of one.")
		}
		if err := factorBySize(a, k, sys); err != nil {
			return err
		}
	}
	if k.falls.Count > 0 {
		a.Prose(0, fmt.Sprintf("Time constant of its fall: %.2f h%s.", k.falls.Value, nights(k.falls, fmt.Sprintf("%.2f h", k.falls.Spread))))
	}
	if k.lag.Count > 0 {
		a.Prose(0, fmt.Sprintf("Lag below the program while it heats: %s%s.", unit.Delta(k.lag.Value).Text(sys), nights(k.lag, unit.Delta(k.lag.Spread).Text(sys))))
	}
	for _, s := range k.leftOut {
		a.Item("- ", "left out: "+s)
	}
	for _, s := range k.untold {
		a.Item("- ", "log: "+s)
	}
	lines := studioLines(k, sys)
	if !k.fromNone && !k.own && k.worst == 1 && len(lines) > 0 {
		a.Prose(0, "The worst case of some is not in their records: the limit starts from that of average glass.")
	}
	if len(lines) > 0 {
		a.Print("\nFor studio.toml; lehr plan uses them only when they stand there:\n\n")
		for _, l := range lines {
			a.Print(l + "\n")
		}
	}
	return nil
}

// nights says how far a value goes from night to night.
func nights(m notebook.Middle, spread string) string {
	if m.Count == 1 {
		return ", from one log"
	}
	return ", ± " + spread + " from night to night, in " + term.Counted(m.Count, "log")
}

// factorBySize shows whether the factor depends on the size.
func factorBySize(a *desk.App, k kilnOf, sys unit.System) error {
	by := map[unit.Length][]measured{}
	var sizes []unit.Length
	for _, m := range k.pieces {
		if _, there := by[m.size]; !there {
			sizes = append(sizes, m.size)
		}
		by[m.size] = append(by[m.size], m)
	}
	if len(sizes) < 2 {
		return nil
	}
	slices.Sort(sizes)
	var rows [][]string
	for _, s := range sizes {
		f, se, err := notebook.Factor(pairsOf(by[s]))
		if err != nil {
			return err
		}
		rows = append(rows, []string{desk.LengthText(s, sys), strconv.Itoa(len(by[s])), fmt.Sprintf("%.2f", f), fmt.Sprintf("%.2f", se)})
	}
	if err := a.Table([]term.Column{term.TextColumn("size"), term.NumberColumn("pieces"), term.NumberColumn("factor"), term.NumberColumn("±")}, rows); err != nil {
		return err
	}
	a.Prose(0, "If it grows with the size, look at the rate of cooling; if not, at the stress-optic coefficient or the temperature.")
	return nil
}

// studioLines are the lines to take over.
func studioLines(k kilnOf, sys unit.System) (lines []string) {
	if k.falls.Count > 0 {
		d := time.Duration(k.falls.Value * float64(time.Hour)).Round(time.Minute)
		lines = append(lines, "[kiln]", fmt.Sprintf("cooling_time_constant = %q", unit.Duration(d).String()))
	}
	if !k.fromNone && (k.divisor > 1 || len(k.pieces) >= notebook.ManyPieces && !k.flat) {
		left := k.base / unit.Stress(k.divisor)
		x, in := left.In(sys)
		parts := 1000.0 // of a MPa, a whole psi
		if sys == unit.US {
			parts = 1
		}
		number := strconv.FormatFloat(math.Floor(parts*x+1e-6)/parts, 'f', -1, 64) // toward the cautious side
		base := k.base.String()
		if sys == unit.US {
			base = k.base.Text(sys)
		}
		if len(lines) > 0 {
			lines = append(lines, "")
		}
		lines = append(lines, "[limits]", fmt.Sprintf("left = \"%s %s\"   # %s divided by %.2f, from %s", number, in, base, k.divisor, term.Counted(len(k.pieces), "piece")))
	}
	return lines
}

func kilnsJSON(a *desk.App, kilns []kilnOf) error {
	type kilnJSON struct {
		Kiln     string      `json:"kiln"`
		Firings  int         `json:"firings"`
		Pieces   int         `json:"pieces_measured"`
		Factor   *report.Num `json:"factor"`
		Error    *report.Num `json:"factor_se"`
		Worst    *report.Num `json:"worst_over_average"`
		Divisor  *report.Num `json:"limit_divisor"`
		Left     *report.Num `json:"limit_left_MPa"`
		Falls    *report.Num `json:"time_constant_h"`
		FallsErr *report.Num `json:"time_constant_spread_h"`
		Lag      *report.Num `json:"lag_K"`
		LagErr   *report.Num `json:"lag_spread_K"`
		LeftOut  []string    `json:"left_out"`
		Untold   []string    `json:"logs_left_out"`
		Lines    []string    `json:"studio_lines"`
	}
	out := []kilnJSON{}
	for _, k := range kilns {
		j := kilnJSON{Kiln: k.name, Firings: k.firings, Pieces: len(k.pieces), LeftOut: append([]string{}, k.leftOut...), Untold: append([]string{}, k.untold...), Lines: append([]string{}, studioLines(k, unit.Metric)...)}
		if !k.fromNone {
			j.Factor, j.Error, j.Divisor = new(report.Num(k.factor)), new(report.Num(k.se)), new(report.Num(k.divisor))
			j.Worst = new(report.Num(k.worst))
			j.Left = new(report.Num(k.base.Megapascals() / k.divisor))
		}
		if k.falls.Count > 0 {
			j.Falls, j.FallsErr = new(report.Num(k.falls.Value)), new(report.Num(k.falls.Spread))
		}
		if k.lag.Count > 0 {
			j.Lag, j.LagErr = new(report.Num(k.lag.Value)), new(report.Num(k.lag.Spread))
		}
		out = append(out, j)
	}
	return a.PrintJSON(struct {
		Kilns []kilnJSON `json:"kilns"`
	}{out})
}
