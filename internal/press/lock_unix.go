//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package press

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// tryLock takes the lock on an open file without waiting. The system lets go of
// it when the file is closed or the process ends, however it ends.
func tryLock(f *os.File) (taken bool, err error) {
	err = unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
	if errors.Is(err, unix.EWOULDBLOCK) {
		return false, nil
	}
	return err == nil, err
}

// elsewhere holds where two folders lie on different file systems, so that no
// file can be renamed from one to the other.
func elsewhere(a, b *os.Root) bool {
	var x, y unix.Stat_t
	return stat(a, &x) == nil && stat(b, &y) == nil && x.Dev != y.Dev
}

func stat(r *os.Root, st *unix.Stat_t) error {
	f, err := r.Open(".")
	if err != nil {
		return err
	}
	defer f.Close()
	return unix.Fstat(int(f.Fd()), st)
}
