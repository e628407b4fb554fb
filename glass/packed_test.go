package glass

import (
	"bytes"
	"compress/gzip"
	"flag"
	"os"
	"testing"
)

var update = flag.Bool("update", false, "pack table.toml anew")

// TestTable_packed: the table that the program carries is the one that people read
// and edit.
func TestTable_packed(t *testing.T) {
	text, err := os.ReadFile("table.toml")
	if err != nil {
		t.Fatal(err)
	}
	if string(text) == tableText() {
		return
	}
	if !*update {
		t.Fatal("table.gz is not table.toml: go test ./glass -run TestTable_packed -update")
	}
	var buf bytes.Buffer
	zip, err := gzip.NewWriterLevel(&buf, gzip.BestCompression)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := zip.Write(text); err != nil {
		t.Fatal(err)
	}
	if err := zip.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("table.gz", buf.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}
