package main

import (
	"bytes"
	"context"
	"fmt"
	"go/ast"
	"go/build"
	"go/format"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lehr/anneal/rule"
	"lehr/anneal/spread"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
	"lehr/glass"
)

const rootDir = "../.."

// arrows says, for each package, which packages of this module it may import, and
// names none that neither it nor its tests do. A new package needs a line here.
var arrows = map[string][]string{
	"glass/unit":               {},
	"glass/unit/near":          {},
	"glass/strict":             {"glass/unit/near"},
	"glass":                    {"glass/cases", "glass/unit", "glass/strict"},
	"glass/cases":              {},
	"glass/casetest":           {"glass/strict", "glass/cases"},
	"testdata":                 {"glass/cases", "glass/strict"},
	"anneal/evidence":          glassAnd("glass/cases", "glass/gather", "anneal/internal/parallel", "anneal/cost", "anneal/evening", "anneal/kiln", "anneal/kilnlog", "anneal/notebook", "anneal/piece", "anneal/polariscope", "anneal/rescue", "anneal/rule", "anneal/seal", "anneal/sim", "anneal/sim/axial", "anneal/sim/plane", "anneal/sim/study", "anneal/spread", "anneal/verify", "anneal/week", "safety/checklist", "safety/figure", "testdata"),
	"anneal/internal/parallel": {},
	"anneal/sim":               {"glass/cases", "glass/unit", "glass"},
	"anneal/formula":           {"glass/unit"},
	"anneal/finding":           {"glass/unit"},
	"cmd/lehr/words":           glassAnd("glass/strict", "anneal/seal", "anneal/seal/contents", "anneal/finding", "anneal/formula", "anneal/spread", "anneal/piece", "anneal/kiln", "anneal/verify", "anneal/kilnlog", "anneal/rescue"),
	"anneal/piece":             glassAnd("anneal/kiln", "anneal/evening", "anneal/seal", "anneal/seal/contents", "anneal/sim/axial", "glass/cases", "glass/strict", "anneal/sim", "anneal/sim/plane", "anneal/spread", "anneal/formula"),
	"anneal/kiln":              {"glass/cases", "glass/unit", "glass/strict"},
	"anneal/program":           {"glass/unit", "glass/strict", "anneal/kiln"},
	"anneal/rule":              glassAnd("glass/cases", "glass/strict", "anneal/finding", "anneal/formula", "anneal/piece", "anneal/kiln", "anneal/program"),
	"anneal/verify":            glassAnd("glass/cases", "anneal/seal", "anneal/seal/contents", "anneal/internal/parallel", "anneal/finding", "anneal/sim", "anneal/sim/plane", "anneal/sim/axial", "anneal/spread", "anneal/formula", "anneal/kiln", "anneal/evening", "anneal/piece", "anneal/program", "anneal/rule"),
	"anneal/plan":              glassAnd("glass/strict", "anneal/seal", "anneal/seal/contents", "anneal/internal/parallel", "anneal/finding", "anneal/sim", "anneal/spread", "anneal/formula", "anneal/kiln", "anneal/piece", "anneal/program", "anneal/rule", "anneal/verify"),
	"anneal/shortest":          glassAnd("anneal/internal/parallel", "anneal/finding", "anneal/kiln", "anneal/piece", "anneal/program", "anneal/sim", "anneal/verify", "anneal/plan"),
	"anneal":                   {"anneal/kiln", "anneal/piece", "anneal/program", "anneal/verify", "anneal/plan", "anneal/shortest"},
	"safety/source":            {},
	"safety/source/sourcetest": {"safety/source"},
	"safety/emergency":         {"glass/unit/near", "safety/source"},
	"safety/quantity":          {"glass/unit"},
	"safety/figure":            {"glass/cases", "glass/unit", "safety/quantity", "safety/source"},
	"safety/checklist":         {"glass/cases", "glass/unit", "glass/unit/near", "glass/strict", "safety/quantity", "safety/source", "safety/figure", "safety/emergency"},
	"cmd/lehr/picture":         {"glass/strict", "glass/unit"},
	"cmd/lehr/outfile":         {},
	"cmd/lehr/session":         {"anneal/kiln", "anneal/piece", "safety/checklist"},
	"cmd/lehr/report":          {"anneal/evidence", "anneal/finding", "anneal/formula", "anneal/kiln", "anneal/piece", "anneal/plan", "anneal/program", "anneal/seal", "anneal/seal/contents", "anneal/verify", "glass/strict", "glass/unit", "safety/checklist", "cmd/lehr/picture", "cmd/lehr/session", "cmd/lehr/term", "cmd/lehr/words"},
	"cmd/lehr/web":             glassAnd("anneal/evening", "anneal/kiln", "anneal/outage", "anneal/piece", "anneal/plan", "anneal/program", "anneal/verify", "glass/strict", "safety/checklist", "safety/emergency", "cmd/lehr/picture", "cmd/lehr/report", "cmd/lehr/session", "cmd/lehr/term", "cmd/lehr/words"),
	"cmd/lehr/desk":            {"anneal/kiln", "anneal/shortest", "anneal/verify", "glass/strict", "glass/unit", "cmd/lehr/outfile", "cmd/lehr/report", "cmd/lehr/term"},
	"cmd/lehr/flags":           glassAnd("anneal/kiln", "anneal/kilnlog", "anneal/piece", "anneal/plan", "anneal/program", "anneal/rule", "anneal/shortest", "anneal/verify", "glass/strict", "safety/checklist", "cmd/lehr/desk", "cmd/lehr/outfile", "cmd/lehr/picture", "cmd/lehr/report", "cmd/lehr/session", "cmd/lehr/term", "cmd/lehr/web", "cmd/lehr/words"),
	"cmd/lehr/notes":           glassAnd("anneal/kiln", "anneal/kilnlog", "anneal/notebook", "anneal/piece", "anneal/polariscope", "anneal/program", "anneal/spread", "anneal/verify", "glass/gather", "glass/strict", "cmd/lehr/desk", "cmd/lehr/flags", "cmd/lehr/outfile", "cmd/lehr/recordfile", "cmd/lehr/report", "cmd/lehr/session", "cmd/lehr/term"),
	"cmd/lehr/bench":           glassAnd("anneal/cost", "anneal/kiln", "anneal/notebook", "anneal/piece", "anneal/plan", "anneal/polariscope", "anneal/sim/plane", "anneal/spread", "anneal/verify", "anneal/week", "glass/gather", "glass/strict", "cmd/lehr/desk", "cmd/lehr/flags", "cmd/lehr/notes", "cmd/lehr/outfile", "cmd/lehr/report", "cmd/lehr/term", "cmd/lehr/web", "cmd/lehr/words"),
	"cmd/lehr/checks":          {"anneal/kiln", "anneal/piece", "glass/strict", "glass/unit", "safety/checklist", "safety/emergency", "safety/figure", "safety/quantity", "safety/source", "cmd/lehr/desk", "cmd/lehr/flags", "cmd/lehr/outfile", "cmd/lehr/report", "cmd/lehr/session", "cmd/lehr/term"},
	"cmd/lehr/misfit":          glassAnd("anneal/piece", "anneal/polariscope", "anneal/seal", "anneal/seal/contents", "anneal/sim", "cmd/lehr/desk", "cmd/lehr/flags", "cmd/lehr/report", "cmd/lehr/term", "cmd/lehr/words"),
	"cmd/lehr/nights":          glassAnd("anneal/finding", "anneal/kiln", "anneal/kilnlog", "anneal/outage", "anneal/piece", "anneal/plan", "anneal/program", "anneal/rescue", "anneal/verify", "glass/strict", "cmd/lehr/desk", "cmd/lehr/flags", "cmd/lehr/picture", "cmd/lehr/report", "cmd/lehr/sharing", "cmd/lehr/term", "cmd/lehr/web", "cmd/lehr/words"),
	"cmd/lehr/reference":       glassAnd("anneal/evidence", "anneal/finding", "anneal/formula", "anneal/kiln", "anneal/piece", "anneal/program", "anneal/rule", "glass/strict", "testdata", "cmd/lehr/desk", "cmd/lehr/flags", "cmd/lehr/report", "cmd/lehr/term", "cmd/lehr/words"),
	"cmd/lehr/topics":          {"glass/unit", "safety/checklist", "cmd/lehr/term"},
	"cmd/lehr/sharing":         {"anneal/kiln", "anneal/piece", "anneal/plan", "anneal/verify", "cmd/lehr/checks", "cmd/lehr/desk", "cmd/lehr/flags", "cmd/lehr/report", "cmd/lehr/term", "cmd/lehr/words"},
	"cmd/lehr/term":            {"glass/strict"},
	"cmd/lehr/internal/pack":   {},
	"cmd/lehr":                 {"anneal/kiln", "anneal/piece", "anneal/plan", "anneal/shortest", "anneal/verify", "glass/strict", "glass/unit", "safety/checklist", "safety/emergency", "cmd/lehr/bench", "cmd/lehr/checks", "cmd/lehr/desk", "cmd/lehr/flags", "cmd/lehr/misfit", "cmd/lehr/nights", "cmd/lehr/notes", "cmd/lehr/outfile", "cmd/lehr/reference", "cmd/lehr/report", "cmd/lehr/sharing", "cmd/lehr/term", "cmd/lehr/topics", "cmd/lehr/web"},
	"glass/gather":             {"glass/cases", "glass/unit", "glass/strict"},
	"anneal/polariscope":       {"glass/cases", "glass/unit", "glass/strict"},
	"anneal/notebook":          {"glass/cases", "glass/unit", "glass/strict"},
	"anneal/cost":              {"glass/cases", "glass/unit"},
	"anneal/week":              {"glass/cases", "glass/unit"},
	"cmd/lehr/recordfile":      {"cmd/lehr/outfile", "glass/strict"},
	"anneal/kilnlog":           {"glass/cases", "glass/unit", "glass/strict", "anneal/kiln"},
	"anneal/evening":           {"glass/cases", "glass/unit", "glass/strict", "anneal/sim", "anneal/kiln"},
	"anneal/rescue":            {"glass/cases", "glass", "anneal/sim", "anneal/kiln", "glass/unit"},
	"anneal/outage":            glassAnd("anneal/finding", "anneal/internal/parallel", "anneal/kiln", "anneal/piece", "anneal/program", "anneal/rescue", "anneal/verify"),
	"anneal/seal":              glassAnd("glass/cases", "anneal/seal/contents", "anneal/sim"),
	"anneal/seal/contents":     glassAnd("glass/strict"),
	"anneal/sim/axial":         {"glass/cases", "anneal/sim/study", "anneal/sim"},
	"anneal/sim/plane":         {"glass/cases", "anneal/sim/study", "anneal/sim"},
	"anneal/sim/study":         {"glass/unit", "glass/cases", "anneal/sim"},
	"anneal/spread":            {"glass/cases", "glass/unit", "glass"},

	"cmd/lehr/internal/roomtest": glassAnd("anneal/kiln", "anneal/piece", "anneal/plan", "anneal/verify"),
}

