package sim

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"lehr/glass"
	"lehr/glass/casetest"
)

// TestLightOrder: with radiation inside, heat is still met to third order in
// time.
func TestLightOrder(t *testing.T) {
	for form := Slab; form <= Sphere; form++ {
		p := smooth(form, false)
		l, err := NewLight(p.Body, Optics{Index: 1.45, Bands: []Band{{2.1e-6, 4}, {2.68e-6, 30}, {5e-6, 700}}}, Layer{}, 16)
		if err != nil {
			t.Fatal(err)
		}
		p.Light = l
		at := func(dt float64) []float64 { return runTo(t, p, Settings{FixedStep: dt}).heat.temp }
		exact := at(1)
		coarse, fine := worst(at(80), exact), worst(at(40), exact)
		near(t, fmt.Sprintf("%v: order in time", form), math.Log2(coarse/fine), 3, 0, 0.25)
	}
}

// TestLightLaws: a body at rest stays as it is; heat in is heat stored; a thick
// glass conducts as Rosseland's law says; a darker piece has never a smaller
// difference, and one with a mirror under its skin is as one that conducts only.
func TestLightLaws(t *testing.T) {
	_, m, v := clearGlass(t)
	for form := Slab; form <= Sphere; form++ {
		p := Problem{Body: Body{Form: form, Outer: 0.03}, Material: m, Variants: v, Surface: air, Start: uniform(500), Room: 298.15,
			Kiln: program([2]float64{0, 500}, [2]float64{5, 500})}
		p = lit(t, p, "clear", 0)
		rest := must(t, p, Settings{})
		near(t, form.String()+": at rest", rest.MaxLag, 0, 0, 1e-9)

		p.Kiln = program([2]float64{0, 500}, [2]float64{1, 400}, [2]float64{2, 430}, [2]float64{3, 200})
		r := must(t, p, Settings{Tolerance: 0.005, MaxChange: 2})
		near(t, form.String()+": heat balance", r.Stats.HeatIn, r.Stats.HeatStored, 2e-3, 0)

		last := 0.0
		for _, kind := range []string{"clear", "300", "1000", "3000", "10000", "opaque"} {
			q := coolingCase(t, casetest.Values{"form": form.String(), "size_mm": 50.0, "rate": 60.0, "then": 200.0, "glass": kind})
			if d := q["difference_K"].(float64); d < last {
				t.Errorf("%v %s: difference %.3f K, less than %.3f", form, kind, d, last)
			} else {
				last = d
			}
		}
	}
	// In thick glass radiation is a conductivity, 16 n² σ T³ / 3κ.
	const kappa, n = 2e4, 1.45
	cool := Problem{Body: Body{Form: Sphere, Outer: 0.03}, Material: m, Variants: v, Surface: Surface{Follows: true}, Start: uniform(560), Room: 298.15,
		Kiln: program([2]float64{0, 560}, [2]float64{1, 460})}
	g, _ := glass.Find("borosilicate-33")
	phonons := g.ConductivityPhonon.At
	cool.Material.Conductivity = phonons
	l, err := NewLight(cool.Body, Optics{Index: n, Bands: []Band{{9e-4, kappa}}}, Layer{}, 40)
	if err != nil {
		t.Fatal(err)
	}
	rays := cool
	rays.Light = l
	cool.Material.Conductivity = func(k float64) float64 {
		return phonons(k) + 16*n*n*StefanBoltzmann*k*k*k/(3*kappa)
	}
	want := must(t, cool, Settings{Cells: 40}).MaxLag
	near(t, "Rosseland", must(t, rays, Settings{}).MaxLag, want, 2e-3, 0)
}

// TestAnySizeInLight holds clear pieces in their default cells against finer
// ones in fine steps, from 3 to 300 mm and 1 to 2000 °C/h.
func TestAnySizeInLight(t *testing.T) {
	count, most := fewer(24, 4), 0.0
	for i := range count {
		p, what := anyRamps(rand.New(rand.NewPCG(12, uint64(i))))
		got := must(t, lit(t, p, "clear", 0), Settings{})
		want := must(t, lit(t, p, "clear", 48), Settings{Tolerance: 0.02, MaxChange: 1.5, MaxSteps: 200000})
		peak, surface, tension := errorsOf(got, want)
		worst := max(peak, surface, tension)
		if most = max(most, worst); !(worst < 0.01) {
			t.Errorf("%s: peak off %.2f %%, surface %.2f %%, tension %.2f %%", what, 100*peak, 100*surface, 100*tension)
		}
	}
	t.Logf("worst %.2f %%", 100*most)
}

// BenchmarkClearSphere: what a clear sphere costs is its operator, once for a size and
// a glass, and runs a few times as dear as those of opaque glass.
func BenchmarkClearSphere(b *testing.B) {
	g, err := glass.Find("borosilicate-33")
	if err != nil {
		b.Fatal(err)
	}
	p := overnight(Sphere, 0.076, boro, 0)
	p.Material.Conductivity = g.ConductivityPhonon.At
	b.Run("operator", func(b *testing.B) {
		for b.Loop() {
			if p.Light, err = NewLight(p.Body, optics(g), Layer{}, 0); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("four variants", func(b *testing.B) {
		for b.Loop() {
			must(b, p, Settings{})
		}
	})
}

// TestBadLight: what cannot be traced is refused, and named.
func TestBadLight(t *testing.T) {
	good := Optics{Index: 1.45, Bands: []Band{{2e-6, 4}, {5e-6, 100}}}
	ball := Body{Form: Sphere, Outer: 0.03}
	for want, f := range map[string]func() (*Light, error){
		"size": func() (*Light, error) { return NewLight(Body{Form: Sphere}, good, Layer{}, 0) },
		"tube": func() (*Light, error) {
			return NewLight(Body{Form: Cylinder, Outer: 0.02, Inner: 0.01}, good, Layer{}, 0)
		},
		"relative depth":   func() (*Light, error) { return NewLight(ball, good, Layer{Rho: 1}, 0) },
		"cells":            func() (*Light, error) { return NewLight(ball, good, Layer{}, 2) },
		"refractive index": func() (*Light, error) { return NewLight(ball, Optics{Index: 0.5, Bands: good.Bands}, Layer{}, 0) },
		"without a band":   func() (*Light, error) { return NewLight(ball, Optics{Index: 1.5}, Layer{}, 0) },
		"comes after": func() (*Light, error) {
			return NewLight(ball, Optics{Index: 1.5, Bands: []Band{{2e-6, 4}, {2e-6, 4}}}, Layer{}, 0)
		},
		"absorption": func() (*Light, error) {
			return NewLight(ball, Optics{Index: 1.5, Bands: []Band{{2e-6, 0}}}, Layer{}, 0)
		},
	} {
		if _, err := f(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v", want, err)
		}
	}
	p := overnight(Sphere, 0.05, boro, 0)
	l, err := NewLight(ball, good, Layer{}, 0)
	if err != nil {
		t.Fatal(err)
	}
	p.Light = l
	if _, err := Run(p, Settings{}); err == nil || !strings.Contains(err.Error(), "not for this body") {
		t.Errorf("light of another body: %v", err)
	}
}
