package week

import (
	"lehr/glass/cases"
	"lehr/glass/unit"
)

const mm = unit.Millimeter

// Cases answers the cases of testdata/cases that name this package.
func Cases() map[string]cases.Compute {
	return map[string]cases.Compute{
		"Circles": func(_ cases.T, v cases.Values) cases.Values {
			s := v.Floats("shelf_mm")
			square, offset := circles(unit.Length(s[0])*mm, unit.Length(s[1])*mm, unit.Length(v.Float("diameter_mm"))*mm, unit.Length(v.Float("gap_mm"))*mm)
			return cases.Values{"square_rows": float64(square), "offset_rows": float64(offset), "best": float64(max(square, offset))}
		},
		"FirstFit": func(_ cases.T, v cases.Values) cases.Values {
			bins, least := firstFit(v.Floats("areas"), v.Float("kiln"))
			return cases.Values{"firings": float64(bins), "lower_bound": float64(least)}
		},
	}
}
