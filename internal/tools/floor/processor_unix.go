//go:build unix

package main

import (
	"syscall"
	"time"
)

// processor is the processor time that this process has used so far, on all cores.
func processor() time.Duration {
	var usage syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &usage) != nil {
		return 0
	}
	return time.Duration(usage.Utime.Nano() + usage.Stime.Nano())
}
