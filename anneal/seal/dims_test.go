package seal

import (
	"testing"

	"lehr/anneal/seal/contents"
	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// What lies in a piece dims it as the published kinds of sphere do: a mirror to
// a quarter, a black core to half of the way are no darker than dark glass.
func TestDims(t *testing.T) {
	f := clear33(t)
	for _, c := range []struct {
		words contents.Words
		form  sim.Form
		want  Dimming
		by    string
	}{
		{contents.Words{Inside: contents.Texts{"garnet 20mm, expansion 8e-6 /K"}}, sim.Sphere, AsClear, ""},
		{contents.Words{Inside: contents.Texts{"cubic-zirconia 10mm"}}, sim.Sphere, AsClear, ""},
		{contents.Words{Inside: contents.Texts{"opal 20mm"}}, sim.Sphere, AsDark, "opal"},
		{contents.Words{Inside: contents.Texts{"opal 40mm"}}, sim.Sphere, AsOpaque, "opal"},
		{contents.Words{Inside: contents.Texts{"opal 10mm, 12mm deep"}}, sim.Sphere, AsDark, "opal"},
		{contents.Words{Inside: contents.Texts{"foil 0.05mm of platinum"}}, sim.Sphere, AsDark, "platinum"},
		{contents.Words{Inside: contents.Texts{"foil 0.05mm of platinum, 25mm deep"}}, sim.Sphere, AsDark, "platinum"},
		{contents.Words{Inside: contents.Texts{"foil 0.05mm of platinum, 16mm deep"}}, sim.Sphere, AsOpaque, "platinum"},
		{contents.Words{Layers: []string{"core clear 26mm", "black 2mm", "clear"}}, sim.Sphere, AsDark, "black"},
		{contents.Words{Layers: []string{"core clear 40mm", "black 2mm", "clear"}}, sim.Sphere, AsOpaque, "black"},
		{contents.Words{Layers: []string{"core clear 40mm", "cobalt 2mm", "clear"}}, sim.Sphere, AsOpaque, "cobalt"},
		{contents.Words{Layers: []string{"core clear 40mm", "pink 2mm", "clear"}}, sim.Sphere, AsClear, ""},
		{contents.Words{Layers: []string{"core black 20mm", "clear"}}, sim.Sphere, AsDark, "black"},
		{contents.Words{Layers: []string{"core clear", "black 2mm", "clear 25mm"}}, sim.Sphere, AsDark, "black"},
		{contents.Words{Skin: "black 1mm"}, sim.Sphere, AsOpaque, "black"},
		{contents.Words{Skin: "black 1mm"}, sim.Cylinder, AsOpaque, "black"},
		{contents.Words{Skin: "black 1mm, one face"}, sim.Slab, AsDark, "black"},
		{contents.Words{Stripe: contents.Texts{"black 3mm x 1mm"}}, sim.Sphere, AsDark, "black"},
		{contents.Words{Stripe: contents.Texts{"black 3mm x 1mm"}, Skin: "white 1mm"}, sim.Sphere, AsOpaque, "white"},
	} {
		d, by := (Body{c.form, 60 * unit.Millimeter}).Dims(must(f.Parse(c.words))(t))
		if d != c.want || by != c.by {
			t.Errorf("%v: %v by %q, want %v by %q", c.words, d, by, c.want, c.by)
		}
	}
}

// With a temperature of its own at each depth a seal sets by that of its place:
// a skin that is cold never sets, a stone beneath it does.
func TestJudge_setsAtItsPlace(t *testing.T) {
	p, _ := stoneIn(t, 60, "opal 10mm, 20mm deep")
	p.History = steady(unit.Celsius(660), unit.KelvinPerHour(60))
	all := must(p.Judge())(t)
	p.At = func(depth float64) History {
		rate := unit.KelvinPerHour(60)
		if depth > 0.5 {
			rate = unit.KelvinPerHour(600)
		}
		return steady(unit.Celsius(660), rate)
	}
	deep := must(p.Judge())(t)
	if deep.Setting != all.Setting {
		t.Errorf("at a depth of a third of the radius: sets at %v, the whole at %v", deep.Setting, all.Setting)
	}
	p.Contents = must(clear33(t).Parse(contents.Words{Inside: contents.Texts{"opal 10mm, 10mm deep"}}))(t)
	near := must(p.Judge())(t)
	if d := near.Setting.Sub(all.Setting); d < 20 || d > 40 { // 9 K for each doubling of the rate
		t.Errorf("cooled ten times as fast: sets %v higher", d)
	}
}
