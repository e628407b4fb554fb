package seal

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lehr/anneal/seal/contents"
	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/unit"
)

func clear33(t testing.TB) contents.Finder {
	return contents.Finder{Clear: must(glass.Find("borosilicate-33"))(t)}
}

func sphere(mm float64) Body { return Body{sim.Sphere, unit.Length(mm) * unit.Millimeter} }

// stoneIn judges a sphere with something in it.
func stoneIn(t testing.TB, mm float64, text string) (Problem, Report) {
	t.Helper()
	f := clear33(t)
	in, err := f.ParseInside(text)
	if err != nil {
		t.Fatal(err)
	}
	p := Problem{Clear: f.Clear, Body: sphere(mm), Contents: contents.Contents{Inside: []contents.Inside{in}}}
	return p, must(p.Judge())(t)
}

// The report's numbers are those of the formulas with the numbers of the table.
func TestJudge_stoneInTheMiddle(t *testing.T) {
	_, r := stoneIn(t, 63.5, "opal 10mm")
	glass := Elastic{63.5e9, 0.2, 3.3e-6 * 1.07}
	want, hoop, outside := coreInShell(opal, glass, 10/63.5, r.Falls.Fall)
	close(t, "pressure", float64(r.Pressure.Expected), float64(want), 1e-9)
	close(t, "hoop at the stone", float64(r.at(AtStone).Hoop.Expected), float64(hoop), 1e-9)
	close(t, "hoop outside", float64(r.at(OuterSurface).Hoop.Expected), float64(outside), 1e-9)
	if d := r.Setting.Sub(r.SettingClosed); d < 0 || d > 1.5 {
		t.Errorf("the two settings are %v apart", d)
	}
	if r.Verdict != Within || r.Pressure.Low >= r.Pressure.Expected || r.Pressure.High <= r.Pressure.Expected {
		t.Errorf("%s, pressure %v", r.Verdict, r.Pressure)
	}
	// The greatest stone is one more judged to the limit, and half a percent
	// more is over.
	p, _ := stoneIn(t, 63.5, "opal 10mm")
	for _, c := range []struct {
		scale unit.Length
		want  Verdict
	}{{0.999, Within}, {1.005, NotProven}} {
		p.Contents.Inside[0].Size = r.Greatest * c.scale
		if got := must(p.Judge())(t); got.Verdict != c.want {
			t.Errorf("a stone of %v: %s, worst %v, want %s", p.Contents.Inside[0].Size, got.Verdict, got.Worst, c.want)
		}
	}
	if f, ok := r.Find(BuriedTension); !ok || f.Lengths[0] > 0.3*unit.Millimeter || f.Lengths[3] >= f.Lengths[2] {
		t.Errorf("buried: %+v", f)
	}
	if _, ok := r.Find(DryFirst); !ok {
		t.Error("nobody says that it must be dry")
	}
}

// At the least cover the surface over the stone carries the limit.
func TestJudge_cover(t *testing.T) {
	p, r := stoneIn(t, 63.5, "sphere 8mm of opal, 8mm deep")
	p.Contents.Inside[0].Depth = p.Contents.Inside[0].Size/2 + r.LeastCover
	at := must(p.Judge())(t)
	close(t, "worst at the least cover", float64(at.Worst), float64(at.Limit), 1e-9)
	if r.Verdict != Over || at.LeastApart != 24*unit.Millimeter {
		t.Errorf("%s, %v", r.Verdict, at.LeastApart)
	}
	if _, ok := r.Find(SurfaceOverStone); ok {
		t.Error("deeper than 0.59: the surface carries less than the stone")
	}
	_, r = stoneIn(t, 63.5, "opal 8mm, 5mm deep")
	if f, ok := r.Find(SurfaceOverStone); !ok || math.Abs(f.Lengths[0].Millimeters()-1) > 1e-9 {
		t.Errorf("%+v", f)
	}
}

