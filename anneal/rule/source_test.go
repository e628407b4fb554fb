package rule

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var (
	sourceLine  = regexp.MustCompile(`(?m)^Source: ([a-z0-9-]+), [^\[]*\[(verified|corroborated|memory|derived|common practice)\b([^\]]|\n)*\]\.$`)
	checkedLine = regexp.MustCompile(`(?m)^Checked: (testdata/cases/[a-z0-9-]+\.toml)$`)
	derivedIn   = regexp.MustCompile(`(?:re-derived|derived) in ([a-z_]+_test\.go)`)
)

// Every exported formula names its source and its status, what it is valid for,
// and the file of cases that checks it.
func TestFormulasCiteTheirSource(t *testing.T) {
	files, err := filepath.Glob("../formula/*.go")
	if err != nil || len(files) == 0 {
		t.Fatal("no formulas", err)
	}
	sources := loadRules().sources
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
			if !ok || !fn.Name.IsExported() || fn.Recv != nil {
				continue
			}
			functions++
			doc := fn.Doc.Text()
			if !strings.Contains(doc, "\nValid: ") {
				t.Errorf("%s: %s has no Valid", name, fn.Name.Name)
			}
			m := sourceLine.FindStringSubmatch(doc)
			if m == nil {
				t.Errorf("%s: %s has no Source with a status", name, fn.Name.Name)
			} else if _, ok := sources[m[1]]; !ok {
				t.Errorf("%s: %s: source %q is not in the list", name, fn.Name.Name, m[1])
			}
			m = checkedLine.FindStringSubmatch(doc)
			if m == nil {
				t.Errorf("%s: %s has no Checked", name, fn.Name.Name)
			} else if text, err := os.ReadFile(filepath.Join("../..", m[1])); err != nil {
				t.Errorf("%s: %s: %v", name, fn.Name.Name, err)
			} else if len(text) == 0 {
				t.Errorf("%s: %s: %s is empty", name, fn.Name.Name, m[1])
			}
			if m := derivedIn.FindStringSubmatch(doc); m != nil {
				if _, err := os.Stat(filepath.Join("../formula", m[1])); err != nil {
					t.Errorf("%s: %s: %v", name, fn.Name.Name, err)
				}
			}
		}
	}
	if functions < 40 {
		t.Errorf("only %d formulas found", functions)
	}
}

// Every source is used by a formula, a rule or a case.
func TestSources_areUsed(t *testing.T) {
	var text strings.Builder
	for _, pattern := range []string{"../formula/*.go", "rules.toml", "../../testdata/cases/*.toml"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			b, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			text.Write(b)
		}
	}
	for key, s := range loadRules().sources {
		uses := strings.Count(text.String(), key) - strings.Count(text.String(), "[source."+key+"]")
		if uses == 0 {
			t.Errorf("source %s is not used", key)
		}
		if s.Cite == "" || s.Read == "" {
			t.Errorf("source %s says too little: %+v", key, s)
		}
	}
}
