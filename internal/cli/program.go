package cli

import (
	"crypto/sha256"
	"encoding/hex"
	"hash"
	"io"
	"io/fs"
	"os"
)

// programName names this program and a theme by what is in them, so that what an earlier
// run remembers is used by no other program and for no other theme. It is "" where the
// program cannot read itself; then nothing is remembered.
func programName(theme fs.FS) string {
	sum := sha256.New()
	path, err := os.Executable()
	if err == nil {
		err = addFile(sum, func() (io.ReadCloser, error) { return os.Open(path) })
	}
	if err == nil && theme != nil { // the built-in theme is part of the program
		err = addTheme(sum, theme)
	}
	if err != nil {
		return ""
	}
	return hex.EncodeToString(sum.Sum(nil))
}

func addTheme(sum hash.Hash, theme fs.FS) error {
	return fs.WalkDir(theme, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		_, _ = io.WriteString(sum, path+"\x00") // a hash takes everything
		return addFile(sum, func() (io.ReadCloser, error) { return theme.Open(path) })
	})
}

// addFile adds what is in a file, by a sum of its own, so that no two files run into one.
func addFile(sum hash.Hash, open func() (io.ReadCloser, error)) error {
	file, err := open()
	if err != nil {
		return err
	}
	defer file.Close()
	own := sha256.New()
	if _, err := io.Copy(own, file); err != nil {
		return err
	}
	sum.Write(own.Sum(nil))
	return nil
}
