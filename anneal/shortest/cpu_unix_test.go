//go:build unix

package shortest

import (
	"syscall"
	"time"
)

// cpuTime is what this process has had of the processors until now.
func cpuTime() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
