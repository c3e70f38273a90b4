//go:build !darwin && !windows

package cli

// opener is the program that opens addresses, by the freedesktop.org convention.
func opener() (string, []string) { return "xdg-open", nil }
