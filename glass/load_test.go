package glass

import (
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"lehr/glass/strict"
	"lehr/glass/unit"
)

func loadText(text string) (*Table, error) { return Load(strings.NewReader(text), "my.toml") }

// shortest is a glass that leaves nothing out, as bare text.
const shortest = `[[glass]]
name = "my-boro"
strain_point = "510 °C"
annealing_point = "1040 °F"
softening_point = "821 °C"
expansion = "3.3e-6 /K"
density = "2.23 g/cm³"
young_modulus = "63 GPa"
poisson = 0.2
conductivity = "1.2 W/m/K"
specific_heat = "1000 J/kg/K"
emissivity = 0.9
`

// TestTable reads the embedded table as a whole, with the checks of a person's
// file, and compares with what is read section by section.
func TestTable(t *testing.T) {
	whole, err := (&loader{name: "table.toml"}).load(strings.NewReader(tableText()))
	if err != nil {
		t.Fatal(err)
	}
	parts := Builtin()
	if len(whole.Glasses) != len(parts) || len(parts) != 11 {
		t.Fatalf("%d glasses, %d sections", len(whole.Glasses), len(parts))
	}
	for i, g := range whole.Glasses {
		if g.Name != parts[i].Name || g.Name != sections()[i].name {
			t.Errorf("glass %d: %s, %s, %s", i, g.Name, parts[i].Name, sections()[i].name)
		}
		for _, key := range keys() {
			a, _ := g.Value(key)
			if b, _ := parts[i].Value(key); a != b {
				t.Errorf("%s: %s: %v, in its section %v", g.Name, key, a, b)
			}
		}
	}
	if len(whole.Sources) != len(Sources()) || len(Sources()) < 20 {
		t.Errorf("%d sources, %d", len(whole.Sources), len(Sources()))
	}
}

func TestLoad_shortest(t *testing.T) {
	table, err := loadText(shortest)
	if err != nil {
		t.Fatal(err)
	}
	g := table.Glasses[0]
	for key, want := range map[string]float64{"expansion": 3.3e-6, "density": 2230, "young_modulus": 63e9, "poisson": 0.2,
		"conductivity": 1.2, "specific_heat": 1000, "emissivity": 0.9, "annealing_point": unit.Celsius(560).Kelvin()} {
		v, ok := g.Value(key)
		if !ok || math.Abs(v.Number-want) > 1e-9*want || v.Status != Given {
			t.Errorf("%s: %+v, want %g", key, v, want)
		}
	}
	if g.Relaxation != "six-term" || g.SurfaceFollows || g.ExpansionLiquid.Known() || g.Title != "my-boro" {
		t.Errorf("%+v", g)
	}
	if g.Conductivity.At(900) != 1.2 || g.Conductivity.Check(unit.Celsius(900)) != nil {
		t.Error("a constant has no range")
	}
	if got, err := table.Find("My Boro"); err != nil || got != g {
		t.Error("not found in its table:", err)
	}
	if got, err := table.Find("boro"); err != nil || got.Name != "borosilicate-33" {
		t.Error("built-in not found from a table:", err)
	}
}

// TestLoad_spellings: the ways in which data sheets write a value.
func TestLoad_spellings(t *testing.T) {
	for _, c := range []struct {
		key, text    string
		want, spread float64
	}{
		{"expansion", `"3.3 × 10⁻⁶ K⁻¹"`, 3.3e-6, 0},
		{"expansion", `"(3.3 ± 0.1) x 10^-6 /K"`, 3.3e-6, 0.1e-6},
		{"expansion", `"33e-7 1/K"`, 3.3e-6, 0},
		{"expansion", `"3.3e-6 /°C"`, 3.3e-6, 0},
		{"conductivity", `"1.2 W/(m·K)"`, 1.2, 0},
		{"conductivity", `"1.2 W m⁻¹ K⁻¹"`, 1.2, 0},
		{"conductivity", `"1.2 W/mK"`, 1.2, 0},
		{"specific_heat", `"0.83 J/(g K)"`, 830, 0},
		{"density", `"2230 ± 20 kg/m³"`, 2230, 20},
		{"density", `"2.23 g/cm3"`, 2230, 0},
		{"young_modulus", `"63 kN/mm²"`, 63e9, 0},
		{"young_modulus", `"64000 MPa"`, 64e9, 0},
		{"annealing_point", `"560 ± 10 °C"`, 833.15, 10},
		{"annealing_point", `"1040 +/- 18 °F"`, 833.15, 10},
		{"annealing_point", `"833.15 K"`, 833.15, 0},
		{"stress_optic", `"40 nm/cm/MPa"`, 4e-12, 0},
		{"stress_optic", `"4.0 ± 0.15 Brewster"`, 4e-12, 0.15e-12},
		{"stress_optic", `"4 TPa⁻¹"`, 4e-12, 0},
	} {
		table, err := loadText("[[glass]]\nname = \"x\"\nlike = \"boro\"\n" + c.key + " = " + c.text + "\n")
		if err != nil {
			t.Errorf("%s = %s: %v", c.key, c.text, err)
			continue
		}
		v, _ := table.Glasses[0].Value(c.key)
		if math.Abs(v.Number-c.want) > 1e-9*c.want || math.Abs(v.Spread-c.spread) > 1e-9*c.want {
			t.Errorf("%s = %s: got %g ± %g", c.key, c.text, v.Number, v.Spread)
		}
	}
}

