package verify

import (
	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/spread"
	"lehr/glass"
)

// sources are what every report rests on.
var sources = []finding.Source{
	{Cite: "beds, rims and ends of pieces: finite-element studies", Status: "derived"},
	{Cite: "six-term relaxation of soda-lime glass: Duffrène and Gy, as used by Daudeville and Carré (1998), J. Thermal Stresses 21, 667", Status: "corroborated"},
}

// sourcesOf lists what the limits of a glass rest on, but for those in whose
// place a person gave one.
func sourcesOf(g *glass.Glass, given kiln.Limits) (out []finding.Source) {
	for _, l := range spread.Limits() {
		switch l.Key {
		case "surface-hours", "inside-hours":
			if given.TensionGiven {
				continue
			}
		case "left-inside":
			if given.ResidualGiven {
				continue
			}
		}
		for _, s := range l.For(g) {
			out = append(out, finding.Source{Cite: s.Cite, Status: string(s.Status), Limit: true})
		}
	}
	return out
}
