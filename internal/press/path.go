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

// inOrder returns the outputs sorted by path, or says which paths cannot stand
// in one folder on every system.
func inOrder(outputs []site.Output) ([]site.Output, error) {
	ordered := slices.Clone(outputs)
	slices.SortStableFunc(ordered, func(a, b site.Output) int { return strings.Compare(a.Path, b.Path) })
	var errs []error
	seen := make(map[string]spelling)
	for _, o := range ordered {
		err := checkPath(o.Path)
		if err == nil && o.Make == nil {
			err = fmt.Errorf("%s: nothing makes it", o.Path)
		}
		if err == nil {
			err = clash(seen, o.Path)
		}
		errs = append(errs, err)
	}
	return ordered, errors.Join(errs...)
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
