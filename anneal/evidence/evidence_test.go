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

var (
	update = flag.Bool("update", false, "write the embedded cases, and the page of what comes out of them")
	grown  = flag.Bool("grown", false, "with -update: also where a bias or a spread has grown")
)

const data = "../../testdata"

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
	want := testdata.Pack(names, texts)
	if got, err := testdata.Packed(); err == nil && got == want {
		return
	}
	if !*update {
		t.Fatal("testdata/cases.gz is not what the files are: go test ./anneal/evidence -update, twice")
	}
	var b bytes.Buffer
	zip, _ := gzip.NewWriterLevel(&b, gzip.BestCompression)
	zip.Write([]byte(want))
	zip.Close()
	if err := os.WriteFile(filepath.Join(data, "cases.gz"), b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}
