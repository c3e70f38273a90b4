package site

import (
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
	"time"

	"sidebatch.example/sidebatch/internal/trial"
)

// stamp tells whether a file is likely to be what it was. Where the file system
// gives files an identity, a file that was put in the place of another is
// noticed even when it has the same size and time.
type stamp struct {
	name string // below the folder, forward slashes
	info fs.FileInfo
}

// Bounds on what of a trial's folder is looked at, should somebody keep something
// else there: folders below it, and files all together.
const (
	deepest   = 3
	mostFiles = 5000
)

// stampFolder looks at all files of a trial in the order of their names. What
// cannot be looked at is left out; so are files that editors make for themselves.
func stampFolder(fsys fs.FS, folder string) []stamp {
	var all []stamp
	_ = fs.WalkDir(fsys, folder, func(p string, d fs.DirEntry, err error) error { // errors are left to reading
		name := strings.TrimPrefix(p, folder+"/")
		switch {
		case err != nil && d != nil && d.IsDir():
			return fs.SkipDir
		case err != nil || p == folder:
			return nil
		case len(all) >= mostFiles:
			return fs.SkipAll
		case EditorFile(d.Name()), d.IsDir() && strings.Count(name, "/") >= deepest:
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		case d.IsDir():
			return nil
		}
		info, err := d.Info()
		if err == nil && info.Mode()&fs.ModeSymlink != 0 {
			info, err = fs.Stat(fsys, p)
		}
		if err == nil {
			all = append(all, stamp{name, info})
		}
		return nil
	})
	return all
}

func stampFile(fsys fs.FS, name string) []stamp {
	info, err := fs.Stat(fsys, name)
	if err != nil {
		return nil
	}
	return []stamp{{name, info}}
}

func sameStamps(a, b []stamp) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if !a[i].same(b[i]) {
			return false
		}
	}
	return true
}

func (s stamp) same(now stamp) bool {
	if s.name != now.name || s.info.Size() != now.info.Size() || s.info.Mode() != now.info.Mode() ||
		!s.info.ModTime().Equal(now.info.ModTime()) {
		return false
	}
	known := os.SameFile(s.info, s.info) // not in a file system that knows no identity
	return !known || os.SameFile(s.info, now.info)
}

// lastChange is when the note or a log beside it was changed last; a photo that was
// put there does not make a trial the one that somebody writes.
func lastChange(files []stamp) time.Time {
	var last time.Time
	for _, f := range files {
		isWords := f.name == trial.NoteFile || slices.Contains([]string{".csv", ".xlsx"}, strings.ToLower(path.Ext(f.name)))
		if isWords && f.info.ModTime().After(last) {
			last = f.info.ModTime()
		}
	}
	return last
}

// EditorFile reports whether a file or folder is, by its name, one that an editor,
// an office program or a file system keeps for itself while something is edited:
// hidden ones (.#note, .note.swp), copies (note~, #note#, ~$log.xlsx), and those
// named by a number alone, with which some editors try whether they may write.
// These are common practice, without a source.
func EditorFile(name string) bool {
	switch path.Ext(name) {
	case ".swp", ".swo", ".swx", ".tmp", ".bak", ".orig", ".part":
		return true
	}
	return strings.HasPrefix(name, ".") || strings.HasPrefix(name, "~$") || strings.HasSuffix(name, "~") ||
		strings.HasPrefix(name, "#") && strings.HasSuffix(name, "#") || strings.Trim(name, "0123456789") == ""
}
