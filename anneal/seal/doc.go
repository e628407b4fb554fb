// Package seal computes the stress that stays where one glass meets another, a
// stone, a metal or a skin of color, because the two shrink differently once the
// glass has set. No annealing removes it. Quantities are typed by package unit,
// tension positive; each formula says how far it holds.
//
// Package contents says what lies in the piece; the stress of the program is package
// verify's. A buried place is judged only where its glass carries more than
// any that was tested. [PlanWarmUp] dries and warms what goes inside.
package seal
