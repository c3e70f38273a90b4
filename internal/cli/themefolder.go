package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// mostTheme is the size of the largest file that a theme may have, in bytes.
const mostTheme = 4 << 20

// themeFolder is the folder of a theme, which may have come with somebody else's kitchen:
// no link in it leads out, and nothing but folders and files of a sensible size is opened.
type themeFolder string

// Open opens a file or folder. The theme's folder is opened anew each time, so that one
// that was put in its place meanwhile counts.
func (t themeFolder) Open(name string) (fs.File, error) {
	root, err := os.OpenRoot(string(t))
	if err != nil {
		return nil, err
	}
	defer root.Close()
	fsys := root.FS()
	info, err := fs.Stat(fsys, name)
	switch {
	case err != nil:
		return nil, err
	case !info.IsDir() && !info.Mode().IsRegular():
		// A pipe would be waited for without end.
		return nil, &fs.PathError{Op: "open", Path: name, Err: errors.New("is neither a file nor a folder")}
	case info.Mode().IsRegular() && info.Size() > mostTheme:
		return nil, &fs.PathError{Op: "open", Path: name, Err: fmt.Errorf("is larger than %d MB", mostTheme>>20)}
	}
	return fsys.Open(name)
}
