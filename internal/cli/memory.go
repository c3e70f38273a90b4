package cli

import (
	"os"
	"runtime/debug"
)

// enough is how much memory a publish of any size should do with, in bytes.
const enough = 340 << 20

// enoughForShort is what a run in which little changed does with, in bytes.
const enoughForShort = 160 << 20

// boundMemory has the collector work harder, rather than the machine give more, where a
// large page takes much for a moment. Who has set GOMEMLIMIT knows better.
func boundMemory() {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(enough)
		askForLargePages(enoughForShort)
	}
}