// glassAnd adds the glass itself and its units, which most packages know.
func glassAnd(more ...string) []string { return append([]string{"glass/unit", "glass"}, more...) }

// outside says which packages may import a library that has its one place.
var outside = map[string]*regexp.Regexp{
	"github.com/BurntSushi/toml":        regexp.MustCompile(`^(glass|glass/strict|glass/cases)$`),
	"github.com/spf13/cobra":            regexp.MustCompile(`^cmd/`),
	"github.com/spf13/pflag":            regexp.MustCompile(`^cmd/`),
	"github.com/olekukonko/tablewriter": regexp.MustCompile(`^cmd/`),
	"os":                                regexp.MustCompile(`^(cmd/.*|glass/casetest)$`),
	"log":                               regexp.MustCompile(`^$`),
	"github.com/rogpeppe/go-internal":   regexp.MustCompile(`^$`),
	"pgregory.net/rapid":                regexp.MustCompile(`^$`),
	"net":                               regexp.MustCompile(`^cmd/`),
	"net/http":                          regexp.MustCompile(`^cmd/`),
	"math/rand":                         regexp.MustCompile(`^$`),
	"math/rand/v2":                      regexp.MustCompile(`^$`),
	"rsc.io/qr":                         regexp.MustCompile(`^cmd/lehr$`),
	"gonum.org/v1/plot":                 regexp.MustCompile(`^cmd/lehr/picture$`),
}

