package seal

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lehr/glass"
	"lehr/glass/casetest"
	"lehr/glass/strict"
)

var (
	sourceLine  = regexp.MustCompile(`(?m)^Source: ([a-z0-9-]+), [^\[]*\[(verified|corroborated|memory|derived|common practice)\b([^\]]|\n)*\]\.$`)
	checkedLine = regexp.MustCompile(`(?m)^Checked: (testdata/cases/[a-z0-9-]+\.toml)$`)
	derivedIn   = regexp.MustCompile(`(?:re-derived|derived) in ([a-z_]+_test\.go)`)
)

// Every exported formula names its source and its status, what it is valid for,
// and the file of cases that checks it.
func TestFormulasCiteTheirSource(t *testing.T) {
	files, err := filepath.Glob("formula_*.go")
	if err != nil {
		t.Fatal(err)
	}
	functions := 0
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || fn.Recv != nil || !fn.Name.IsExported() && !strings.Contains(fn.Doc.Text(), "Valid") {
				continue
			}
			functions++
			doc := fn.Doc.Text()
			if !strings.Contains(doc, "\nValid: ") {
				t.Errorf("%s: %s has no Valid", name, fn.Name.Name)
			}
			if m := sourceLine.FindStringSubmatch(doc); m == nil {
				t.Errorf("%s: %s has no Source with a status", name, fn.Name.Name)
			} else if _, ok := Sources()[m[1]]; !ok {
				t.Errorf("%s: %s: source %q is not in the list", name, fn.Name.Name, m[1])
			}
			if m := checkedLine.FindStringSubmatch(doc); m == nil {
				t.Errorf("%s: %s has no Checked", name, fn.Name.Name)
			} else if text, err := os.ReadFile(filepath.Join("..", "..", m[1])); err != nil || len(text) == 0 {
				t.Errorf("%s: %s: %v", name, fn.Name.Name, err)
			}
			if m := derivedIn.FindStringSubmatch(doc); m != nil {
				if _, err := os.Stat(m[1]); err != nil {
					t.Errorf("%s: %s: %v", name, fn.Name.Name, err)
				}
			}
		}
	}
	if functions < 19 {
		t.Errorf("only %d formulas found", functions)
	}
}

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
	for _, f := range append(files, "../../testdata/cases/inclusions.toml", "../../testdata/cases/seals.toml") {
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
