package outfile

import (
	"errors"
	"os"
)

// ErrIrregular says of a name that it leads to a folder, a pipe, a device or the like.
var ErrIrregular = errors.New("is no regular file")

// Open opens a regular file for reading and waits for nobody, even if a pipe takes its
// place meanwhile.
//
// Errors: [ErrIrregular], and those of the file system.
func Open(name string) (*os.File, error) {
	info, err := os.Stat(name) // first: some devices act when they are opened
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, ErrIrregular
	}
	return os.OpenFile(name, os.O_RDONLY|noWait, 0)
}
