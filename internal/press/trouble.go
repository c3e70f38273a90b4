package press

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// trouble is what the system said, with what to do about it, where it is the machine that
// ails rather than one file: every other file would meet the same.
type trouble struct {
	error
	remedy string
}

func (t trouble) Error() string { return t.error.Error() + " (" + t.remedy + ")" }
func (t trouble) Unwrap() error { return t.error }

const (
	diskIsFull  = "make room on the disk, then publish again"
	handlesGone = "close other programs or allow more open files, then publish again"
	mayNotWrite = "allow writing there, or publish into another folder"
)

// bare drops the path from an error of package os: it is the machine's own and says nothing
// that the message around it does not. It adds the remedy where there is one.
func bare(err error) error {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		err = p.Err
	case errors.As(err, &l):
		err = l.Err
	}
	if remedy := remedyFor(err); remedy != "" {
		return trouble{err, remedy}
	}
	return err
}

func isTrouble(err error) bool { return errors.As(err, new(trouble)) }

func remedyFor(err error) string {
	switch {
	case isAny(err, fullErrors(), syscall.ENOSPC, syscall.EDQUOT):
		return diskIsFull
	case isAny(err, handleErrors(), syscall.EMFILE, syscall.ENFILE):
		return handlesGone
	case isAny(err, readOnlyErrors(), syscall.EROFS), errors.Is(err, fs.ErrPermission):
		return mayNotWrite
	}
	return ""
}

// isAny takes a system's own numbers beside those that most systems share.
func isAny(err error, own []syscall.Errno, numbers ...syscall.Errno) bool {
	for _, n := range append(own, numbers...) {
		if errors.Is(err, n) {
			return true
		}
	}
	return false
}
