//go:build !linux

package main

import "runtime/debug"

// use uses memory and lets go of it.
func use(bytes int) {
	touch(make([]byte, bytes))
	debug.FreeOSMemory()
}
