package site

import (
	"io/fs"
	"syscall"
	"time"
)

// statusOf is when a file, or what is known of it, was changed last, and which file it is.
func statusOf(info fs.FileInfo) (time.Time, [3]int64) {
	s, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return time.Time{}, [3]int64{}
	}
	changed := time.Unix(s.Ctim.Unix())
	return changed, [3]int64{int64(s.Dev), int64(s.Ino), changed.UnixNano()}
}
