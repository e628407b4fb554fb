package strict

import "lehr/glass/unit/near"

// Nearest returns the name that a misspelled word most likely meant, or "" when
// none is close; see [near.Word].
func Nearest(word string, names []string) string { return near.Word(word, names) }
