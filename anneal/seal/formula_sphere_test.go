package seal

import (
	"testing"

	"lehr/glass/unit"
)

// Two layers are a core in a shell, whatever their number is split into; the
// half plane through any layered sphere carries no resultant.
func TestLayeredSphere(t *testing.T) {
	core := Elastic{73e9, 0.17, 0.55e-6}
	glass := Elastic{63.5e9, 0.2, 3.3e-6}
	mm := unit.Millimeter
	for _, ratio := range []float64{1e-3, 0.3, 0.9, 0.999} {
		p, hoop, outside := coreInShell(core, glass, ratio, 480)
		a := unit.Length(ratio * 20e-3)
		for _, shells := range [][]Shell{
			{{a, core}, {20 * mm, glass}},
			{{a / 2, core}, {a, core}, {(a + 20*mm) / 2, glass}, {20 * mm, glass}},
		} {
			s := LayeredSphere(shells, 480)
			k, last := len(s)/2, len(s)-1
			close(t, "pressure", float64(s[0].OuterRadial), -float64(p), 1e-9)
			close(t, "hoop at the core", float64(s[k].InnerHoop), float64(hoop), 1e-9)
			close(t, "hoop outside", float64(s[last].OuterHoop), float64(outside), 1e-6)
		}
	}
	shells := []Shell{{4 * mm, core}, {9 * mm, glass}, {10 * mm, Elastic{70e9, 0.22, 9e-6}}, {17 * mm, Elastic{50e9, 0.3, 5e-6}}}
	c := newBall(shells)
	c.shrinkAll(490)
	c.solve()
	sum, size, inner := 0.0, 0.0, 0.0
	for i, s := range shells {
		part := integral(func(r float64) float64 {
			_, hoop := c.at(i, r)
			return float64(hoop) * r
		}, inner, float64(s.Outer))
		sum, size, inner = sum+part, size+part*part, float64(s.Outer)
	}
	if sum*sum > 1e-18*size {
		t.Errorf("resultant %g of parts of size² %g", sum, size)
	}
}

func TestBadArguments_panic(t *testing.T) {
	for name, f := range map[string]func(){
		"all core":       func() { coreInShell(soda, soda, 1, 480) },
		"no layers":      func() { LayeredSphere(nil, 480) },
		"no thickness":   func() { LayeredSphere([]Shell{{1, soda}, {1, soda}}, 480) },
		"outside":        func() { nearSurface(1, 0.2, 1.1) },
		"no tension":     func() { flawDepth(0, toughnessAtOnce) },
		"no rate":        func() { steady(unit.Celsius(600), 0) },
		"sharp edge":     func() { edgeFactor(1, 0) },
		"no pressure":    func() { criticalRadius(0, soda, soda, 4) },
		"sandwich alone": func() { sandwichStress(soda, soda, 0, 480) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			f()
		}()
	}
}
