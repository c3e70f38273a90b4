package press

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"

	"sidebatch.example/sidebatch/internal/site"
)

// set is the outputs of one run, in the order of their paths, and their folders.
type set struct {
	outputs []site.Output
	folders []inFolder // each after the one that it lies in
	in      []int32    // the number of the folder of each output; -1 for the site folder
}

// inFolder is a folder, with the number of the one that it lies in, or -1.
type inFolder struct {
	path string
	in   int32
}

// inOrder returns the outputs sorted by path.
func inOrder(outputs []site.Output) *set {
	byPath := func(a, b site.Output) int { return strings.Compare(a.Path, b.Path) }
	if !slices.IsSortedFunc(outputs, byPath) {
		outputs = slices.Clone(outputs)
		slices.SortStableFunc(outputs, byPath)
	}
	s := &set{outputs: outputs, in: make([]int32, len(outputs))}
	s.findFolders()
	return s
}

// findFolders finds the folders. In the order of paths all that lies in a folder stands
// together, so that those that an output lies in are known from the output before.
func (s *set) findFolders() {
	last := int32(-1) // the folder of the output before
	for i, o := range s.outputs {
		for last >= 0 && !isBelow(o.Path, s.folders[last].path) {
			last = s.folders[last].in
		}
		from := 0
		if last >= 0 {
			from = len(s.folders[last].path) + 1
		}
		for cut := strings.IndexByte(o.Path[from:], '/'); cut >= 0; cut = strings.IndexByte(o.Path[from:], '/') {
			s.folders = append(s.folders, inFolder{o.Path[:from+cut], last})
			last = int32(len(s.folders) - 1)
			from += cut + 1
		}
		s.in[i] = last
	}
}

// isBelow tells whether a path lies in a folder.
func isBelow(path, folder string) bool {
	return len(path) > len(folder) && path[len(folder)] == '/' && path[:len(folder)] == folder
}

// check says which paths cannot stand in one folder on every system.
func (s *set) check() error {
	if s.arePlainAndApart() {
		return nil
	}
	var errs []error
	seen := make(map[string]spelling)
	for _, o := range s.outputs {
		err := checkPath(o.Path)
		if err == nil && o.Make == nil {
			err = fmt.Errorf("%s: nothing makes it", o.Path)
		}
		if err == nil {
			err = clash(seen, o.Path)
		}
		errs = append(errs, err)
	}
	return errors.Join(errs...)
}

// arePlainAndApart tells whether all paths are plain, good and apart. Of plain ones no two
// are the same place to any system unless they are equal, so that what clash would find is
// found without folding a name.
func (s *set) arePlainAndApart() bool {
	for i, o := range s.outputs {
		if o.Make == nil || !isPlain(o.Path) || i > 0 && s.outputs[i-1].Path == o.Path {
			return false
		}
	}
	for _, dir := range s.folders {
		if _, isFile := s.find(dir.path); isFile {
			return false
		}
	}
	return true
}

// find returns the number of the output with a path.
func (s *set) find(path string) (int, bool) {
	return slices.BinarySearchFunc(s.outputs, path, func(o site.Output, p string) int { return strings.Compare(o.Path, p) })
}

// isFolder tells whether an output lies below a path.
func (s *set) isFolder(path string) bool {
	first, _ := s.find(path + "/")
	return first < len(s.outputs) && isBelow(s.outputs[first].Path, path)
}

// spelling is how a file or folder was first named.
type spelling struct {
	path string
	file bool
}