// Zirconia pulls loose, and compresses the surface.
func TestJudge_pullsLoose(t *testing.T) {
	_, r := stoneIn(t, 40, "cz 6mm")
	f, ok := r.Find(PullsLoose)
	if !ok || f.Stress > -250e6 || r.Pressure.High > 0 || r.Verdict != Within || r.Greatest != 0 {
		t.Errorf("%+v, %v, %s", f, r.Pressure, r.Verdict)
	}
}

// Several things each have their own pressure and their own words.
func TestJudge_several(t *testing.T) {
	f := clear33(t)
	p := Problem{Clear: f.Clear, Body: sphere(60), Contents: contents.Contents{Inside: []contents.Inside{
		must(f.ParseInside("cabochon 12mm x 4mm of opal, 12mm deep"))(t), must(f.ParseInside("3 x sphere 4mm of cz, 9mm deep, 8mm apart"))(t),
		must(f.ParseInside("ruby 5mm"))(t), must(f.ParseInside("fused-silica 4mm, 10mm deep"))(t)}}}
	r := must(p.Judge())(t)
	loose, buried := map[string]bool{}, map[string]unit.Stress{}
	for _, g := range r.Findings {
		switch g.Kind {
		case PullsLoose:
			loose[g.Of] = true
		case BuriedTension:
			buried[g.Of] = g.Stress
		}
	}
	if len(loose) != 2 || !loose["cubic-zirconia"] || !loose["corundum"] {
		t.Errorf("loose: %v", loose)
	}
	if len(buried) != 2 || !(buried["opal"] > 4*buried["fused-silica"]) || !(buried["fused-silica"] > 30e6) {
		t.Errorf("buried: %v", buried)
	}
	if _, ok := r.Find(Crowded); !ok {
		t.Error("nobody says that they lie too close")
	}
}

// A skin of a color nobody stated: two units either way, and the lower
// expansion is the kinder one at the surface.
func TestJudge_skin(t *testing.T) {
	f := clear33(t)
	skin := must(f.ParseSkin("white 1.75mm"))(t)
	r := must(Problem{Clear: f.Clear, Body: sphere(63.5), Contents: contents.Contents{Skin: &skin}}.Judge())(t)
	s := r.at(OuterSurface).Hoop
	up := LayeredSphere([]Shell{{30 * unit.Millimeter, Elastic{63.5e9, 0.2, 3.3e-6 * 1.07}}, {31.75 * unit.Millimeter, Elastic{63.5e9, 0.2, 3.5e-6 * 1.07}}}, r.Falls.Fall)
	close(t, "two units more", float64(s.High), float64(up[1].OuterHoop), 1e-6)
	close(t, "either way", float64(s.Low), -float64(s.High), 1e-9)
	if s.Expected != 0 && math.Abs(float64(s.Expected)) > 1 {
		t.Errorf("expected %v", s.Expected)
	}
	k, ok := r.Find(Kinder)
	if !ok || k.Of != "white" || k.With != "white" || k.Stress <= 0 {
		t.Errorf("kinder: %+v", k)
	}
	if r.Verdict != NotProven || r.Worst <= r.Limit {
		t.Errorf("%s, %v", r.Verdict, r.Worst)
	}
	// A stripe that shrinks far less pulls the clear glass beside it: there more
	// expansion is the kinder way.
	low := must(f.ParseStripe("x 5mm x 1mm, expansion 28e-7 /K"))(t)
	r = must(Problem{Clear: f.Clear, Body: sphere(63.5), Contents: contents.Contents{Stripes: []contents.Stripe{low}}}.Judge())(t)
	if k, ok := r.Find(Kinder); !ok || k.With != "borosilicate-33" || k.Stress >= 0 {
		t.Errorf("kinder: %+v", k)
	}
}

