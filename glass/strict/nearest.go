package strict

import "lehr/glass/unit/near"

// Nearest returns the name that a misspelled word most likely meant, or "" when
// none is close; see [near.Word].
func Nearest(word string, names []string) string { return near.Word(word, names) }

// DidYouMean is a hint about a word that is none of the names: the nearest of them,
// where one is close, before what else there is to do.
func DidYouMean(word string, names []string, hint string) string {
	if near := Nearest(word, names); near != "" {
		return "did you mean " + near + "? " + hint
	}
	return hint
}