// TestArrows walks the imports of every package and fails on an arrow that
// points the wrong way, and on one that is drawn and not there.
func TestArrows(t *testing.T) {
	dirs := goDirs(t)
	for dir := range arrows {
		if !slices.Contains(dirs, dir) {
			t.Errorf("arrows has a line for %s, which is no package", dir)
		}
	}
	for _, dir := range dirs {
		pkg, err := build.ImportDir(filepath.Join(rootDir, dir), 0)
		if err != nil {
			if _, none := err.(*build.NoGoError); none {
				continue
			}
			t.Errorf("%s: %v", dir, err)
			continue
		}
		allowed, known := arrows[dir]
		if !known {
			t.Errorf("package %s: say in arrows what it may import", dir)
			continue
		}
		all := slices.Concat(pkg.Imports, pkg.TestImports, pkg.XTestImports)
		for _, inner := range allowed {
			if !slices.Contains(all, "lehr/"+inner) {
				t.Errorf("%s does not import %s: take it out of arrows", dir, inner)
			}
		}
		for _, path := range pkg.Imports {
			if inner, ok := strings.CutPrefix(path, "lehr/"); ok {
				if !slices.Contains(allowed, inner) {
					t.Errorf("%s imports %s: the arrow points the wrong way", dir, inner)
				}
				continue
			}
			for library, where := range outside {
				if (path == library || strings.HasPrefix(path, library+"/") && strings.Contains(library, ".")) && !where.MatchString(dir) {
					t.Errorf("%s imports %s, which only %s may", dir, path, where)
				}
			}
		}
	}
}