// A skin of soda-lime glass on borosilicate cracks; two units of white do not.
// The closed form of a thin skin on a thick body: E Δα ΔT/(1 − ν).
func TestJudge_cracks(t *testing.T) {
	f := clear33(t)
	for text, cracks := range map[string]bool{"soda-104 2mm": true, "white 1.5mm": false} {
		skin := must(f.ParseSkin(text))(t)
		r := must(Problem{Clear: f.Clear, Body: sphere(63.5), Contents: contents.Contents{Skin: &skin}}.Judge())(t)
		c, ok := r.Find(Cracks)
		if ok != cracks {
			t.Errorf("%s: %v, %v", text, ok, r.Findings)
		}
		if thin := 70e9 * (10.4e-6 - 3.3e-6) * float64(r.Falls.Fall) / 0.8; ok && math.Abs(float64(c.Stress)/thin-1) > 0.3 {
			t.Errorf("%s: %v, a thin skin %.0f MPa", text, c.Stress, thin/1e6)
		}
	}
}

// What cracks is over a limit wherever it lies, though the surface is pressed: a
// layer, and a core of glass. What is told and not judged is less than that, and a
// stone, which is no glass, comes loose. A core that is pulled from all sides
// carries 3K Δα ΔT / (1 + 3K/4G) in an endless glass of the same stiffness.
func TestJudge_cracksBuried(t *testing.T) {
	f := clear33(t)
	for _, c := range []struct {
		words   contents.Words
		cracks  string
		verdict Verdict
	}{
		{contents.Words{Layers: []string{"core clear 40mm", "soda-104 2mm", "clear"}}, "soda-104", Over},
		{contents.Words{Layers: []string{"core clear 40mm", "clear 2mm, expansion 39e-7 /K", "clear"}}, "", Within},
		{contents.Words{Inside: []string{"soda-104 10mm"}}, "soda-104", Over},
		{contents.Words{Inside: []string{"cz 10mm"}}, "", Within},
	} {
		r := must(Problem{Clear: f.Clear, Body: sphere(63.5), Contents: must(f.Parse(c.words))(t)}.Judge())(t)
		crack, _ := r.Find(Cracks)
		if crack.Of != c.cracks || r.Verdict != c.verdict || r.Worst > r.Limit {
			t.Errorf("%v: %s, surface %v, %+v", c.words, r.Verdict, r.Worst, crack)
		}
		if _, ok := r.Find(LayerTension); ok == (c.cracks != "") {
			t.Errorf("%v: what cracks is told of as if it might not, or the other is not told of: %+v", c.words, r.Findings)
		}
		if len(c.words.Inside) > 0 && c.cracks != "" {
			// E = 70 GPa, ν = 0.2: 3K = E/0.6, 3K/4G = 1
			if endless := 70e9 / 0.6 / 2 * (10.4e-6 - 3.3e-6) * float64(r.Falls.Fall); math.Abs(float64(crack.Stress)/endless-1) > 0.15 {
				t.Errorf("core %v, in an endless glass %.0f MPa", crack.Stress, endless/1e6)
			}
		}
	}
}

// What the program leaves counts against the limit; faster cooling sets hotter.
func TestJudge_program(t *testing.T) {
	p, r := stoneIn(t, 63.5, "opal 20mm")
	p.Already = p.filled().Limit - r.Worst + 1e5
	if got := must(p.Judge())(t); got.Verdict != NotProven {
		t.Errorf("%s with %v there already", got.Verdict, p.Already)
	}
	p.Already = 0
	p.Rate = unit.KelvinPerHour(120)
	fast := must(p.Judge())(t)
	d := fast.Setting.Sub(r.Setting)
	if d < 7 || d > 11 {
		t.Errorf("doubling the rate sets %v hotter, want some 8 to 9 K", d)
	}
	s, ok := r.Find(Stays)
	if !ok || math.Abs(s.Number-0.019) > 0.002 {
		t.Errorf("half the rate takes %g away, want 0.019", s.Number)
	}
	p.History = steady(unit.Celsius(640), unit.KelvinPerHour(120))
	if h := must(p.Judge())(t); math.Abs(float64(h.Setting.Sub(fast.Setting))) > 0.1 {
		t.Errorf("the same program as a history sets at %v, not %v", h.Setting, fast.Setting)
	}
}

