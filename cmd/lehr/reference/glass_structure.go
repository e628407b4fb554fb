package reference

import (
	"strings"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
	"lehr/glass"
)

// showStructure says by which set a glass relaxes, and what texts say of the
// relaxation of its structure.
func showStructure(a *desk.App, g glassView) {
	var set string
	switch {
	case g.Spectra.Own():
		set = "Stress relaxes by the " + term.Counted(len(g.Spectra.Shear), "term") + " of this glass."
	case g.Relaxation == "maxwell":
		set = "Stress relaxes by one Maxwell term."
	case g.BorrowsSpectra():
		set = "Stress and structure relax by six terms that were measured on soda-lime glass: for this family none are published. It is used beyond its own."
	default:
		set = "Stress and structure relax by six terms that were measured on soda-lime glass, the family of this one."
	}
	items := []string{set}
	if !g.StructuralModulus.Known() && g.ExpansionLiquid.Known() {
		items = append(items, "Structure follows in the mean time of viscosity over 3.2 GPa, in the worst case over 7.2 GPa, with a nonlinearity of 0.5, as in soda-lime glass.")
	}
	if g.ExpansionLiquid.Known() {
		for _, f := range g.Structure() {
			items = append(items, findingText(f))
		}
	}
	a.List("Structural relaxation", items)
}

func findingText(f glass.Finding) string {
	of := "any silicate"
	if f.Family != "" {
		of = f.Family
	}
	value := term.Short(f.Low)
	if f.High != f.Low {
		value += " to " + term.Short(f.High)
	}
	if f.Unit != "" {
		value += " " + f.Unit
	}
	text := of + ", " + f.Quantity + ": " + value
	if f.Note != "" {
		text += " (" + f.Note + ")"
	}
	return text + "; " + f.Source + " [" + string(f.Status) + "]"
}

// alsoStated returns, for each property, the other honest values that are kept:
// with what they hold for, their status, and the number of their source.
func (g glassView) alsoStated(cites *citations) (items []string) {
	for _, p := range properties() {
		p = p.in(g.system)
		var values []string
		for _, v := range g.Alternatives[p.key] {
			remarks := []string{}
			for _, text := range []string{g.over(v), v.Note, string(v.Status)} {
				if text != "" {
					remarks = append(remarks, text)
				}
			}
			if n := cites.number(v.Source); n != "" {
				remarks = append(remarks, "from "+n)
			}
			values = append(values, g.valueText(p, v)+" ("+strings.Join(remarks, "; ")+")")
		}
		if len(values) > 0 {
			items = append(items, p.name+": "+strings.Join(values, ", ")+".")
		}
	}
	return items
}
