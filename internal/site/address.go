package site

import (
	"net/url"
	"path"
	"regexp"
	"strings"
)

// slugPattern is what a trial's folder may be called: it becomes part of its
// address. Letters of any script are allowed, in small letters.
var slugPattern = regexp.MustCompile(`^[\p{Ll}\p{Lo}\p{N}]+(-[\p{Ll}\p{Lo}\p{N}]+)*$`)

// reserved are the names that the site's own pages take.
func reserved() []string {
	return []string{"archive", "factors", "ingredients", "methods", "assets", "schemas"}
}

// Pages of the site, from its root.
const (
	archivePage     = "archive/"
	factorsPage     = "factors/"
	ingredientsPage = "ingredients/"
	methodsPage     = "methods/"
	notFoundPage    = "404.html"
)

// up returns the way from a page back to the site's root: "" for the first page,
// "../" for a page in a folder.
func up(pagePath string) string {
	return strings.Repeat("../", strings.Count(pagePath, "/"))
}

// canonical is a page's full address, escaped as RFC 3986 has it, or "" where the kitchen has none.
func (s *reader) canonical(pagePath string) string {
	if s.Kitchen.Address == "" {
		return ""
	}
	below := url.URL{Path: strings.TrimSuffix(pagePath, "index.html")}
	return s.Kitchen.Address + below.EscapedPath()
}

// rootPath is the path of the site on its host: "/" or "/trials/".
func (s *reader) rootPath() string {
	u, err := url.Parse(s.Kitchen.Address)
	if err != nil || u.Path == "" {
		return "/"
	}
	return path.Clean(u.Path) + strings.Repeat("/", min(1, len(path.Clean(u.Path))-1))
}