// TestLoad_like: one value is enough, and the fixed points move together.
func TestLoad_like(t *testing.T) {
	table, err := loadText("[[glass]]\nname = \"my-104\"\nlike = \"104\"\nannealing_point = \"522 °C\"\nexpansion = \"10.2e-6 /K\"\n")
	if err != nil {
		t.Fatal(err)
	}
	g, soda := table.Glasses[0], mustFind(t, "soda-104")
	if g.Like != "soda-104" || g.Strain.Temp().Sub(soda.Strain.Temp()) != 10 || g.Work.Temp().Sub(soda.Work.Temp()) != 10 {
		t.Errorf("strain point %s, working point %s", g.Strain.Temp(), g.Work.Temp())
	}
	if g.Strain.Status != Derived || !strings.Contains(g.Strain.Note, "moved") || !g.Garage.Low.IsZero() {
		t.Errorf("%+v %+v", g.Strain, g.Garage)
	}
	if g.Expansion.Status != Given || g.Density.Number != soda.Density.Number || g.Density.Note != "taken from soda-104" {
		t.Errorf("%+v %+v", g.Expansion, g.Density)
	}
	if g.Conductivity.At(700) != soda.Conductivity.At(700) {
		t.Error("conductivity is not that of soda-104")
	}
}

// TestLoad_likeMovesWithAnyPoint: whichever fixed point is given, the others
// keep their distance from it; a softening point alone used to leave them.
func TestLoad_likeMovesWithAnyPoint(t *testing.T) {
	soda := mustFind(t, "soda-104")
	for _, key := range []string{"strain_point", "annealing_point", "softening_point", "working_point"} {
		base, _ := soda.Value(key)
		table, err := loadText(fmt.Sprintf("[[glass]]\nname = \"x\"\nlike = \"soda-104\"\n%s = \"%.2f °C\"\n", key, base.Temp().Celsius()+15))
		if err != nil {
			t.Errorf("%s: %v", key, err)
			continue
		}
		for _, other := range []string{"strain_point", "annealing_point", "softening_point", "working_point"} {
			a, _ := table.Glasses[0].Value(other)
			b, _ := soda.Value(other)
			if d := a.Number - b.Number; math.Abs(d-15) > 0.01 {
				t.Errorf("%s given 15 K up: %s moved by %.2f K", key, other, d)
			} else if other != key && !strings.Contains(a.Note, "moved with the "+strings.ReplaceAll(key, "_", " ")) {
				t.Errorf("%s: note %q", other, a.Note)
			}
		}
	}
}

// TestValue_knownZero: a ratio of zero is a number.
func TestValue_knownZero(t *testing.T) {
	table, err := loadText(strings.Replace(shortest, "poisson = 0.2", "poisson = 0", 1))
	if err != nil {
		t.Fatal(err)
	}
	if v := table.Glasses[0].Poisson; !v.Known() || v.Number != 0 {
		t.Errorf("%+v", v)
	}
	if (Value{}).Known() {
		t.Error("nothing is known")
	}
}

