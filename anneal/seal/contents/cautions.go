package contents

import "lehr/glass"

// Caution is one thing to be warned of.
type Caution struct {
	ID     string       `toml:"id"`
	Text   string       `toml:"text"`
	For    string       `toml:"for"` // "hydrated", or "" for everything inside
	Source string       `toml:"source"`
	Status glass.Status `toml:"status"`
}

// Cautions returns what to be warned of before something is closed in, and in
// the days after.
func Cautions(hydrated bool) []Caution {
	var list []Caution
	for _, c := range loadTable().Caution {
		if c.For == "" || hydrated {
			list = append(list, c)
		}
	}
	return list
}
