//go:build !windows

package press

import "syscall"

func fullErrors() []syscall.Errno     { return nil }
func handleErrors() []syscall.Errno   { return nil }
func readOnlyErrors() []syscall.Errno { return nil }
