//go:build !linux

package cli

// askForLargePages does nothing where the system is not asked.
func askForLargePages(int) {}