// TestFormatted runs gofmt, and keeps every file at a length one can read.
func TestFormatted(t *testing.T) {
	eachGoFile(t, func(path string, _ *ast.File, src []byte) {
		if want, err := format.Source(src); err != nil || !bytes.Equal(src, want) {
			t.Errorf("%s: not formatted by gofmt (%v)", path, err)
		}
		if n := bytes.Count(src, []byte("\n")); n > 400 {
			t.Errorf("%s: %d lines, split it", path, n)
		}
	})
}

// TestMemory_isNeverAlone: no rule and no limit rests on memory alone, and what
// every computed surface rests on does not either.
func TestMemory_isNeverAlone(t *testing.T) {
	for _, r := range rule.All() {
		if r.Status == "memory" && r.Support == "" {
			t.Errorf("rule %s rests on memory alone", r.Name)
		}
	}
	for _, g := range glass.Builtin() {
		if g.Emissivity.Status == glass.Memory {
			t.Errorf("%s: emissivity %s rests on memory alone", g.Name, g.Emissivity.Text)
		}
		for _, l := range spread.Limits() {
			if !slices.ContainsFunc(l.For(g), func(s spread.Support) bool { return s.Status != glass.Memory }) {
				t.Errorf("%s: the limit %s rests on memory alone", g.Name, l.Key)
			}
		}
	}
}

// TestWords keeps promises nobody can make out of what the user reads.
func TestWords(t *testing.T) {
	banned := regexp.MustCompile(`(?i)\b(safe to|ok to|compliant)\b`)
	check := func(where, text string) {
		if m := banned.FindString(text); m != "" {
			t.Errorf("%s says %q: %s", where, m, text)
		}
	}
	spoken := regexp.MustCompile(`^(cmd|anneal|safety)/`)
	eachGoFile(t, func(path string, file *ast.File, _ []byte) {
		if !spoken.MatchString(filepath.ToSlash(path)) || strings.HasSuffix(path, "_test.go") {
			return
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				if s, err := strconv.Unquote(lit.Value); err == nil {
					check(path, s)
				}
			}
			return true
		})
	})
	eachFile(t, func(path string) {
		if ext := filepath.Ext(path); spoken.MatchString(path) && ext != ".go" && ext != ".md" {
			text, err := os.ReadFile(filepath.Join(rootDir, path))
			if err != nil {
				t.Fatal(err)
			}
			check(path, string(text))
		}
	})
}

// TestLayout keeps the top level as it is.
func TestLayout(t *testing.T) {
	known := []string{".ci", ".git", ".gitignore", "DEVELOPERS.md", "LICENSE", "README.md",
		"anneal", "cmd", "glass", "go.mod", "go.sum", "safety", "testdata"}
	ignored := []string{"lehr", "lehr.exe"} // .gitignore
	entries, err := os.ReadDir(rootDir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !slices.Contains(known, e.Name()) && !slices.Contains(ignored, e.Name()) {
			t.Errorf("%s: has no place at the top level", e.Name())
		}
	}
	for _, name := range []string{".ci/run", "DEVELOPERS.md", "LICENSE", "README.md", "testdata/loads/mixed.toml", "testdata/script"} {
		if _, err := os.Stat(filepath.Join(rootDir, name)); err != nil {
			t.Error(err)
		}
	}
}

