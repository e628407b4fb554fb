package desk

import (
	"fmt"
	"os"
	"runtime"
	"syscall"
	"testing"
)

// brokenWriter fails like the writing end of a pipe nobody reads, or like a
// full disk.
type brokenWriter struct{ err error }

func (w brokenWriter) Write([]byte) (int, error) { return 0, &os.PathError{Op: "write", Err: w.err} }

func TestOutput(t *testing.T) {
	gone := syscall.EPIPE
	if runtime.GOOS == "windows" {
		gone = 109
	}
	for _, c := range []struct {
		err  error
		want string
	}{{gone, "<nil>"}, {syscall.ENOSPC, "standard output: " + syscall.ENOSPC.Error()}} {
		o := &output{w: brokenWriter{c.err}}
		fmt.Fprint(o, "text")
		if got := fmt.Sprint(o.Flush()); got != c.want {
			t.Errorf("%v: %s, want %s", c.err, got, c.want)
		}
		if err := o.Flush(); err != nil {
			t.Errorf("%v: the second flush says %v", c.err, err)
		}
	}
}
