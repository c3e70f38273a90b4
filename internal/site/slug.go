package site

import "slices"

// IsSlug reports whether a trial's folder can have a name: it becomes part of an
// address, and the site has pages of its own.
func IsSlug(name string) bool {
	return slugPattern.MatchString(name) && !slices.Contains(reserved(), name)
}
