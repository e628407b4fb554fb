package piece

import (
	"maps"
	"slices"

	"lehr/glass/strict"
)

// LoadKeys lists every key of a load file: those of a piece as "piece.what", of
// the door as "door.dip", and "session" for the facts of the safety review. Tests
// elsewhere hold help and samples against it: what a file takes is known here
// alone.
func LoadKeys() []string {
	return slices.Concat(strict.Keys[loadText]("", "piece", "door"), strict.Keys[doorText]("door."), strict.Keys[pieceText]("piece."))
}

// tailWords are what may follow the sizes of a piece. A word that begins like
// another stands before it.
var tailWords = []string{string(Raised), string(Bedded), string(OnShelf), "open-ended", "open", "closed",
	string(Clear), string(Dark), string(Opaque), "textbook"}

// Words lists every word that [Parse] takes: those for a shape, "wall", those that
// follow the sizes, those that begin what is in it, and those
// for a stone.
func Words() []string {
	var out []string
	for _, f := range pieceForms {
		out = append(out, f.words...)
	}
	out = append(append(out, "wall"), tailWords...)
	return append(append(out, insideWords...), "stone", "cabochon", "of", "dry")
}

// Wears lists the words for what a piece is asked to bear beside its program, as
// [LoadKeys] lists the keys, and for the same use.
func Wears() []string {
	return slices.DeleteFunc(slices.Sorted(maps.Keys(wears)), func(w string) bool { return w == "" })
}
