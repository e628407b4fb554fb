package picture

import (
	_ "embed"

	"lehr/glass/strict"

	_ "codeberg.org/go-fonts/liberation/liberationsansregular" // for its license: font.gz is its font, packed to half the size
)

//go:embed font.gz
var packedFont []byte

// letterData returns the letters of all pictures, a TrueType font.
func letterData() ([]byte, error) {
	text, err := strict.Unpack(packedFont)
	return []byte(text), err
}
