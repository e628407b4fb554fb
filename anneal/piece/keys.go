package piece

import "reflect"

// LoadKeys lists every key of a load file: those of a piece as "piece.what", of
// the door as "door.dip", and "session" for the facts of the safety review.
func LoadKeys() []string {
	var out []string
	for _, t := range []struct {
		table string
		of    reflect.Type
	}{{"", reflect.TypeFor[loadText]()}, {"door.", reflect.TypeFor[doorText]()}, {"piece.", reflect.TypeFor[pieceText]()}} {
		for i := range t.of.NumField() {
			if name := t.of.Field(i).Tag.Get("toml"); name != "piece" && name != "door" {
				out = append(out, t.table+name)
			}
		}
	}
	return out
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

// Wears lists the words for what a piece is asked to bear beside its program.
func Wears() []string {
	return []string{"ordinary", "worked later", "worked before", "unknown history"}
}
