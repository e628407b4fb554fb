package seal

import "testing"

// Core and shell fit together: the gap between the radius that each would have
// alone, strained by its own stress, is what the expansions leave.
func TestCoreInShell_fits(t *testing.T) {
	core := Elastic{Young: 73e9, Poisson: 0.17, Expansion: 0.55e-6}
	shell := Elastic{Young: 63.5e9, Poisson: 0.20, Expansion: 3.3e-6}
	for _, ratio := range []float64{0, 0.3, 0.7, 0.95} {
		p, hoop, outside := coreInShell(core, shell, ratio, 480)
		if p <= 0 || hoop <= 0 || outside < 0 {
			t.Fatalf("a core that shrinks less is squeezed and the shell in tension: %v %v %v", p, hoop, outside)
		}
		shellStrain := (float64(hoop)*(1-shell.Poisson) + shell.Poisson*float64(p)) / float64(shell.Young)
		coreStrain := -float64(p) * (1 - 2*core.Poisson) / float64(core.Young)
		close(t, "gap", shellStrain-coreStrain, (3.3e-6-0.55e-6)*480, 1e-12)
		// The half plane of the shell balances the pressure on the core's half.
		c, k := ratio*ratio*ratio, float64(p)/2
		if ratio > 0 {
			sum := integral(func(r float64) float64 { // σθ = P/(1−c)·(c + a³/(2r³)), r in outer radii
				return 2 * r * 2 * k / (1 - c) * (c + c/(2*r*r*r))
			}, ratio, 1)
			close(t, "balance", sum, float64(p)*ratio*ratio, 1e-9)
		}
	}
}

func TestSandwich_balances(t *testing.T) {
	core, outer := soda, Elastic{Young: 63.5e9, Poisson: 0.2, Expansion: 8.5e-6}
	inCore, inOuter := sandwichStress(core, outer, 0.5, 450)
	close(t, "force", float64(inCore), -0.5*float64(inOuter), 1e-12)
	strain := func(s float64, e Elastic) float64 { return s*(1-e.Poisson)/float64(e.Young) - e.Expansion*450 }
	close(t, "equal length", strain(float64(inCore), core), strain(float64(inOuter), outer), 1e-12)
}
