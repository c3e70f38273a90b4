//go:build unix

package main

import (
	"os"
	"syscall"
)

// peak is the most memory that a process held, in bytes.
func peak(of *os.ProcessState) int64 {
	usage, ok := of.SysUsage().(*syscall.Rusage)
	if !ok {
		return 0
	}
	return int64(usage.Maxrss) * memoryUnit
}