// TestScript_wording: a script compares whole answers with files that -update
// rewrites, and numbers by values; what it asks of single lines stays below 250.
func TestScript_wording(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(rootDir, "testdata", "script", "*.txtar"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no scripts: %v", err)
	}
	n := 0
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		n += len(regexp.MustCompile(`(?m)^(\[[a-z]+\] )?!? ?stdout`).FindAll(text, -1))
	}
	if n >= 250 {
		t.Errorf("%d lines of the scripts ask stdout for a pattern, want fewer than 250: see cmp and values in script_test.go", n)
	}
}

// TestDevelopers keeps DEVELOPERS.md short enough to be read.
func TestDevelopers(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(rootDir, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(text, []byte("\n")); n > 200 {
		t.Errorf("DEVELOPERS.md: %d lines, at most 200", n)
	}
	for i := 1; i <= 12; i++ {
		if !bytes.Contains(text, []byte(fmt.Sprintf("\n## %d. ", i))) {
			t.Errorf("DEVELOPERS.md: no section %d", i)
		}
	}
}

// TestDevelopers_map: every package stands in the map, and every module that
// go.mod requires in the list of dependencies, with a license.
func TestDevelopers_map(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(rootDir, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, after, _ := strings.Cut(string(text), "\n## 3. ")
	rooms, _, _ := strings.Cut(after, "\n## 4. ")
	for _, dir := range goDirs(t) {
		if !strings.Contains(rooms, "`"+dir+"`") {
			t.Errorf("DEVELOPERS.md: package %s is not in the map", dir)
		}
	}
	mod, err := os.ReadFile(filepath.Join(rootDir, "go.mod"))
	if err != nil {
		t.Fatal(err)
	}
	_, list, _ := strings.Cut(string(text), "\n## 12. ")
	direct := regexp.MustCompile(`(?m)^\t(\S+) v\S+$`).FindAllStringSubmatch(string(mod), -1)
	if len(direct) < 5 {
		t.Fatalf("%d direct requirements in go.mod", len(direct))
	}
	for _, m := range direct {
		name := strings.TrimPrefix(strings.TrimPrefix(m[1], "github.com/"), "codeberg.org/")
		row := regexp.MustCompile("(?m)^\\|.*`" + regexp.QuoteMeta(name) + "`.*\\|.*\\| .*(MIT|BSD|Apache|MPL).* \\|$")
		if !row.MatchString(list) {
			t.Errorf("DEVELOPERS.md: module %s is not in the list, or has no license there", name)
		}
	}
}

// runHere runs one command line in this process.
func runHere(args ...string) (stdout, stderr string, code int) {
	var out, words bytes.Buffer
	a := &app{desk.New(strings.NewReader(""), &out, &words, term.Terminal{Width: term.MaxWidth, UTF8: true})}
	code = a.run(context.Background(), args)
	return out.String(), words.String(), code
}

// eachFile calls f with every file of the repository, by its path from the top.
func eachFile(t *testing.T, f func(path string)) {
	t.Helper()
	err := filepath.WalkDir(rootDir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if d.Name() == ".git" {
				return fs.SkipDir
			}
			return nil
		}
		rel, err := filepath.Rel(rootDir, path)
		if err != nil {
			return err
		}
		f(filepath.ToSlash(rel))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// eachGoFile calls f with every Go file, parsed.
func eachGoFile(t *testing.T, f func(path string, file *ast.File, src []byte)) {
	t.Helper()
	eachFile(t, func(path string) {
		if filepath.Ext(path) != ".go" {
			return
		}
		src, err := os.ReadFile(filepath.Join(rootDir, path))
		if err != nil {
			t.Fatal(err)
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, src, parser.SkipObjectResolution)
		if err != nil {
			t.Error(err)
			return
		}
		f(path, file, src)
	})
}

// goDirs returns the directories that hold Go files, without duplicates.
func goDirs(t *testing.T) []string {
	t.Helper()
	var dirs []string
	eachFile(t, func(path string) {
		if dir := filepath.ToSlash(filepath.Dir(path)); filepath.Ext(path) == ".go" && !slices.Contains(dirs, dir) {
			dirs = append(dirs, dir)
		}
	})
	return dirs
}
