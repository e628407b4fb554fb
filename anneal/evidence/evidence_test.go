package evidence

import (
	"bytes"
	"compress/gzip"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lehr/testdata"
)

var update = flag.Bool("update", false, "write the embedded cases anew")

const data = "../../testdata"

// pack puts the texts of case files into one that package testdata reads, by name,
// without the notes that are for readers of the files.
func pack(names, texts []string) string {
	var b strings.Builder
	for i, name := range names {
		b.WriteString("\n#### " + name + "\n")
		for line := range strings.SplitSeq(texts[i], "\n") {
			if line = strings.TrimSuffix(line, "\r"); line != "" && line[0] != '#' && !strings.HasPrefix(line, "note = ") {
				b.WriteString(line + "\n")
			}
		}
	}
	return b.String()
}

// TestEmbedded: the embedded cases are those of the files.
func TestEmbedded(t *testing.T) {
	paths, err := filepath.Glob(filepath.Join(data, "cases", "*.toml"))
	if err != nil || len(paths) < 40 {
		t.Fatal(len(paths), err)
	}
	slices.Sort(paths)
	var names, texts []string
	for _, p := range paths {
		text, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		names, texts = append(names, strings.TrimSuffix(filepath.Base(p), ".toml")), append(texts, string(text))
	}
	want := pack(names, texts)
	if got, err := testdata.Packed(); err == nil && got == want {
		return
	}
	if !*update {
		t.Fatal("testdata/cases.gz is not what the files are: go test ./anneal/evidence -update")
	}
	var b bytes.Buffer
	zip, _ := gzip.NewWriterLevel(&b, gzip.BestCompression)
	zip.Write([]byte(want))
	zip.Close()
	if err := os.WriteFile(filepath.Join(data, "cases.gz"), b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestQuantities: every number of every case belongs to a quantity, and each
// rule is there for one.
func TestQuantities(t *testing.T) {
	list, err := testdata.Cases()
	if err != nil {
		t.Fatal(err)
	}
	asked, err := problems(list)
	if err != nil {
		t.Fatal(err)
	}
	used := map[string]bool{}
	for _, p := range asked {
		for key := range p.Expected {
			q, ok := quantityOf(p.Func, key)
			if !ok {
				t.Errorf("%s of %s belongs to no quantity", key, p.Func)
			}
			used[q.Name] = true
		}
	}
	for _, name := range Names() {
		if !used[name] {
			t.Errorf("no case is about %s", name)
		}
	}
	for _, q := range unlike {
		if !used[q.Name] || q == (Quantity{Name: q.Name, Unit: "%"}) {
			t.Errorf("%+v is a quantity like the others, or none", q)
		}
	}
	for _, word := range []string{"lag", "tension", "stress left", "soak", "published charts", "viscosity", "retardation", "infrared", "airflow"} {
		if some, err := About(list, word); err != nil || len(some) == 0 {
			t.Errorf("%s: %v", word, err)
		}
	}
	if _, err := About(list, "nothing like it"); err != ErrNoQuantity {
		t.Error(err)
	}
}
