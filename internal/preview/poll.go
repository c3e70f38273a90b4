package preview

import (
	"context"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"time"
)

// pollTime is the rest between two looks at the files.
const pollTime = 500 * time.Millisecond

// poll looks at all files again and again, where the system does not tell of
// changes: on some network drives, and beyond the number of folders it watches.
// What changed is found by comparing sizes and times.
func (w *watch) poll(ctx context.Context) {
	w.polling.Do(func() { go w.look(ctx) })
}

func (w *watch) look(ctx context.Context) {
	folder := w.themeFolder()
	theme := listing(folder)
	for {
		select {
		case <-ctx.Done():
			return
		case <-time.After(pollTime):
		}
		t := touch{all: true}
		now := w.themeFolder()
		if list := listing(now); now != folder || list != theme {
			folder, theme, t.theme = now, list, true
		}
		// The rest begins when the touch is taken, so a big kitchen is not looked
		// at without end.
		if !w.send(ctx, t) {
			return
		}
	}
}

// listing is a folder's files with size and time, as one text to compare.
func listing(folder string) string {
	if folder == "" {
		return ""
	}
	var b strings.Builder
	_ = filepath.WalkDir(folder, func(p string, d fs.DirEntry, err error) error { // what is missing shows as a change
		if err != nil || d.IsDir() {
			return nil
		}
		if info, err := d.Info(); err == nil {
			fmt.Fprintf(&b, "%s %d %d\n", p, info.Size(), info.ModTime().UnixNano())
		}
		return nil
	})
	return b.String()
}
