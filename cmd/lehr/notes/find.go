package notes

import (
	"fmt"
	"strconv"
	"strings"

	"lehr/anneal/notebook"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
)

// FewHits is how many firings are shown when --all is not given.
const FewHits = 20

// Search are the flags of lehr find, as typed.
type Search struct {
	Notebook                         *string
	Size, Kiln, Result, Since, Until string
	By                               string
	CSV, All                         bool
	Compare                          bool
	Changed                          func(string) bool
}

// query reads what is looked for.
func (n *Search) query(args []string) (notebook.Query, error) {
	q, err := notebook.ParseQuery(args)
	if err != nil {
		return q, desk.AsUsage("find", err)
	}
	if n.Size != "" {
		if q.Size > 0 {
			return q, desk.Usagef("write it once", "find: --size and a size among the words")
		}
		if q.Size, err = unit.ParseLength(n.Size); err != nil {
			return q, desk.AsUsage("find: --size", err)
		}
	}
	q.Kiln = n.Kiln
	if n.Result != "" {
		if q.Result, err = notebook.ParseResult(n.Result); err != nil {
			return q, desk.AsUsage("find: --result", err)
		}
	}
	if n.Since != "" {
		if q.From, err = parseDay(n.Since); err != nil {
			return q, desk.AsUsage("find: --since", err)
		}
	}
	if n.Until != "" {
		if q.Until, err = parseDay(n.Until); err != nil {
			return q, desk.AsUsage("find: --until", err)
		}
		if !strings.Contains(n.Until, ":") {
			q.Until = q.Until.AddDate(0, 0, 1)
		}
	}
	if !q.From.IsZero() && !q.Until.IsZero() && !q.From.Before(q.Until) {
		return q, desk.Usagef("change them over", "find: --since %s is not before --until %s", n.Since, n.Until)
	}
	return q, nil
}

// Find is lehr find: it looks through the notebook, shows one night, or compares.
func Find(a *desk.App, n *Search, args []string) error {
	if n.CSV && a.JSON {
		return desk.Usagef("leave one of them out", "find: both --csv and --json")
	}
	b, err := Open("find", *n.Notebook, false)
	if err != nil {
		return err
	}
	st, err := a.LocalStudio()
	if err != nil {
		return err
	}
	if n.Compare {
		return compareNights(a, b, args, st.Units)
	}
	q, err := n.query(args)
	if err != nil {
		return err
	}
	if len(args) == 1 && !n.CSV && n.By == "" {
		if name, err := nightName("find", args[0]); err == nil { // any other word is looked for
			if rec, _, err := b.read(name); err == nil {
				if a.JSON {
					return a.PrintJSON(nightOf(b, rec, allPieces(rec)))
				}
				return showNight(a, b, rec, st.Units)
			}
		}
	}
	most := FewHits
	if n.All || n.CSV || a.JSON || n.By != "" {
		most = 0
	}
	hits, more, err := b.find(a, q, most)
	if err != nil {
		return err
	}
	switch {
	case n.By != "":
		return showGroups(a, hits, n.By, st.Units)
	case a.JSON:
		list := []nightJSON{}
		for _, h := range hits {
			list = append(list, nightOf(b, h.Record, h.Pieces))
		}
		return a.PrintJSON(struct {
			Nights []nightJSON `json:"nights"`
		}{list})
	case n.CSV:
		return hitsCSV(a, hits)
	}
	return showHits(a, hits, more, st.Units)
}

func allPieces(r notebook.Record) []int {
	var out []int
	for i := range r.Pieces {
		out = append(out, i)
	}
	return out
}

// showHits prints a row for each kind of piece that was found.
func showHits(a *desk.App, hits []notebook.Hit, more int, sys unit.System) error {
	if len(hits) == 0 {
		a.Print("Nothing found.\n")
		return nil
	}
	for i, h := range hits {
		if i > 0 {
			a.Print("\n")
		}
		r := h.Record
		head := r.Name
		if r.Program.Path != "" {
			head += ", by " + r.Program.Path
		}
		a.Strong(head)
		for _, at := range h.Pieces {
			a.Item("- ", pieceLine(r.Pieces[at], sys))
		}
	}
	if more > 0 {
		a.Prose(0, fmt.Sprintf("The last %d. %d older records were not looked at: --all does, or add a word.", len(hits), more))
	}
	return nil
}

// pieceLine says all that is written of a kind of piece, the result first.
func pieceLine(p notebook.Piece, sys unit.System) string {
	head := pieceName(p)
	if len(p.Colors) > 0 {
		head += ", " + strings.Join(p.Colors, ", ")
	}
	var parts []string
	add := func(before, text string) {
		if text != "" {
			parts = append(parts, before+text)
		}
	}
	add("", resultName(p))
	add("came out ", gotText(p, sys))
	add("rods ", rodsOf(p))
	if x, ok := p.Loss(); ok && x > -0.05 {
		add("lost ", term.Short3(100*x)+" %")
	}
	in := ""
	if p.In != "" {
		in = " in " + p.In
	}
	if p.Reading != "" {
		add("read ", p.Reading+in)
	}
	if q := p.Predicted; q.Nanometers > 0 {
		text := term.Whole(q.Nanometers) + " nm in liquid"
		if q.Worst > 0 {
			text = term.Whole(q.Nanometers) + " nm, " + term.Whole(q.Worst) + " at worst, in liquid"
		}
		add("computed ", strings.TrimSpace(text+" "+q.At))
	}
	add("photo ", p.Photo.Path)
	add("", p.Note)
	if len(parts) == 0 {
		return head
	}
	return head + ": " + strings.Join(parts, "; ")
}

