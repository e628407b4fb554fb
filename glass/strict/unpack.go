package strict

import (
	"bytes"
	"compress/gzip"
	"io"
)

// Unpack returns the text of a file that is part of the program and is packed there
// (RFC 1952): a third to a fifth of its size.
func Unpack(packed []byte) (string, error) {
	zip, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return "", err
	}
	text, err := io.ReadAll(zip)
	return string(text), err
}
