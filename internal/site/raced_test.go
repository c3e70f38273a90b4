//go:build race

package site

// raced says that the race detector is at work: it makes loops over numbers and bytes some
// ten times as slow, and allocates for itself.
const raced = true