// A softer partner sets last.
func TestJudge_softer(t *testing.T) {
	f := clear33(t)
	soft := must(glass.Load(strings.NewReader("[[glass]]\nname = \"my-soft\"\nlike = \"borosilicate-33\"\nannealing_point = \"540 °C\"\nexpansion = \"3.6e-6 /K\"\n"), "x"))(t)
	f.Glasses = soft
	skin := must(f.ParseSkin("my-soft 2mm"))(t)
	own := must(f.ParseSkin("clear 2mm, expansion 3.6e-6 /K"))(t)
	a := must(Problem{Clear: f.Clear, Body: sphere(40), Contents: contents.Contents{Skin: &skin}}.Judge())(t)
	b := must(Problem{Clear: f.Clear, Body: sphere(40), Contents: contents.Contents{Skin: &own}}.Judge())(t)
	if d := b.Setting.Sub(a.Setting); d < 17 || d > 23 {
		t.Errorf("%v lower, want some 20 K", d)
	}
	if _, ok := a.Find(SofterDecides); !ok {
		t.Error("nobody says that the softer one decides")
	}
}

func TestJudge_flat(t *testing.T) {
	f := clear33(t)
	layers := must(f.ParseLayers([]string{"core clear 4mm", "x, expansion 3.6e-6 /K"}))(t)
	p := Problem{Clear: f.Clear, Body: Body{sim.Slab, 8 * unit.Millimeter}, Contents: contents.Contents{Layers: layers}}
	r := must(p.Judge())(t)
	in, out := sandwichStress(Elastic{63.5e9, 0.2, 3.3e-6 * 1.07}, Elastic{63.5e9, 0.2, 3.6e-6 * 1.07}, 1, r.Falls.Fall)
	close(t, "outer", float64(r.at(OuterSurface).Hoop.Expected), float64(out), 1e-9)
	close(t, "core", float64(r.at(InCore).Hoop.Expected), float64(in), 1e-9)
	one := must(f.ParseSkin("x 1mm, expansion 3.6e-6 /K, one face"))(t)
	r = must(Problem{Clear: f.Clear, Body: Body{sim.Slab, 8 * unit.Millimeter}, Contents: contents.Contents{Skin: &one}}.Judge())(t)
	want := laminate([]ply{{7e-3, Elastic{63.5e9, 0.2, 3.3e-6 * 1.07}}, {1e-3, Elastic{63.5e9, 0.2, 3.6e-6 * 1.07}}}, r.Falls.Fall, false)
	close(t, "skin on one face", float64(r.Places[2].Hoop.Expected), float64(want[1].Upper), 1e-9)
	close(t, "bare face", float64(r.Places[3].Hoop.Expected), float64(want[0].Lower), 1e-9)
}

func TestJudge_unfit(t *testing.T) {
	f := clear33(t)
	inside := func(texts ...string) (c contents.Contents) {
		for _, s := range texts {
			c.Inside = append(c.Inside, must(f.ParseInside(s))(t))
		}
		return c
	}
	thick := contents.Contents{Layers: must(f.ParseLayers([]string{"core clear 40mm", "cobalt 20mm", "clear"}))(t)}
	skin := must(f.ParseSkin("white 30mm"))(t)
	for want, p := range map[string]Problem{
		"nothing in the piece":    {Body: sphere(50)},
		"layers thicker":          {Body: sphere(50), Contents: thick},
		"layers thicker than":     {Body: sphere(50), Contents: contents.Contents{Skin: &skin}},
		"reaches the surface":     {Body: sphere(50), Contents: inside("opal 10mm, 4mm deep")},
		"its middle lies":         {Body: sphere(50), Contents: inside("opal 50mm")},
		"30 mm deep":              {Body: sphere(50), Contents: inside("opal 5mm, 30mm deep")},
		"cannot all lie":          {Body: sphere(50), Contents: inside("3 x sphere 5mm of opal")},
		"two things":              {Body: sphere(50), Contents: inside("opal 5mm", "cz 4mm")},
		"above its melting point": {Body: sphere(50), Contents: inside("foil 0.05mm of silver")},
		"not in rods":             {Body: Body{sim.Cylinder, 0.03}, Contents: thick},
		"it melts at 962 °C, and": {Body: sphere(50), Contents: inside("silver 1mm")},
	} {
		p.Clear = f.Clear
		_, err := p.Judge()
		var unfit *FitError
		if !errors.As(err, &unfit) || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
	}
	p := Problem{Clear: f.Clear, Body: sphere(50), Contents: inside("foil 0.05mm of silver"), ClosedAt: unit.Celsius(900)}
	r := must(p.Judge())(t)
	if _, ok := r.Find(FoilRim); !ok {
		t.Error("nothing said of the rim")
	}
}

