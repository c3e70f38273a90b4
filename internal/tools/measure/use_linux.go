package main

import "syscall"

// use uses memory and lets go of it. Where it cannot be had, nothing is at hand.
func use(bytes int) {
	memory, err := syscall.Mmap(-1, 0, bytes, syscall.PROT_READ|syscall.PROT_WRITE, syscall.MAP_ANON|syscall.MAP_PRIVATE)
	if err != nil {
		return
	}
	_ = syscall.Madvise(memory, syscall.MADV_HUGEPAGE) // a system without large pages uses small ones
	touch(memory)
	_ = syscall.Munmap(memory) // what is not let go of now is when the program ends
}
