//go:build !unix

package main

import "time"

var started = time.Now()

// cpuTime is the time that has passed, where nothing tells the processor's.
func cpuTime() time.Duration { return time.Since(started) }
