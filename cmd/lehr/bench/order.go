package bench

import (
	"cmp"
	"fmt"
	"io"
	"strings"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/week"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/term"
	"lehr/glass"
	"lehr/glass/gather"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

type orderText struct {
	Name   string      `toml:"name"`
	From   string      `toml:"from"`
	Nights *int        `toml:"nights"`
	Start  *unit.Clock `toml:"start"`
	Glass  string      `toml:"glass"`
	Into   string      `toml:"into"`
	Gap    unit.Length `toml:"gap"`
	Kiln   []struct {
		Name   string         `toml:"name"`
		Shelf  string         `toml:"shelf"`
		Height unit.Length    `toml:"height"`
		Empty  *unit.Duration `toml:"empty"`
		Not    []string       `toml:"not"`
		Studio string         `toml:"studio"`
	} `toml:"kiln"`
	Piece []pieceText `toml:"piece"`
}

// pieceText is one kind of piece that is ordered.
type pieceText struct {
	What        string         `toml:"what"`
	Count       *int           `toml:"count"`
	ReadyBy     string         `toml:"ready_by"`
	Glass       string         `toml:"glass"`
	Resting     string         `toml:"resting"`
	LongestSoak *unit.Duration `toml:"longest_soak"`
	HottestSoak *unit.Temp     `toml:"hottest_soak"`
	Note        string         `toml:"note"`
}

// order is an order file, understood.
type order struct {
	name   string
	into   piece.Into
	start  unit.Clock
	gap    unit.Length
	kinds  []week.Kind
	pieces []piece.Piece
	kilns  []week.Kiln
	// over holds the kilns, by how they heat, and kinds whose program does not keep
	// its limits, even alone, or cannot be judged.
	over    map[[2]int]bool
	studios []kiln.Studio
	planned int // kinds in the sets that the planner was asked about
}

const dayForm = "2006-01-02"

// readOrder reads an order file.
func readOrder(a *desk.App, name, glassFile string) (*order, error) {
	var t orderText
	var file *strict.File
	if err := a.Read(name, func(r io.Reader) (err error) {
		file, err = strict.Decode(r, desk.ShownName(name), &t)
		return err
	}); err != nil {
		return nil, err
	}
	st, err := a.LocalStudio()
	if err != nil {
		return nil, err
	}
	table, err := flags.GlassTable(a, glassFile)
	if err != nil {
		return nil, err
	}
	o := &order{name: t.Name, into: piece.HotKiln, gap: t.Gap, over: map[[2]int]bool{}}
	if t.Into != "" {
		if o.into, err = piece.ParseInto(t.Into); err != nil {
			return nil, file.Errorf([]string{"into"}, "%w", err)
		}
	}
	if o.start, err = unit.ParseClock("22:00"); err != nil {
		return nil, err
	}
	if t.Start != nil {
		o.start = *t.Start
	}
	from, err := time.Parse(dayForm, t.From)
	if err != nil {
		return nil, file.HintErrorf([]string{"from"}, `write from = "2026-11-26", the first night`, "%s: is no day", t.From)
	}
	n := 7
	if t.Nights != nil {
		if n = *t.Nights; n < 1 || n > 60 {
			return nil, file.Errorf([]string{"nights"}, "%d: must be from 1 to 60", n)
		}
	}
	if err := orderKilns(a, file, t, o, st, from, n); err != nil {
		return nil, err
	}
	return o, o.readPieces(file, t, st.Glass, table)
}

func orderKilns(a *desk.App, file *strict.File, t orderText, o *order, st kiln.Studio, from time.Time, n int) error {
	if len(t.Kiln) == 0 {
		return file.HintErrorf(nil, `add [[kiln]] with name = "big" and shelf = "300mm x 300mm"`, "no kiln is named")
	}
	heats := map[string]int{}
	for i, kt := range t.Kiln {
		key := func(k string) []string { return []string{"kiln", fmt.Sprint(i), k} }
		k := week.Kiln{Name: kt.Name, Height: kt.Height, Empty: time.Hour}
		if k.Name == "" {
			return file.Errorf(key("name"), "a kiln has a name")
		}
		sides := strings.Split(strings.NewReplacer("×", "x", " ", "").Replace(kt.Shelf), "x")
		var err error
		if len(sides) != 2 {
			return file.HintErrorf(key("shelf"), `write shelf = "300mm x 300mm"`, "%s: is no shelf", kt.Shelf)
		}
		if k.Width, err = unit.ParseLength(sides[0]); err == nil {
			k.Depth, err = unit.ParseLength(sides[1])
		}
		if err != nil {
			return file.Errorf(key("shelf"), "%w", err)
		}
		if k.Height == 0 {
			return file.HintErrorf(key("height"), `write height = "150mm", above the shelf`, "the kiln has no height")
		}
		if kt.Empty != nil {
			k.Empty = kt.Empty.Std()
		}
		closed := map[string]bool{}
		for j, day := range kt.Not {
			if _, err := time.Parse(dayForm, day); err != nil {
				return file.HintErrorf([]string{"kiln", fmt.Sprint(i), "not", fmt.Sprint(j)}, `write not = ["2026-11-28"]`, "%s: is no day", day)
			}
			closed[day] = true
		}
		for d := range n {
			night := time.Date(from.Year(), from.Month(), from.Day()+d, int(o.start)/60, int(o.start)%60, 0, 0, time.Local)
			if !closed[night.Format(dayForm)] {
				k.Nights = append(k.Nights, night)
			}
		}
		own := st
		if _, ok := heats[kt.Studio]; !ok {
			heats[kt.Studio] = len(heats)
		}
		k.Heat = heats[kt.Studio]
		if kt.Studio != "" {
			if err := a.ReadAs("--studio", desk.StudioFile, kt.Studio, func(r io.Reader) (err error) {
				own, err = kiln.ReadStudio(r, kt.Studio)
				return err
			}); err != nil {
				return err
			}
			own = own.In(st.Units)
		}
		o.kilns, o.studios = append(o.kilns, k), append(o.studios, own)
	}
	return nil
}

// readPieces reads what is ordered.
func (o *order) readPieces(file *strict.File, t orderText, fallback string, table *glass.Table) error {
	if len(t.Piece) == 0 {
		return file.HintErrorf(nil, `add [[piece]] with what = "sphere 2.5in" and count = 30`, "nothing is ordered")
	}
	for i, text := range t.Piece {
		if text.Glass == "" {
			text.Glass = cmp.Or(t.Glass, fallback)
		}
		pt := &pieceTable{text, file, i}
		p, err := pt.piece(table)
		if err != nil {
			return err
		}
		k, err := pt.kind(p)
		if err != nil {
			return err
		}
		o.kinds, o.pieces = append(o.kinds, k), append(o.pieces, p)
	}
	return nil
}

// pieceTable is a [[piece]] of an order file, by its place in it; a fault names
// its key.
type pieceTable struct {
	pieceText
	file  *strict.File
	index int
}

func (t *pieceTable) key(name string) []string {
	return []string{"piece", fmt.Sprint(t.index), name}
}

// piece is what is ordered, as it is planned for.
func (t *pieceTable) piece(table *glass.Table) (p piece.Piece, err error) {
	if p, err = piece.Parse(t.What); err != nil {
		return p, t.file.Errorf(t.key("what"), "%w", err)
	}
	if t.Count != nil {
		if *t.Count < 1 || *t.Count > piece.MostPieces {
			return p, t.file.Errorf(t.key("count"), "%d: must be from 1 to %d", *t.Count, piece.MostPieces)
		}
		p.Count = *t.Count
	}
	if err := t.fill(&p, table); err != nil {
		return p, err
	}
	switch piece.Resting(t.Resting) {
	case "":
	case piece.OnShelf, piece.Raised, piece.Bedded:
		p.Resting = piece.Resting(t.Resting)
	default:
		return p, t.file.HintErrorf(t.key("resting"), `write resting = "shelf", "raised" or "bedded"`, "%q: is no way to rest a piece", t.Resting)
	}
	if t.LongestSoak != nil {
		p.LongestSoak = t.LongestSoak.Std()
	}
	if t.HottestSoak != nil {
		p.HottestSoak = *t.HottestSoak
	}
	p.Note = t.Note
	return p, nil
}

// fill gives a piece its glass, and the glasses of what lies in it.
func (t *pieceTable) fill(p *piece.Piece, table *glass.Table) (err error) {
	if t.Glass == "" {
		return t.file.HintErrorf(t.key("what"), `write glass = "borosilicate-33" at the top`, "no glass is named")
	}
	if p.Glass, err = table.Find(t.Glass); err != nil {
		return t.file.Errorf(t.key("what"), "%w", err)
	}
	if p.IsStone() {
		return t.file.Errorf(t.key("what"), "%w", &piece.StoneError{What: p.What})
	}
	if err := p.Fill(p.Glass, table.Find); err != nil {
		return t.file.Errorf(t.key("what"), "%w", err)
	}
	return nil
}

// kind is what is ordered, as it is laid on a shelf and due.
func (t *pieceTable) kind(p piece.Piece) (k week.Kind, err error) {
	k = week.Kind{What: p.What, Count: p.Count}
	if k.Foot, k.Height, err = footOf(p); err != nil {
		return k, t.file.Errorf(t.key("what"), "%w", err)
	}
	if t.ReadyBy != "" {
		if k.Due, err = parseDue(t.ReadyBy); err != nil {
			return k, t.file.Errorf(t.key("ready_by"), "%w", err)
		}
	}
	return k, nil
}

// parseDue reads a day, which means up to its end, or a day and an hour, by the
// clock on the wall.
func parseDue(text string) (time.Time, error) {
	t, hour, err := unit.ParseDay(text, time.Local)
	switch {
	case err == nil && !hour:
		return time.Date(t.Year(), t.Month(), t.Day(), 23, 59, 0, 0, time.Local), nil
	case err == nil:
		return t, nil
	}
	return time.Time{}, term.WithHint(fmt.Errorf("%s: is no day", text), `write ready_by = "2026-11-29" or "2026-11-29 8:00 am"`)
}

// footOf returns what a piece covers and how high it is.
func footOf(p piece.Piece) (week.Foot, unit.Length, error) {
	round := func(d, high unit.Length) (week.Foot, unit.Length, error) {
		return week.Foot{Across: d, Along: d, Round: true}, high, nil
	}
	switch p.Shape {
	case piece.SphereShape:
		return round(p.Size, p.Size)
	case piece.DiscShape, piece.DomeShape, piece.PendantShape:
		return round(p.Across, p.Size)
	case piece.RodShape, piece.TubeShape:
		if p.Across == 0 {
			return week.Foot{}, 0, term.WithHint(fmt.Errorf("%s: needs its length, to find it a place", p.What), `write "rod 10mm x 200mm"`)
		}
		return week.Foot{Across: p.Size, Along: p.Across}, p.Size, nil
	}
	b, err := gather.ParseBody(p.What)
	if err != nil {
		return week.Foot{}, 0, term.WithHint(fmt.Errorf("%s: needs length and width, to find it a place", p.What), `write "slab 200mm x 150mm x 20mm"`)
	}
	return week.Foot{Across: b.Sizes[0], Along: b.Sizes[1]}, p.Size, nil
}
