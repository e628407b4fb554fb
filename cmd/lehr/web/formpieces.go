package web

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"lehr/anneal/piece"
	"lehr/cmd/lehr/term"

	"lehr/glass"
	"lehr/glass/strict"
)

// pieceKeys are what a line may say of a kind of piece behind a semicolon.
var pieceKeys = []string{"in", "glass", "resting", "longest soak", "hottest soak", "core", "light", "wear", "note"}

// readPieces reads each line as a piece of a load file, so that it meets the
// same checks in the same words.
func (f *form) readPieces(load *piece.Load) {
	total, kinds := 0, 0
	for i, line := range strings.Split(f.Pieces.Value, "\n") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		where := fmt.Sprintf("line %d", i+1)
		if kinds++; kinds > mostKinds {
			f.Pieces.fault(where, fmt.Errorf("more than %d kinds of piece", mostKinds))
			return
		}
		p, err := f.readPiece(line)
		if err != nil {
			f.Pieces.fault(where, ofPiece(err))
			continue
		}
		if p.InText != "" && len(f.Start.Faults) == 0 { // else it waits for the start
			alone := piece.Load{Start: load.Start, Into: load.Into, Pieces: []piece.Piece{p}}
			f.Pieces.fault(where, alone.ResolveTimes())
		}
		load.Pieces = append(load.Pieces, p)
		if total += p.Count; total > piece.MostPieces {
			f.Pieces.fault(where, fmt.Errorf("more than %d pieces", piece.MostPieces))
			return
		}
	}
	if kinds == 0 {
		f.Pieces.fault("", term.WithHint(errors.New("the load has no pieces"), `write "6 x sphere 2.5in"`))
	}
	if len(f.Pieces.Faults) == 0 {
		f.Pieces.fault("", load.Stones())
	}
	own := kinds > 0 && len(f.Pieces.Faults) == 0 // every piece says which glass it is of
	for _, p := range load.Pieces {
		own = own && (p.Glass != nil || p.IsStone())
	}
	if f.Glass.Value == "" && !own {
		f.Glass.fault("", term.WithHint(errors.New("no glass is named"), "choose the family and expansion of your glass"))
	}
}

// ofPiece calls a key of a piece as its line does; what the piece is stands without
// one.
func ofPiece(err error) error {
	var at *strict.Error
	if !errors.As(err, &at) || at.Key == "" {
		return err
	}
	key := at.Key
	if key == "what" {
		key = ""
	}
	return term.WithAdvice(errors.New(at.Called(strings.ReplaceAll(key, "_", " "))), at.Advice())
}

// readPiece reads one line. What begins with none of pieceKeys belongs to the
// piece as it is written on the command line.
func (f *form) readPiece(line string) (piece.Piece, error) {
	var own []string
	keys, named := "", false // whether the line names its glass
	for _, clause := range strings.Split(line, ";") {
		clause = strings.TrimSpace(clause)
		i := slices.IndexFunc(pieceKeys, func(k string) bool { return strings.HasPrefix(clause, k+" ") || strings.HasPrefix(clause, k+"=") })
		switch {
		case i < 0 && len(own) > 0 && clause != "" && !contents(clause):
			return piece.Piece{}, noClause(line, clause)
		case i >= 0 && len(own) > 0:
			named = named || pieceKeys[i] == "glass"
			keys += strings.ReplaceAll(pieceKeys[i], " ", "_") + " = " + strict.Quote(strings.Trim(clause[len(pieceKeys[i]):], " =")) + "\n"
		case clause != "":
			own = append(own, clause)
		}
	}
	what := strings.Join(own, "; ")
	p, of, err := piece.ParseOf(what)
	if err != nil || keys == "" && of == "" && f.Glass.Value == "" {
		return p, err
	}
	name := f.Glass.Value
	if len(f.Glass.Faults) > 0 || name == "" { // that is said there, once
		name = glass.Builtin()[0].Name
	}
	load, err := piece.ReadLoad(strings.NewReader("[[piece]]\nwhat = "+strict.Quote(what)+"\n"+keys), "pieces", name, glass.Find)
	if err != nil {
		return p, err
	}
	p = load.Pieces[0]
	if f.Glass.Value == "" && !named && of == "" {
		p.Glass = nil
	}
	return p, nil
}

// inPiece begin what lies in a piece, also on the command line.
var inPiece = []string{"inside", "layers", "skin", "stripe"}

// contents reports whether a part of a line says what lies in a piece.
func contents(clause string) bool {
	word, _, _ := strings.Cut(clause, " ")
	return slices.Contains(inPiece, strings.ToLower(word))
}

// noClause is the error of a part of a line that begins with nothing that may follow
// a piece.
func noClause(line, clause string) error {
	all := slices.Concat(inPiece, pieceKeys)
	err := fmt.Errorf("piece %q: %q: begins with none of %s and %s", line, clause, strings.Join(all[:len(all)-1], ", "), all[len(all)-1])
	near := ""
	for words := strings.Fields(strings.ToLower(clause)); near == "" && len(words) > 0; words = words[:len(words)-1] {
		if len(words) <= 2 { // no key has more
			near = strict.Nearest(strings.Join(words, " "), all)
		}
	}
	switch {
	case slices.Contains(piece.Wears(), clause):
		return term.WithHint(err, fmt.Sprintf(`write "; wear %s"`, clause))
	case near != "":
		return term.WithHint(err, "did you mean "+near+"?")
	}
	return term.WithHint(err, fmt.Sprintf(`to keep it in mind write "; note %s"`, clause))
}
