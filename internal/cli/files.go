package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"sidebatch.example/sidebatch/internal/tabular"
	"sidebatch.example/sidebatch/internal/trial"
)

// newFile is a file that a command writes beside the notes.
type newFile struct {
	path string // as the user would name it
	data []byte
}

// writeNew writes files that are not there yet, all of them or none, and makes their
// folders. What stands in the way is named, and stays as it is.
func writeNew(files []newFile) error {
	var standing []error
	for _, f := range files {
		if _, err := os.Lstat(f.path); err == nil {
			standing = append(standing, fmt.Errorf("%s is there already", filepath.ToSlash(f.path)))
		}
	}
	if len(standing) > 0 {
		return exit{CouldNotRun, fmt.Errorf("nothing was written: %w (move it away, or write elsewhere with --out)", errors.Join(standing...))}
	}
	var made []string // the folders that are new, outermost first
	for n, f := range files {
		made = append(made, missingFolders(filepath.Dir(f.path))...)
		if err := writeOne(f); err != nil {
			for _, written := range files[:n] {
				removeOwn(written.path)
			}
			for _, folder := range slices.Backward(made) {
				removeOwn(folder)
			}
			return exit{CouldNotRun, fmt.Errorf("nothing was written: %w", err)}
		}
	}
	return nil
}

// readFile reads a file that the user names, which somebody else may have written: a
// regular file that is no larger than a table may be. What says what it should hold.
func readFile(path, what string) ([]byte, error) {
	data, err := trial.ReadFile(os.DirFS(filepath.Dir(path)), filepath.Base(path), tabular.MostBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, exit{CouldNotRun, fmt.Errorf("there is no %s (%s)", filepath.ToSlash(path), what)}
	}
	if err != nil {
		return nil, exit{CouldNotRun, fmt.Errorf("%s %w", filepath.ToSlash(path), err)}
	}
	return data, nil
}

// missingFolders are the folders on the way to one, and it, that are not there yet.
func missingFolders(folder string) []string {
	var missing []string
	for {
		if _, err := os.Lstat(folder); err == nil || folder == filepath.Dir(folder) {
			slices.Reverse(missing)
			return missing
		}
		missing = append(missing, folder)
		folder = filepath.Dir(folder)
	}
}

// writeOne writes one file that is not there yet. One that appeared meanwhile stays.
func writeOne(f newFile) error {
	if err := os.MkdirAll(filepath.Dir(f.path), 0o777); err != nil {
		return bare(f.path, err)
	}
	out, err := os.OpenFile(f.path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return bare(f.path, err)
	}
	_, err = out.Write(f.data)
	if err = errors.Join(err, out.Close()); err != nil {
		removeOwn(f.path)
		return bare(f.path, err)
	}
	return nil
}

// removeOwn takes back a file that this run has written, or a folder that it made
// and nobody has put anything into.
func removeOwn(path string) {
	// What cannot be removed is left: the error that led here is told.
	_ = os.Remove(path)
}

// swapFiles puts files in the place of those that are there, each as a whole, after
// all of them have been written beside their places.
func swapFiles(files []newFile) error {
	var beside []newFile
	for _, f := range files {
		beside = append(beside, newFile{f.path + ".new", f.data})
	}
	if err := writeNew(beside); err != nil {
		return err
	}
	for n, f := range files {
		if err := os.Rename(beside[n].path, f.path); err != nil {
			for _, left := range beside[n:] {
				removeOwn(left.path)
			}
			return exit{CouldNotRun, bare(f.path, err)}
		}
	}
	return nil
}

// bare leaves the path that the machine knows out of an error and says the user's.
func bare(path string, err error) error {
	var inside *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &inside):
		err = inside.Err
	case errors.As(err, &link):
		err = link.Err
	}
	return fmt.Errorf("%s: %w", filepath.ToSlash(path), err)
}
