//go:build unix && !darwin

package main

// memoryUnit is what the system counts a process's memory in: kB of 1024 bytes
// (getrusage(2) of Linux and the BSDs).
const memoryUnit = 1024
