package cli

import (
	"runtime"
	"syscall"
)

// pieceOfHeap is a piece of memory that lies on large pages, of 2 MB on most machines, and is
// more than the rest of a heap that has just begun.
const pieceOfHeap = 4 << 20

// unlimited is RLIM_INFINITY (getrlimit(2)).
const unlimited = ^uint64(0)

// askForLargePages asks the system to give the heap, as it grows to that size, memory in
// large pages. Most systems do so of their own accord, some only where they are asked
// (madvise(2), MADV_HUGEPAGE). Then the first use of memory costs a fraction; DEVELOPERS.md
// tells what that is of a run. None of the memory is in use before it is needed, and where
// it cannot be had nothing is lost.
func askForLargePages(size int) {
	var limit syscall.Rlimit
	if syscall.Getrlimit(syscall.RLIMIT_AS, &limit) != nil || limit.Cur != unlimited {
		return // no room to ask for what may not be needed
	}
	// Piece by piece, for one that was in use before is cleared at once.
	heap := make([][]byte, size/pieceOfHeap)
	for i := range heap {
		heap[i] = make([]byte, pieceOfHeap)
		_ = syscall.Madvise(heap[i], syscall.MADV_HUGEPAGE)
	}
	clear(heap)
	runtime.GC() // lets go of it; what comes will lie there
}
