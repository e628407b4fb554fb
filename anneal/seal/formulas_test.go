package seal

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"lehr/anneal/seal/contents"
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
			} else if _, ok := contents.Sources()[m[1]]; !ok {
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