// A sheet of stone in the middle of a flat piece is a layer that must be dry.
func TestJudge_sheetOfStone(t *testing.T) {
	p := Problem{Clear: clear33(t).Clear, Body: Body{sim.Slab, 20 * unit.Millimeter}, Contents: contents.Contents{Layers: must(clear33(t).ParseLayers([]string{"core opal 4mm", "clear"}))(t)}}
	r := must(p.Judge())(t)
	if _, ok := r.Find(DryFirst); !ok || r.at(AtStone) != nil || r.at(InCore).Hoop.Expected >= 0 {
		t.Errorf("%+v", r)
	}
}

// Whatever is in the piece, the range holds its middle, and no number is lost.
func TestJudge_property(t *testing.T) {
	f := clear33(t)
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.Float64Range(10, 90).Draw(t, "size")
		form := rapid.SampledFrom([]sim.Form{sim.Sphere, sim.Slab}).Draw(t, "form")
		p := Problem{Clear: f.Clear, Body: Body{form, unit.Length(size) * unit.Millimeter}}
		name := rapid.SampledFrom([]string{"opal", "cz", "ruby", "fused-silica", "platinum"}).Draw(t, "stone")
		in, err := f.ParseInside(name + " 3mm")
		if err != nil {
			t.Fatal(err)
		}
		if rapid.Bool().Draw(t, "deep") {
			in.Depth = unit.Length(rapid.Float64Range(1.6, size/2).Draw(t, "depth")) * unit.Millimeter
		}
		p.Contents.Inside = []contents.Inside{in}
		if rapid.Bool().Draw(t, "skin") {
			skin, err := f.ParseSkin("cobalt 0.05mm")
			if err != nil {
				t.Fatal(err)
			}
			p.Contents.Skin = &skin
		}
		p.Rate = unit.KelvinPerHour(rapid.Float64Range(1, 2000).Draw(t, "rate"))
		r, err := p.Judge()
		if err != nil {
			t.Fatal(err)
		}
		for _, place := range append(r.Places, Place{Hoop: r.Pressure}) {
			for _, s := range []Range{place.Hoop, place.Radial} {
				if !(s.Low <= s.Expected && s.Expected <= s.High) || math.IsNaN(float64(s.High-s.Low)) {
					t.Fatalf("%s: %v", place.Kind, s)
				}
			}
		}
		if r.Setting.Less(r.SettingLow) || r.Verdict == 0 {
			t.Fatalf("%+v", r)
		}
	})
}

// The history at a depth, without samples that repeat a time.
func TestHistoryAt(t *testing.T) {
	samples := []sim.Sample{{Time: 0, Surface: 900, Center: 910}, {Time: 0, Surface: 1, Center: 1}, {Time: 60, Surface: 890, Center: 904}}
	h := HistoryAt(samples, 1)
	if len(h.Seconds) != 2 || h.Kelvin[0] != 900 || HistoryAt(samples, 0).Kelvin[1] != 904 {
		t.Errorf("%+v", h)
	}
}
