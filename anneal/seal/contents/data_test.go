package contents

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lehr/glass"
	"lehr/glass/casetest"
	"lehr/glass/strict"
)

// The table holds together: every source is used, every status is known, what a
// kind needs is there, and names do not collide with those of glasses.
func TestTable(t *testing.T) {
	text, err := strict.Unpack(packedMaterials)
	if err != nil {
		t.Fatal(err)
	}
	casetest.Packed(t, "materials.toml", text)
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	formulas, err := filepath.Glob("../*.go")
	if err != nil || len(formulas) == 0 {
		t.Fatalf("no formulas: %v", err)
	}
	for _, f := range append(slices.Concat(files, formulas), "../../../testdata/cases/inclusions.toml", "../../../testdata/cases/seals.toml") {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		text += string(b)
	}
	for key, s := range Sources() {
		if strings.Count(text, key)-strings.Count(text, "[source."+key+"]") == 0 {
			t.Errorf("source %s is not used", key)
		}
		if s.Cite == "" || s.Read == "" {
			t.Errorf("source %s says too little: %+v", key, s)
		}
	}
	statuses := []glass.Status{glass.Verified, glass.Corroborated, glass.Memory, glass.Derived, glass.CommonPractice}
	for _, m := range Materials() {
		if m.Name == "" || m.Title == "" {
			t.Errorf("%+v: has no name or title", m)
		}
		if _, err := glass.Find(m.Name); err == nil {
			t.Errorf("%s: is a glass too", m.Name)
		}
		for key, v := range map[string]Value{"expansion": m.Expansion, "stiffness": m.Young, "poisson": m.Poisson, "melting": m.Melting} {
			switch {
			case v.Known() && !slices.Contains(statuses, v.Status):
				t.Errorf("%s: %s: status %q", m.Name, key, v.Status)
			case v.Known() && v.Source == "" && (v.Status == glass.Verified || v.Status == glass.Corroborated):
				t.Errorf("%s: %s: is %s and has no source", m.Name, key, v.Status)
			case !v.Known() && m.Kind != Color && key != "melting", !v.Known() && m.Kind == Metal:
				t.Errorf("%s: no %s", m.Name, key)
			}
		}
		if m.Kind == Stone && m.Diffusivity <= 0 {
			t.Errorf("%s: no diffusivity", m.Name)
		}
	}
	for _, c := range Cautions(true) {
		if c.ID == "" || c.Text == "" || !slices.Contains(statuses, c.Status) {
			t.Errorf("caution %+v", c)
		}
	}
	if len(Cautions(true)) <= len(Cautions(false)) {
		t.Error("a stone that holds water has no caution of its own")
	}
}
