package trial

import (
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
	info, err := fs.Stat(fsys, name)
	if err != nil {
		problems.Errorf(problem.Pos{File: shown}, problem.Unreadable, "cannot be opened: %v", reason(err))
		return nil, false
	}
	if !info.Mode().IsRegular() {
		problems.Errorf(problem.Pos{File: shown}, problem.Unreadable, "is not a file")
		return nil, false
	}
	if info.Size() > tabular.MostBytes {
		problems.Errorf(problem.Pos{File: shown}, problem.Unreadable, "is larger than %d MB", tabular.MostBytes>>20)
		return nil, false
	}
	data, err := fs.ReadFile(fsys, name)
	if err != nil {
		problems.Errorf(problem.Pos{File: shown}, problem.Unreadable, "cannot be read: %v", reason(err))
		return nil, false
	}
	return data, true
}

// reason leaves the path out of a file error: the problem says it already, and a
// machine's own path has no place in a message.
func reason(err error) error {
	if path, ok := err.(*fs.PathError); ok {
		return path.Err
	}
	return err
}
