package trial

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/tabular"
)

// ReadText reads a text file as every reader here wants it: UTF-8 without a
// byte-order mark, line feeds only. Name is the path in fsys, shown the path that
// problems carry. It reports what is wrong and returns false.
func ReadText(fsys fs.FS, name, shown string, problems *problem.List) ([]byte, bool) {
	data, ok := readBytes(fsys, name, shown, problems)
	if !ok {
		return nil, false
	}
	return tabular.Text(data, shown, problems)
}

// readBytes reads a file within the limit, or reports why it cannot.
func readBytes(fsys fs.FS, name, shown string, problems *problem.List) ([]byte, bool) {
	data, err := ReadFile(fsys, name, tabular.MostBytes)
	if err != nil {
		problems.Errorf(problem.Pos{File: shown}, problem.Unreadable, "%v", err)
		return nil, false
	}
	return data, true
}

// ReadFile reads a file of a stranger's making: a regular file of so many bytes at
// most. Anything else is not even opened, for a pipe would be waited for without end,
// and a large file may be larger than the memory. The error says what is wrong without
// the file's name; one of a file that is not there is fs.ErrNotExist.
func ReadFile(fsys fs.FS, name string, most int64) ([]byte, error) {
	info, err := fs.Stat(fsys, name)
	switch {
	case err != nil:
		return nil, fmt.Errorf("cannot be opened: %w", reason(err))
	case !info.Mode().IsRegular():
		return nil, errors.New("is not a file")
	case info.Size() > most:
		return nil, tooLarge(most)
	}
	file, err := fsys.Open(name)
	if err != nil {
		return nil, fmt.Errorf("cannot be opened: %w", reason(err))
	}
	defer file.Close()
	// The limit holds while reading as well: the file may have grown by now.
	var data bytes.Buffer
	data.Grow(int(info.Size()) + bytes.MinRead)
	if _, err := data.ReadFrom(io.LimitReader(file, most+1)); err != nil {
		return nil, fmt.Errorf("cannot be read: %w", reason(err))
	}
	if int64(data.Len()) > most {
		return nil, tooLarge(most)
	}
	return data.Bytes(), nil
}

func tooLarge(most int64) error { return fmt.Errorf("is larger than %d MB", most>>20) }

// reason leaves the path out of a file error: the problem says it already, and a
// machine's own path has no place in a message.
func reason(err error) error {
	if path, ok := err.(*fs.PathError); ok {
		return path.Err
	}
	return err
}
