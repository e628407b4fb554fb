package plan

import "lehr/anneal/kiln"

// Aimed returns studio and options to plan with, whose limits are less their
// margin, and the limits to judge the answer by.
func Aimed(st kiln.Studio, o Options) (kiln.Studio, Options, kiln.Limits) {
	whole := o.Limits.Or(st.Limits)
	st.Limits, o.Limits = whole.Aimed(), kiln.Limits{}
	return st, o, whole
}
