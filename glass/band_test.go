package glass

import (
	"math"
	"strings"
	"testing"

	"lehr/glass/unit"
)

// TestAbsorption: the bands of the built-in glass that has them, as in the
// table of the radiation study, and the conductivity beside them.
func TestAbsorption(t *testing.T) {
	g, err := Find("borosilicate-33")
	if err != nil {
		t.Fatal(err)
	}
	want := [][4]float64{{2.1, 4, 2.2, 7}, {2.68, 30, 27, 40}, {3, 560, 280, 1100}, {3.5, 200, 100, 400}, {4.2, 740, 370, 1500}, {5, 2600, 1300, 5200}}
	if len(g.Absorption) != len(want) {
		t.Fatalf("%d bands", len(g.Absorption))
	}
	for i, w := range want {
		b := g.Absorption[i]
		for j, got := range [4]float64{b.To * 1e6, b.Number, b.Low, b.High} {
			if math.Abs(got-w[j]) > 1e-9*w[j] {
				t.Errorf("band %d: %v, want %v", i, b, w)
			}
		}
	}
	if got := g.Absorption[1].Over; got != "2.1 µm to 2.68 µm" {
		t.Errorf("over %q", got)
	}
	// The study's own table of the conductivity without radiation.
	for celsius, k := range map[float64]float64{27: 1.11, 127: 1.25, 227: 1.33, 327: 1.39, 427: 1.43, 527: 1.46, 627: 1.48} {
		if got := g.ConductivityPhonon.At(unit.Celsius(celsius).Kelvin()); math.Abs(got-k) > 0.005 {
			t.Errorf("%g °C: %.4g W/m/K, want %g", celsius, got, k)
		}
	}
	for _, g := range Builtin() {
		at := unit.Celsius(25).Kelvin()
		if k := g.ConductivityPhonon.At(at); math.Abs(k/g.Conductivity.At(at)-1) > 0.03 {
			t.Errorf("%s: %.3g W/m/K without radiation at 25 °C, %.3g with", g.Name, k, g.Conductivity.At(at))
		}
		for _, celsius := range []float64{200, 400, 500} {
			if k := unit.Celsius(celsius).Kelvin(); g.ConductivityPhonon.At(k) > 1.03*g.Conductivity.At(k) {
				t.Errorf("%s: conducts %.3g W/m/K without radiation at %g °C, %.3g with", g.Name, g.ConductivityPhonon.At(k), celsius, g.Conductivity.At(k))
			}
		}
	}
}

func TestLoad_absorption(t *testing.T) {
	const bands = `absorption = [
  { to = "2500 nm", value = "0.1 /cm", status = "memory" },
  { to = "5 µm", value = "500 /m", range = "200 to 900 /m", status = "memory" },
]
`
	table, err := loadText(shortest + bands)
	if err != nil {
		t.Fatal(err)
	}
	a := table.Glasses[0].Absorption
	if len(a) != 2 || math.Abs(a[0].To-2.5e-6) > 1e-15 || a[0].Number != 10 || a[0].Low != 10 || a[1].Low != 200 || a[1].High != 900 {
		t.Errorf("%+v", a)
	}
	for _, row := range [][3]string{ // replaced, by, the message
		{`"5 µm"`, `"2 µm"`, "must be longer than that of the band before"},
		{`"5 µm"`, `"5"`, "has no unit"},
		{`"500 /m"`, `"500"`, "has no unit"},
		{`"500 /m"`, `"0 /m"`, "must be from 0.01 /m"},
		{`"500 /m"`, `"1000 /m"`, "must enclose 1000 /m"},
		{`"200 to 900 /m"`, `"high"`, "is not a range"},
		{`"200 to 900 /m"`, `"200-900"`, "has no unit"},
		{`status = "memory" },
]`, `},
]`, "has no status"},
		{`status = "memory" },
]`, `status = "verified" },
]`, "has no source"},
	} {
		text := strings.Replace(shortest+bands, row[0], row[1], 1)
		if _, err := loadText(text); err == nil || !strings.Contains(err.Error(), row[2]) || !strings.Contains(err.Error(), "my.toml:") {
			t.Errorf("%s: error %v", row[1], err)
		}
	}
	if _, err := loadText(shortest + "absorption = []\n"); err == nil || !strings.Contains(err.Error(), "must have 1 to 40 bands") {
		t.Errorf("no bands: %v", err)
	}
	table, err = loadText("[[glass]]\nname = \"my-boro\"\nlike = \"borosilicate-33\"\n")
	if err != nil {
		t.Fatal(err)
	}
	g := table.Glasses[0]
	if len(g.Absorption) != 6 || !strings.Contains(g.Absorption[0].Note, "taken from borosilicate-33") || g.Absorption[0].Source != "" || !g.InfraredIndex.Known() || g.ConductivityPhonon.At(800) < 1.4 {
		t.Errorf("like: %+v, %v", g.Absorption, g.InfraredIndex)
	}
}
