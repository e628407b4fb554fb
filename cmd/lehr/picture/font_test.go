package picture

import (
	"bytes"
	"testing"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
)

// TestFont: the packed font is the one of the library, byte by byte.
func TestFont(t *testing.T) {
	if got, err := letterData(); err != nil || !bytes.Equal(got, liberationsansregular.TTF) {
		t.Errorf("%d bytes, %v", len(got), err)
	}
}
