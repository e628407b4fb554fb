package checklist

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"lehr/safety/emergency"
	"lehr/safety/source"
	"lehr/safety/source/sourcetest"
)

// TestGrounds reads what the doc comments of the figures and rules say of their
// sources: no limit, constant or formula rests on memory, every figure names its
// source and where it is checked, and every source is used.
func TestGrounds(t *testing.T) {
	used := map[string]bool{}
	for _, r := range rules {
		for _, k := range r.Sources {
			used[k] = true
		}
	}
	for _, l := range emergency.All() {
		var keys []string
		for _, s := range l.Sources {
			used[s.Key] = true
			keys = append(keys, s.Key)
		}
		for _, fault := range sourcetest.Faults(l.Status, keys...) {
			t.Errorf("%s: %s", l.ID, fault)
		}
	}
	files, _ := filepath.Glob("../*/*.go")
	checked := 0
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") || strings.Contains(name, "sourcetest") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range f.Comments {
			text := strings.Join(strings.Fields(c.Text()), " ")
			for _, s := range source.All() {
				used[s.Key] = used[s.Key] || strings.Contains(text, s.Key)
			}
			if m := regexp.MustCompile(`[^.;]*\[memory[^\]]*\]`).FindString(text); m != "" {
				t.Errorf("%s rests on memory: %s", name, m)
			}
		}
		if strings.Contains(name, "figure/") {
			checked += checkFormulas(t, name, f)
		}
	}
	if checked < 20 {
		t.Errorf("only %d formulas were looked at", checked)
	}
	for _, s := range source.All() {
		if s.Cite == "" || s.Read == "" || !used[s.Key] {
			t.Errorf("source %q lacks text or is used by no rule and no figure", s.Key)
		}
	}
}

// checkFormulas wants a source and a check of every formula of a file: of every
// function whose comment says where it is valid. It returns how many there are.
func checkFormulas(t *testing.T, name string, f *ast.File) (checked int) {
	t.Helper()
	for _, d := range f.Decls {
		fn, ok := d.(*ast.FuncDecl)
		if !ok || !strings.Contains(fn.Doc.Text(), "Valid") {
			continue
		}
		checked++
		doc := fn.Doc.Text()
		if !strings.Contains(doc, "ource:") && !strings.Contains(doc, "and source") || !strings.Contains(doc, "Checked:") {
			t.Errorf("%s: %s has no Source or Checked line", name, fn.Name.Name)
		}
		for _, m := range regexp.MustCompile(`testdata/cases/[a-z-]+\.toml`).FindAllString(doc, -1) {
			if _, err := os.Stat(filepath.Join("../..", m)); err != nil {
				t.Error(err)
			}
		}
	}
	return checked
}

// TestFoot: the foot of a page names the US federal rules only where a line
// rests on one; that of several pages says each sentence once.
func TestFoot(t *testing.T) {
	for _, p := range (Facts{}).Pages() {
		cites := false
		for _, l := range p.Lines {
			for _, s := range l.Sources {
				cites = cites || strings.Contains(s.Cite, "29 CFR") || strings.Contains(s.Cite, "30 CFR")
			}
		}
		if cites != strings.Contains(strings.Join(p.Foot, " "), federalNote) {
			t.Errorf("%s: cites a federal rule: %t, foot %q", p.Point, cites, p.Foot)
		}
	}
	seen := map[string]bool{}
	for _, s := range Foot((Facts{}).Pages()) {
		if seen[s] {
			t.Errorf("twice: %s", s)
		}
		seen[s] = true
	}
}
