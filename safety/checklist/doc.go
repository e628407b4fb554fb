// Package checklist holds the checklist of a torch glass studio with an electric
// annealing kiln: rules as data, which [Facts] turn into pages of at most nine
// lines, a [Session] that goes through them, and the [Record] of what was reported
// done. A fact that is not given counts as the hazard being present.
//
// It judges no studio, hood, lens or kiln and is no permission to look, light or
// walk away: local codes, the makers' instructions and licensed practice overrule
// every line. It opens no file and prints nothing; formulas are in package figure.
package checklist
