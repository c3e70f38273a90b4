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
)

// check says which paths cannot stand in one folder on every system.
func (s *set) check() error {
	if s.arePlainAndApart() {
		return nil
	}
	var errs []error
	seen := make(map[string]spelling)
	for i := range s.len() {
		path := s.path(i)
		err := checkPath(path)
		if err == nil && slices.Contains(s.unmade, i) {
			err = fmt.Errorf("%s: nothing makes it", path)
		}
		if err == nil {
			err = clash(seen, path)
		}
		errs = append(errs, err)
	}
	return errors.Join(errs...)
}

// arePlainAndApart tells whether all paths are plain, good and apart. Of plain ones no two
// are the same place to any system unless they are equal, so that what clash would find is
// found without folding a name.
func (s *set) arePlainAndApart() bool {
	if len(s.unmade) > 0 {
		return false
	}
	for i := range s.len() {
		if path := s.path(i); !isPlain(path) || i > 0 && s.path(i-1) == path {
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