func pieceName(p notebook.Piece) string {
	if p.Count > 1 {
		return strconv.Itoa(p.Count) + " × " + p.What
	}
	return p.What
}

func resultName(p notebook.Piece) string {
	s := string(p.Result)
	if p.CameOutSo() < p.Count {
		s = strconv.Itoa(p.Of) + " of them " + s
	}
	if p.Days > 0 {
		s += " (" + strconv.Itoa(p.Days) + " d)"
	}
	if p.Crack != "" {
		s += ", the crack " + p.Crack
	}
	return s
}

func gotText(p notebook.Piece, sys unit.System) string {
	var parts []string
	if p.Got > 0 {
		parts = append(parts, p.Got.Text(sys))
	}
	if p.Mass > 0 {
		parts = append(parts, desk.GramsText(p.Mass))
	}
	return strings.Join(parts, ", ")
}

func rodsOf(p notebook.Piece) string {
	var out []string
	for _, u := range p.Rods {
		s := u.Rod
		if u.Before > 0 {
			s += " " + desk.GramsText(u.Before-u.After)
		}
		out = append(out, s)
	}
	return strings.Join(out, ", ")
}

// showNight prints all that is written of a firing.
func showNight(a *desk.App, b Book, r notebook.Record, sys unit.System) error {
	a.Strong(r.Name)
	line := func(head, text string) {
		if text != "" {
			a.Item(fmt.Sprintf("%-14s ", head), text)
		}
	}
	line("started", dayText(r.Date))
	line("kiln", r.Kiln)
	for _, f := range []struct {
		name string
		file notebook.File
	}{{"load", r.Load}, {"program", r.Program}, {"log", r.Log}} {
		text := f.file.Path
		if s := b.state(f.file); s != asNoted {
			text += " (" + s.String() + ")"
		}
		line(f.name, text)
	}
	opened := dayText(r.Opened)
	if !r.At.IsZero() {
		opened = strings.TrimSpace(opened + " at " + r.At.Text(sys))
	}
	line("opened", opened)
	if r.Falls > 0 {
		line("time constant", unit.FormatDuration(r.Falls))
	}
	if r.Lag != 0 {
		line("lag", r.Lag.Text(sys))
	}
	line("words", r.Words)
	if len(r.Pieces) > 0 {
		a.Print("\n")
	}
	for i, p := range r.Pieces {
		if s := b.state(p.Photo); s != asNoted {
			p.Photo.Path += " (" + s.String() + ")"
		}
		a.Item(strconv.Itoa(i+1)+". ", pieceLine(p, sys))
	}
	if len(r.Unknown) > 0 {
		a.Prose(0, "Keys of your own, kept: "+strings.Join(r.Unknown, ", ")+".")
	}
	return nil
}

// showGroups counts what was found.
func showGroups(a *desk.App, hits []notebook.Hit, by string, sys unit.System) error {
	groups := notebook.Groups(hits, by, func(l unit.Length) string { return desk.LengthText(l, sys) })
	if a.JSON {
		type group struct {
			Name    string `json:"name"`
			Firings int    `json:"firings"`
			Pieces  int    `json:"pieces"`
			Whole   int    `json:"whole"`
			Cracked int    `json:"cracked"`
			Seen    int    `json:"stress_seen"`
			Last    string `json:"last"`
		}
		list := []group{}
		for _, g := range groups {
			list = append(list, group{g.Name, g.Firings, g.Pieces, g.Whole, g.Cracked, g.Seen, g.Last.Format("2006-01-02")})
		}
		return a.PrintJSON(struct {
			By     string  `json:"by"`
			Groups []group `json:"groups"`
		}{by, list})
	}
	if len(groups) == 0 {
		a.Print("Nothing found.\n")
		return nil
	}
	var rows [][]string
	n := strconv.Itoa
	for _, g := range groups {
		rows = append(rows, []string{g.Name, n(g.Firings), n(g.Pieces), n(g.Whole), n(g.Cracked), n(g.Seen), g.Last.Format("2006-01-02")})
	}
	return a.Table([]term.Column{term.TextColumn(by), term.NumberColumn("firings"), term.NumberColumn("pieces"), term.NumberColumn("whole"), term.NumberColumn("cracked"), term.NumberColumn("stress seen"), term.TextColumn("last")}, rows)
}

// compareNights prints what two firings do not share.
func compareNights(a *desk.App, b Book, args []string, sys unit.System) error {
	if len(args) != 2 {
		return desk.Usagef("write: lehr find --compare NIGHT NIGHT", "find: --compare takes two nights")
	}
	var both [2]notebook.Record
	for i, arg := range args {
		name, err := nightName("find", arg)
		if err != nil {
			return err
		}
		if both[i], _, err = b.read(name); err != nil {
			return err
		}
	}
	x, y := both[0], both[1]
	list := notebook.Compare(x, y, sys)
	if a.JSON {
		type difference struct {
			What string `json:"what"`
			A    string `json:"first"`
			B    string `json:"second"`
		}
		out := []difference{}
		for _, d := range list {
			out = append(out, difference(d))
		}
		return a.PrintJSON(struct {
			Differences []difference `json:"differences"`
		}{out})
	}
	if len(list) == 0 {
		a.Print("What is written of them is alike.\n")
		return nil
	}
	var rows [][]string
	for _, d := range list {
		rows = append(rows, []string{d.What, d.A, d.B})
	}
	return a.Table([]term.Column{term.LongColumn("what"), term.LongColumn(x.Name), term.LongColumn(y.Name)}, rows)
}
