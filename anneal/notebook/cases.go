package notebook

import (
	"lehr/glass/cases"
)

// Cases answers the cases of testdata/cases that name this package.
func Cases() map[string]cases.Compute {
	return map[string]cases.Compute{
		"Factor": func(t cases.T, v cases.Values) cases.Values {
			p, m, s := v.Floats("predicted_nm"), v.Floats("measured_nm"), v.Floats("error_nm")
			var pairs []Pair
			for i := range p {
				pairs = append(pairs, Pair{p[i], m[i], s[i]})
			}
			f, se, err := Factor(pairs)
			if err != nil {
				t.Fatal(err)
			}
			return cases.Values{"factor": f, "standard_error": se}
		},
	}
}
