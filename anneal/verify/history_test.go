package verify

import (
	"strings"
	"testing"

	"lehr/anneal/piece"
	"lehr/glass"
)

func TestStrainRange(t *testing.T) {
	for _, g := range glass.Builtin() {
		low, high, err := StrainRange(g)
		if err != nil {
			if strings.Contains(err.Error(), g.Name) {
				continue // a glass without the fixed points
			}
			t.Errorf("%s: %v", g.Name, err)
			continue
		}
		soak, _, err := piece.SoakRange(g)
		if err != nil || high != soak || !low.Less(high) {
			t.Errorf("%s: strain range %s to %s, soak range from %s (%v)", g.Name, low, high, soak, err)
		}
	}
}