// TestLoad_pinned: a file that pins the whole model for a textbook case.
func TestLoad_pinned(t *testing.T) {
	const text = `[[glass]]
name = "textbook"
relaxation = "maxwell"
surface = "follows kiln"
viscosity = { A = -2.601, B = 4330.9, T0 = "246.1 °C" }
expansion = "9e-6 /K"
density = "2500 kg/m³"
young_modulus = "70 GPa"
poisson = 0
conductivity = "1 W/m/K"
specific_heat = "1000 J/kg/K"
`
	table, err := loadText(text)
	if err != nil {
		t.Fatal(err)
	}
	g := table.Glasses[0]
	curves, err := g.Curves()
	if err != nil || len(curves) != 1 || curves[0].Name != givenCurve || !g.SurfaceFollows || g.Relaxation != "maxwell" {
		t.Fatalf("%v %v %+v", curves, err, g)
	}
	if got := g.Anneal.Temp().Celsius(); math.Abs(got-(246.1+4330.9/14.601)) > 1e-9 || g.Anneal.Status != Derived {
		t.Errorf("annealing point %g °C", got)
	}
	if err := g.Need("poisson"); err != nil {
		t.Error("a ratio of zero is known:", err)
	}
	table, err = loadText(strings.Replace(text, `{ A = -2.601, B = 4330.9, T0 = "246.1 °C" }`, `{ A = 12, B = 0 }`, 1))
	if err != nil {
		t.Fatal(err)
	}
	curves, _ = table.Glasses[0].Curves()
	for _, c := range []float64{-200, 20, 2000} {
		if l, err := curves[0].Log10(unit.Celsius(c)); err != nil || l != 12 {
			t.Errorf("constant viscosity at %g °C: %g, %v", c, l, err)
		}
	}
	table, err = loadText(strings.Replace(shortest, "name", "viscosity = \"strain-anneal-soften\"\nname", 1))
	if err != nil {
		t.Fatal(err)
	}
	if curves, err := table.Glasses[0].Curves(); err != nil || len(curves) != 1 || curves[0].Name != strainAnnealSoften {
		t.Errorf("%v %v", curves, err)
	}
}

