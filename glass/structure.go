package glass

import "slices"

// Term is one exponential of a relaxation function, its weight a share of the
// whole, its time in the unit of its set.
type Term struct {
	Weight float64
	Time   float64
}

// Spectra are the relaxation functions of a glass, where they are its own.
type Spectra struct {
	Shear     []Term // of stress; times relative to their mean
	Structure []Term // of structure; times relative to their mean
	Bulk      []Term // of bulk stress; times relative to the mean of Shear
	BulkLong  float64
}

// Own reports whether stress relaxes by a set that the glass file gives.
func (s Spectra) Own() bool { return s.Shear != nil }

// BorrowsSpectra reports whether a glass relaxes by the six terms of soda-lime
// glass without being of that family, as no set of its own is published.
func (g *Glass) BorrowsSpectra() bool {
	return g.Relaxation == "six-term" && !g.Spectra.Own() && g.Family != "soda-lime"
}

// Finding is a published number of structural relaxation, with its range.
type Finding struct {
	Family    string // of the glass: "soda-lime", "borosilicate", "lead", "aluminosilicate", or "" for any silicate
	Quantity  string
	Low, High float64 // equal when one number is printed
	Unit      string
	Note      string
	Source    string
	Status    Status
}

// structure is what texts say of structural relaxation. x is the nonlinearity
// of Tool, Narayanaswamy and Moynihan, β the exponent of a stretched
// exponential, H/R the slope of ln of the time against 1/T.
var structure = []Finding{
	{"", "structure slower than stress, times", 1, 10, "", "lead metasilicate, 5 to 25 K below its fictive temperature", "Lancelotti and others, J. Am. Ceram. Soc. 104 (2021) 2066, abstract", Verified},
	{"", "structure slower than stress, times", 2.4, 2.4, "", "from a modulus of 35 GPa and β 3/7, that is a mean time η/12.6 GPa", "script published with Guo and others (2017), doi 10.1111/jace.15272", Verified},
	{"", "slope of rate against 1/fictive temperature over that of viscosity", 1, 1, "", "crown, boron oxide and a nitrate melt, within error", "Moynihan and others, J. Am. Ceram. Soc. 59 (1976) 12, abstract", Verified},
	{"", "β of stress", 0.6, 0.6, "", "", "Potuzak, Welch & Mauro, J. Chem. Phys. 135 (2011) 214502, abstract", Verified},
	{"", "β of stress", 0.5, 0.5, "", "near one half", "De Bast & Gilard 1963 and Rekhson & Ginzburg 1976, as a treatise quotes them", Quoted},
	{"", "β of structure", 0.428571, 0.428571, "", "3/7", "Potuzak, Welch & Mauro, J. Chem. Phys. 135 (2011) 214502, abstract", Verified},
	{"", "x", 0.77, 0.77, "", "an optical molding glass by calorimetry; its β is 0.70, its H/R 52395 K", "Zhu and others, J. Non-Cryst. Solids (2021) 121050, abstract", Verified},
	{"soda-lime", "structure slower than stress, times", 9, 9, "", "the set that lehr uses", "Daudeville & Carré, J. Thermal Stresses 21 (1998) 667, table 1", Corroborated},
	{"soda-lime", "structure slower than stress, times", 4, 4, "", "", "Gardon & Narayanaswamy (1970), abstract", Verified},
	{"soda-lime", "H/R of flow, 475 to 525 °C", 70400, 70400, "K", "stabilized fibers; of delayed elasticity 80500 K", "Taylor, McNamara & Sherman, J. Soc. Glass Technol. 21 (1937) T61, abstract", Verified},
	{"soda-lime", "liquid expansion", 34.8, 34.8, "×10⁻⁶/K", "sodium trisilicate at 540 °C, ± 1.1", "Webb, Knoche & Dingwell, Eur. J. Mineral. 4 (1992) 95, abstract", Verified},
	{"borosilicate", "density change per decade of rate", 1.15e-3, 1.91e-3, "", "three crowns annealed at 4 and 25 K/h", "catalog of optical glass, 2022-06, rows in a public-domain collection", Verified},
	{"borosilicate", "structure slower than stress, times", 2.4, 10, "", "none measured on this family: the range of all that are published", "the published ratios", Derived},
	{"aluminosilicate", "liquid expansion", 19.7, 19.7, "×10⁻⁶/K", "anorthite just above the transformation, ± 0.7", "Toplis & Richet, Contrib. Mineral. Petrol. 139 (2000) 672, abstract", Verified},
	{"aluminosilicate", "liquid expansion", 46.3, 46.3, "×10⁻⁶/K", "diopside just above the transformation, ± 1.3", "Toplis & Richet, Contrib. Mineral. Petrol. 139 (2000) 672, abstract", Verified},
	{"lead", "structure slower than stress, times", 1, 10, "", "lead metasilicate", "Lancelotti and others, J. Am. Ceram. Soc. 104 (2021) 2066, abstract", Verified},
}

// Structure returns what texts say of the structural relaxation of a glass: of
// its family first, then of any silicate.
func (g *Glass) Structure() []Finding {
	var own, any []Finding
	for _, f := range structure {
		switch f.Family {
		case "":
			any = append(any, f)
		case g.Family:
			own = append(own, f)
		}
	}
	return slices.Concat(own, any)
}
