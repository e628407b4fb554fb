package outfile

import (
	"errors"
	"testing"
	"time"
)

// TestLock: a folder that is held is not taken by another until it is let go, and
// nothing stays in it.
func TestLock(t *testing.T) {
	dir := t.TempDir()
	release, err := Lock(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func(was time.Duration) { lockWait = was }(lockWait)
	lockWait = 20 * time.Millisecond
	if _, err := Lock(dir); !errors.Is(err, ErrLocked) {
		t.Errorf("a held folder: %v", err)
	}
	release()
	again, err := Lock(dir)
	if err != nil {
		t.Fatal(err)
	}
	again()
	onlyFiles(t, dir)
	if _, err := Lock(dir + "/none"); err == nil {
		t.Error("a folder that is not there was locked")
	}
}