// TestLoad_refuses gives the words for each fault.
func TestLoad_refuses(t *testing.T) {
	replace := func(old, new string) string { return strings.Replace(shortest, old, new, 1) }
	for _, c := range []struct{ name, text, want, hint string }{
		{"bare number", replace(`"510 °C"`, `510`), `my.toml:3: strain_point 510: has no unit`, `write "510 °C" or "510 °F"`},
		{"bare text", replace(`"63 GPa"`, `"63"`), `my.toml:8: young_modulus 63: has no unit`, `write "63 GPa" or "63 psi"`},
		{"bare coefficient of a sheet", replace(`"3.3e-6 /K"`, `"104"`), `my.toml:6: expansion 104: has no unit`, `write "104e-7 /K"`},
		{"bare in a table", replace(`"63 GPa"`, `{ value = 63, status = "memory" }`), `my.toml:8: young_modulus 63: has no unit`, ""},
		{"order", replace(`"510 °C"`, `"565 °C"`), `my.toml:3: strain_point 565 °C: must be below annealing_point 1040 °F`, ""},
		{"order, working point", shortest + "working_point = \"800 °C\"\n", `my.toml:5: softening_point 821 °C: must be below working_point 800 °C`, ""},
		{"no curve", replace(`"821 °C"`, `"600 °C"`), `my.toml:4: glass "my-boro": viscosity curve strain-anneal-soften: no falling curve passes through 510 °C, 560 °C and 600 °C; the middle one is too high`, "check the fixed points against the maker's sheet"},
		{"missing", replace("young_modulus = \"63 GPa\"\n", ""), `my.toml:1: glass "my-boro": no Young's modulus, so stress cannot be checked`,
			`add young_modulus to my.toml, or like = "borosilicate-33" to take what is missing from there`},
		{"all missing", "[[glass]]\nname = \"x\"\n", `my.toml:1: glass "x": no strain point, annealing point, softening point, expansion, density, conductivity, specific heat, Young's modulus, Poisson's ratio and no emissivity, so`, ""},
		{"unknown key", replace("density", "desnity"), `my.toml:7: desnity: is not a key of this file`, "did you mean density?"},
		{"no name", replace(`name = "my-boro"`, ""), `my.toml:1: glass 1: has no name`, `write name = "my-clear"`},
		{"bad name", replace("my-boro", "My Boro"), `my.toml:2: name My Boro: must be of small letters, digits, hyphens and points, at most 40`, ""},
		{"our name", replace("my-boro", "float"), `my.toml:2: name float: is what lehr calls float`, "choose another name"},
		{"our trade word", replace("my-boro", "boro"), `my.toml:2: name boro: is what lehr calls borosilicate-33`, "choose another name"},
		{"twice", shortest + shortest, `my.toml:14: glass 2: name my-boro: is already a name of glass my-boro`, ""},
		{"wrong unit", replace(`"2.23 g/cm³"`, `"2.23 lb"`), `my.toml:7: density 2.23 lb: has an unknown unit lb`, `write "2.23 g/cm³"`},
		{"no number", replace(`"3.3e-6 /K"`, `"low"`), `my.toml:6: expansion low: is not an expansion`, ""},
		{"slip of a power", replace(`"3.3e-6 /K"`, `"33 /K"`), `my.toml:6: expansion 33 /K: must be from 1e-8 /K to 1e-4 /K`, ""},
		{"unit where none is", replace("poisson = 0.2", `poisson = "0.2 GPa"`), `my.toml:9: poisson 0.2 GPa: has a unit, and ratio has none`, ""},
		{"zero", replace(`"3.3e-6 /K"`, `"0 /K"`), `my.toml:6: expansion 0 /K: must be from`, ""},
		{"comma", replace(`"63 GPa"`, `"63,5 GPa"`), `my.toml:8: young_modulus 63,5 GPa: has a comma; decimals take a point`, ""},
		{"no status", replace(`"63 GPa"`, `{ value = "63 GPa" }`), `my.toml:8: young_modulus: has no status`, ""},
		{"unknown status", replace(`"63 GPa"`, `{ value = "63 GPa", status = "sure" }`), `my.toml:8: young_modulus: status sure: is unknown`, ""},
		{"given is not claimed", replace(`"63 GPa"`, `{ value = "63 GPa", status = "given" }`), `my.toml:8: young_modulus: status given: is unknown`, ""},
		{"verified by nothing", replace(`"63 GPa"`, `{ value = "63 GPa", status = "verified" }`), `my.toml:8: young_modulus: is verified, and has no source`, ""},
		{"unresolved source", replace(`"63 GPa"`, `{ value = "63 GPa", status = "verified", source = "shet" }`) + "[source.sheet]\ncite = \"Sheet\"\n",
			`my.toml:8: young_modulus: source shet: is not in the file`, "did you mean sheet?"},
		{"unused source", shortest + "[source.sheet]\ncite = \"Sheet\"\n", `my.toml:13: source sheet: is used by no value`, ""},
		{"source without words", shortest + "[source.sheet]\nread = \"2026-11-25\"\n", `my.toml:13: source sheet: has no cite`, ""},
		{"practice with source", replace(`"63 GPa"`, `{ value = "63 GPa", status = "common practice", source = "sheet" }`), `my.toml:8: young_modulus: is common practice, and has a source`, ""},
		{"two values, none in use", replace(`"63 GPa"`, `["63 GPa", "64 GPa"]`), `my.toml:8: young_modulus: has 2 values, and 0 of them have use = true`, ""},
		{"no values", replace(`"63 GPa"`, `[]`), `my.toml:8: young_modulus: has no value`, ""},
		{"formula of a constant", replace(`"63 GPa"`, `{ polynomial = [63], status = "memory" }`), `my.toml:8: young_modulus: may have one value or, for conductivity and specific_heat, one formula`, ""},
		{"formula without range", replace(`"1.2 W/m/K"`, `{ polynomial = [1.1, 0.001], status = "memory" }`), `my.toml:10: conductivity: has a formula without the range it holds for`, ""},
		{"formula gone negative", replace(`"1.2 W/m/K"`, `{ polynomial = [1.1, -0.01], over = "20-600 °C", status = "memory" }`), `my.toml:10: conductivity: is -0.`, ""},
		{"range backwards", replace(`"1.2 W/m/K"`, `{ value = "1.2 W/m/K", over = "600-20 °C", status = "memory" }`), `my.toml:10: conductivity: over 600-20 °C: must run from cold to hot`, ""},
		{"relaxation", replace("name", "relaxation = \"fast\"\nname"), `my.toml:2: relaxation fast: must be "maxwell" or "six-term"`, ""},
		{"viscosity name", replace("name", "viscosity = \"a\"\nname"), `my.toml:2: viscosity a: must be`, ""},
		{"viscosity without T0", replace("name", "viscosity = { A = 1, B = 2 }\nname"), `my.toml:2: viscosity: T0 : must be a temperature with its unit`, `write T0 = "94.9 °C"`},
		{"viscosity T0 bare", replace("name", "viscosity = { A = 1, B = 2, T0 = 5 }\nname"), `my.toml:2: viscosity: T0 5: must be a temperature with its unit`, ""},
		{"surface", replace("name", "surface = \"hot\"\nname"), `my.toml:2: surface hot: can only be "follows kiln"`, ""},
		{"like nothing", "[[glass]]\nname = \"x\"\nlike = \"soda-140\"\n", `my.toml:3: like soda-140: no built-in glass has this name`, "did you mean soda-104?"},
		{"like, out of order", "[[glass]]\nname = \"x\"\nlike = \"soda-104\"\nstrain_point = \"520 °C\"\nannealing_point = \"512 °C\"\n", `my.toml:4: strain_point 520 °C: must be below annealing_point 512 °C`, ""},
		{"like, two points that disagree", "[[glass]]\nname = \"x\"\nlike = \"borosilicate-33\"\nstrain_point = \"520 °C\"\nsoftening_point = \"820 °C\"\n", `my.toml:5: softening_point 820 °C: lies `,
			"give annealing_point too: the other points then move with it"},
		{"second of two", shortest + "[[glass]]\nname = \"b\"\nlike = \"boro\"\ndensity = 2\n", `my.toml:16: glass 2: density 2: has no unit`, ""},
		{"nothing", "# empty\n", `my.toml: has no [[glass]]`, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := loadText(c.text)
			var e *strict.Error
			if !errors.As(err, &e) {
				t.Fatalf("got %v", err)
			}
			if !strings.HasPrefix(e.Error(), c.want) {
				t.Errorf("got  %s\nwant %s", e, c.want)
			}
			if c.hint != "" && e.Hint() != c.hint {
				t.Errorf("hint %s\nwant %s", e.Hint(), c.hint)
			}
			if e.Line > 0 && e.Context() == "" {
				t.Error("no context")
			}
		})
	}
}

