package casetest

import (
	"os"
	"testing"
)

// Packed checks that the text which the program carries packed, as NAME.gz, is that of
// the file that people read and edit.
func Packed(t testing.TB, file, carried string) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if string(text) != carried {
		t.Errorf("%s changed: pack it again, as by gzip -9nc (or zopfli -c) %s", file, file)
	}
}
