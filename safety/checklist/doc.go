// Package checklist holds the checklist of a torch glass studio with an electric
// annealing kiln.
//
// Rules are data: where they are read out, the signal word, the facts on which
// they show, the words, the sources and to whom they defer. [Checklist] turns
// the [Facts] of a session into pages of at most nine lines. A fact that is
// not given counts as the hazard being present, and the line says which fact
// would remove it; what is known to break a line makes it a fault, whatever is
// answered. A danger that is reported ends everything: see [Dangers]. [Session]
// walks through the lines one at a time and [Record] keeps what was reported
// done.
//
// What the package does not do: it does not judge a studio, a hood, a lens or
// a kiln; it holds no measurement of yours that you did not give it; it is not
// a permission to look, light or walk away. Most rules it quotes are written
// for welding metal and are read across to glass. Local codes, the makers'
// instructions and licensed practice overrule every line. It knows nothing of
// annealing, opens no file and prints nothing. The formulas are in package
// figure, what to do when something is wrong in package emergency.
package checklist
