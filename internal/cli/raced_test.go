//go:build race

package cli

// raced says that the race detector is at work.
const raced = true
