package words

import (
	"fmt"

	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// near is the share of a limit from which average glass is spoken of, too.
const near = 0.9

// Tension is a tension in the worst case and its limit: where average glass
// decides and is near its own, that and its own.
func Tension(b verify.Tension, sys unit.System) string {
	worst, most := max(b.Worst, 0), b.Pair.Worst
	if b.Use > near && b.Expected > 0 && float64(b.Expected/b.Pair.Expected) > float64(worst/most) {
		return fmt.Sprintf("%s in average glass (limit %s), %s at worst (limit %s)", b.Expected.Text(sys), b.Pair.Expected.Text(sys), worst.Text(sys), most.Text(sys))
	}
	return fmt.Sprintf("at most %s (limit %s)", worst.Text(sys), most.Text(sys))
}
