package press

import "syscall"

// Numbers of Windows itself. Source: Microsoft, "System Error Codes (0-499)".
func fullErrors() []syscall.Errno     { return []syscall.Errno{39, 112} } // ERROR_HANDLE_DISK_FULL, ERROR_DISK_FULL
func handleErrors() []syscall.Errno   { return []syscall.Errno{4} }       // ERROR_TOO_MANY_OPEN_FILES
func readOnlyErrors() []syscall.Errno { return []syscall.Errno{19} }      // ERROR_WRITE_PROTECT
