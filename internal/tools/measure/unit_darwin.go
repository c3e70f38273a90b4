package main

// memoryUnit is what the system counts a process's memory in: bytes (getrusage(2) of
// macOS).
const memoryUnit = 1
