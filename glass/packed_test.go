package glass

import (
	"os"
	"testing"
)

// TestTable_packed: the table that the program carries is the one that people read
// and edit.
func TestTable_packed(t *testing.T) {
	text, err := os.ReadFile("table.toml")
	if err != nil {
		t.Fatal(err)
	}
	if string(text) != tableText() {
		t.Error("table.toml changed: pack it again, as by gzip -9nc (or zopfli -c) table.toml > table.gz")
	}
}
