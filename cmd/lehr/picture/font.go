package picture

import (
	"bytes"
	"compress/gzip"
	_ "embed"
	"io"

	_ "codeberg.org/go-fonts/liberation/liberationsansregular" // for its license: font.gz is its font, packed to half the size
)

//go:embed font.gz
var packedFont []byte

// letterData returns the letters of all pictures, a TrueType font.
func letterData() ([]byte, error) {
	zip, err := gzip.NewReader(bytes.NewReader(packedFont))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(zip)
}