// clash records a path and the folders above it, and says where one of them
// meets another that the same place would be: a path twice, one that differs only
// in letter case or in how its accents are composed (the same file on some
// systems), or a file that is also a folder.
func clash(seen map[string]spelling, path string) error {
	for end := 0; end < len(path); {
		next := strings.IndexByte(path[end:], '/')
		file := next < 0
		name := path
		if !file {
			name = path[:end+next]
		}
		key := fold(name)
		was, known := seen[key]
		switch {
		case !known:
			seen[key] = spelling{name, file}
		case was.path != name:
			return fmt.Errorf("%s: differs from %s only in letter case or accents", name, was.path)
		case file && was.file:
			return fmt.Errorf("%s: two outputs have this path", name)
		case file != was.file:
			return fmt.Errorf("%s: both a file and a folder", name)
		}
		end = len(name) + 1
	}
	return nil
}

// fold maps a path to what a file system that ignores letter case and the
// composition of accents compares.
func fold(path string) string {
	return norm.NFC.String(cases.Fold().String(norm.NFC.String(path)))
}

// longest is the longest name, in bytes, that common file systems take.
const longest = 255

// checkPath says why a path cannot be a file below a folder, on any of the
// systems that a site may be written on or copied to.
func checkPath(path string) error {
	if isPlain(path) {
		return nil
	}
	if path == "" || path == "." {
		return errors.New("an output without a path")
	}
	if !fs.ValidPath(path) {
		return fmt.Errorf("%q: not a path below the site folder (no .. or empty part, no / at either end)", path)
	}
	for name := range strings.SplitSeq(path, "/") {
		if why := badName(name); why != "" {
			return fmt.Errorf("%q: %s", path, why)
		}
	}
	if first, _, _ := strings.Cut(fold(path), "/"); strings.HasPrefix(first, ownPrefix) {
		return fmt.Errorf("%q: names that begin with %s are kept for the program's own files", path, ownPrefix)
	}
	return nil
}

// isPlain holds for good paths of small letters, digits, dashes, underscores and
// dots, which nearly all are. It asks in one go what checkPath asks at leisure.
func isPlain(path string) bool {
	begin := 0
	for i := 0; i <= len(path); i++ {
		if i < len(path) && path[i] != '/' {
			if b := path[i]; !('a' <= b && b <= 'z' || '0' <= b && b <= '9' || b == '-' || b == '_' || b == '.') {
				return false
			}
			continue
		}
		name := path[begin:i]
		if name == "" || len(name) > longest || name[len(name)-1] == '.' || mayBeReserved(name) {
			return false
		}
		begin = i + 1
	}
	return !strings.HasPrefix(path, ownPrefix)
}

// mayBeReserved holds for every small name of a device and a few more.
func mayBeReserved(name string) bool {
	return len(name) >= 3 && (len(name) == 3 || len(name) == 4 || name[3] == '.' || name[4] == '.') && reserved(name)
}

func badName(name string) string {
	if i := strings.IndexFunc(name, forbidden); i >= 0 {
		r := []rune(name[i:])[0]
		return fmt.Sprintf("the sign %q cannot stand in the name of a file on every system", r)
	}
	switch {
	case len(name) > longest:
		return fmt.Sprintf("a name longer than %d bytes", longest)
	case strings.HasSuffix(name, ".") || strings.HasSuffix(name, " "):
		return "a name that ends in a dot or a space"
	case reserved(name):
		return "a name that Windows keeps for a device"
	}
	return ""
}

// forbidden holds for what Windows allows in no name, and for control
// characters, which would break the lines of the list and the journal.
func forbidden(r rune) bool {
	return unicode.IsControl(r) || strings.ContainsRune(`\:*?"<>|`, r)
}

// reserved holds for device names, with or without an extension
// (Microsoft, "Naming Files, Paths, and Namespaces").
func reserved(name string) bool {
	stem, _, _ := strings.Cut(name, ".")
	stem = strings.ToUpper(strings.TrimRight(stem, " "))
	switch stem {
	case "CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$":
		return true
	}
	port, found := strings.CutPrefix(stem, "COM")
	if !found {
		port, found = strings.CutPrefix(stem, "LPT")
	}
	return found && len([]rune(port)) == 1 && strings.Contains("0123456789¹²³", port)
}
