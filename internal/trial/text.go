package trial

import (
	"bytes"
	"io/fs"
	"unicode/utf8"

	"sidebatch.example/sidebatch/internal/problem"
)

// most is how large a note or log may be. A day of thermometer readings every
// second is under 3 MB.
const most = 16 << 20

// ReadText reads a text file as every reader here wants it: UTF-8 without a
// byte-order mark, line feeds only. Name is the path in fsys, shown the path that
// problems carry. It reports what is wrong and returns false.
func ReadText(fsys fs.FS, name, shown string, problems *problem.List) ([]byte, bool) {
	info, err := fs.Stat(fsys, name)
	if err != nil {
		problems.Errorf(problem.Pos{File: shown}, problem.Unreadable, "cannot be opened: %v", reason(err))
		return nil, false
	}
	if !info.Mode().IsRegular() {
		problems.Errorf(problem.Pos{File: shown}, problem.Unreadable, "is not a file")
		return nil, false
	}
	if info.Size() > most {
		problems.Errorf(problem.Pos{File: shown}, problem.Unreadable, "is larger than %d MB", most>>20)
		return nil, false
	}
	data, err := fs.ReadFile(fsys, name)
	if err != nil {
		problems.Errorf(problem.Pos{File: shown}, problem.Unreadable, "cannot be read: %v", reason(err))
		return nil, false
	}
	return Text(data, shown, problems)
}

// reason leaves the path out of a file error: the problem says it already, and a
// machine's own path has no place in a message.
func reason(err error) error {
	if path, ok := err.(*fs.PathError); ok {
		return path.Err
	}
	return err
}

// Text checks and unifies the bytes of a text file.
func Text(data []byte, shown string, problems *problem.List) ([]byte, bool) {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if at := notText(data); at >= 0 {
		place := position(shown, data, at)
		if at < len(data) && data[at] == 0 {
			problems.Hinted(place, problem.NotText, "save it as UTF-8 text", "a NUL byte: this is not a text file")
		} else {
			problems.Hinted(place, problem.NotText, "save it as UTF-8", "a byte that is not UTF-8")
		}
		return nil, false
	}
	data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
	data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	if len(bytes.TrimSpace(data)) == 0 {
		problems.Errorf(problem.Pos{File: shown}, problem.EmptyFile, "the file is empty")
		return nil, false
	}
	return data, true
}

// notText returns where the bytes stop being text, or -1.
func notText(data []byte) int {
	for at := 0; at < len(data); {
		if data[at] == 0 {
			return at
		}
		r, size := utf8.DecodeRune(data[at:])
		if r == utf8.RuneError && size <= 1 {
			return at
		}
		at += size
	}
	return -1
}

// position turns a byte offset into a place.
func position(file string, data []byte, at int) problem.Pos {
	before := data[:at]
	line := bytes.Count(before, []byte("\n")) + 1
	start := bytes.LastIndexByte(before, '\n') + 1
	return problem.Pos{File: file, Line: line, Column: utf8.RuneCount(before[start:]) + 1}
}
