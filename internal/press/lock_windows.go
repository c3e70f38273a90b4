package press

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// tryLock takes the lock on an open file without waiting. The system lets go of
// it when the file is closed or the process ends, however it ends.
func tryLock(f *os.File) (taken bool, err error) {
	const all = ^uint32(0)
	flags := uint32(windows.LOCKFILE_EXCLUSIVE_LOCK | windows.LOCKFILE_FAIL_IMMEDIATELY)
	err = windows.LockFileEx(windows.Handle(f.Fd()), flags, 0, all, all, new(windows.Overlapped))
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return false, nil
	}
	return err == nil, err
}

// elsewhere holds where two folders lie on different file systems. A folder
// mounted into another is rare here: the swap would say that it cannot rename.
func elsewhere(_, _ *os.Root) bool { return false }
