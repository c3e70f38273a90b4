package main

import (
	"os"
	"os/exec"
	"time"
)

// A virtual machine may give memory that nobody used for a while back to its host (the free
// page reporting of Linux does so after two seconds, PAGE_REPORTING_DELAY in
// mm/page_reporting.c; from memory), and have to ask for it again: where this was found, a program took 3 ms for the
// first use of a MB then, and 0.07 ms else. That would measure the machine, so before a
// short run memory is used and let go of, as other programs do all the time. It is used in
// large pages where there are any, for what is let go of in small ones lies scattered.
const (
	atHand      = 256 << 20
	mostTries   = 5
	quickForAll = atHand / (1 << 20) * time.Millisecond / 2 // half a millisecond a MB
)

// haveMemoryAtHand has another process use memory: what this one held at most would be taken
// for what those hold that it starts.
func haveMemoryAtHand() error {
	return exec.Command(os.Args[0], "--only-memory").Run()
}

// useMemory uses memory until that is quick, and lets go of it.
func useMemory() {
	for range mostTries {
		begun := time.Now()
		use(atHand)
		if time.Since(begun) < quickForAll {
			return
		}
	}
}

// touch writes to every page of memory. None is smaller than that on any system.
func touch(memory []byte) {
	const page = 4 << 10
	for i := 0; i < len(memory); i += page {
		memory[i] = 1
	}
}
