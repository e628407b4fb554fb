// Package testdata holds the check cases, and what came out of them last, for
// the program that carries them with it.
package testdata

import (
	_ "embed"
	"fmt"
	"strings"

	"lehr/glass/cases"
	"lehr/glass/strict"
)

//go:embed cases.gz
var packed []byte

// Stored is what came out of them when the page validation.md was last written.
//
//go:embed validation.tsv
var Stored string

// Cases returns every case of the folder cases, file by file in order of name.
func Cases() ([]cases.Case, error) {
	text, err := Packed()
	if err != nil {
		return nil, fmt.Errorf("the embedded cases: %w", err)
	}
	return unpack(text)
}

// mark begins the line that names a file in the embedded text.
const mark = "\n#### "

// unpack returns the cases of such a text: the files one after the other, each
// under its mark.
func unpack(text string) ([]cases.Case, error) {
	var out []cases.Case
	for i, part := range strings.Split(text, mark) {
		if i == 0 {
			continue
		}
		name, body, _ := strings.Cut(part, "\n")
		list, err := cases.Parse(name, []byte(body))
		if err != nil {
			return nil, err
		}
		out = append(out, list...)
	}
	return out, nil
}

// Packed returns the text that is embedded.
func Packed() (string, error) {
	return strict.Unpack(packed)
}