func TestLoad_missingIsTyped(t *testing.T) {
	_, err := loadText("[[glass]]\nname = \"x\"\n")
	var m *MissingError
	if !errors.As(err, &m) || m.Glass != "x" || m.File != "my.toml" {
		t.Errorf("%v", err)
	}
}

// FuzzTable: no text makes Load panic, and what it accepts is finite and has a
// falling viscosity.
func FuzzTable(f *testing.F) {
	f.Add(shortest)
	f.Add("[[glass]]\nname = \"x\"\nlike = \"104\"\nviscosity = { A = -3, B = 4000, T0 = \"200 °C\", over = \"400-900 °C\" }\n")
	f.Add("[[glass]]\nname = \"x\"\nlike = \"bk7\"\nspecific_heat = { sharp_ginther = { a = 2, b = 1e-3, c = 700 }, over = \"0-600 °C\", status = \"memory\", spread = \"5 %\" }\n")
	f.Add("[[glass]]\nname = \"x\"\nlike = \"fused-silica\"\nexpansion = [ { value = \"1 ± 1e-6 /K\", status = \"memory\", use = true }, \"2e-6 /K\" ]\ngarage = \"500-565 °C\"\n")
	if text, err := os.ReadFile("table.toml"); err == nil {
		f.Add(string(text[:6000]))
	}
	f.Fuzz(func(t *testing.T, text string) {
		table, err := loadText(text)
		if err != nil {
			if strings.ContainsAny(err.Error(), "\n") {
				t.Errorf("error of two lines: %q", err)
			}
			return
		}
		for _, g := range table.Glasses {
			for _, key := range keys() {
				if v, ok := g.Value(key); ok && (math.IsNaN(v.Number+v.Spread) || math.IsInf(v.Number+v.Spread, 0) || v.Spread < 0) {
					t.Errorf("%s %+v", key, v)
				}
			}
			curves, err := g.Curves()
			if err != nil {
				t.Fatalf("accepted without curves: %v", err)
			}
			for _, c := range curves {
				cold, err1 := c.Log10(c.Low)
				hot, err2 := c.Log10(c.High)
				if err1 != nil || err2 != nil || math.IsNaN(cold) || math.IsInf(cold, 0) || cold < hot {
					t.Errorf("%+v: %g to %g, %v %v", c, cold, hot, err1, err2)
				}
			}
			for _, k := range []float64{0, 300, 1e4} {
				if x := g.Conductivity.At(k) + g.SpecificHeat.At(k); !(x > 0 && x < 1e5) {
					t.Errorf("at %g K: %g", k, x)
				}
			}
		}
	})
}
