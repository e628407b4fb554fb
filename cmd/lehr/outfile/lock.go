package outfile

import (
	"errors"
	"time"
)

// ErrLocked says that another run has held a folder all the while that this one waited.
var ErrLocked = errors.New("another run of lehr has been writing there for a long time")

// lockWait is how long a run waits for another that writes into the same folder,
// which takes milliseconds.
var lockWait = 10 * time.Second

// Lock keeps other runs that ask for it from writing into a folder until release is
// called or the program ends, in whatever way. Where the file system knows no locks,
// it keeps nobody.
//
// Errors: [ErrLocked], and that of a folder that cannot be opened.
func Lock(folder string) (release func(), err error) {
	for start := time.Now(); ; time.Sleep(5 * time.Millisecond) {
		release, state, err := lock(folder)
		switch {
		case err != nil:
			return nil, err
		case state != held:
			return release, nil
		case time.Since(start) > lockWait:
			return nil, ErrLocked
		}
	}
}
