package checklist

import (
	"lehr/glass/cases"
)

// Cases answers the cases of testdata/cases that name this package.
func Cases() map[string]cases.Compute {
	return map[string]cases.Compute{
		"bareHandLimit": func(cases.T, cases.Values) cases.Values {
			return cases.Values{"temp_C": bareHandLimit.Celsius()}
		},
	}
}
