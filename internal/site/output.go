package site

// Output is one file of the site.
type Output struct {
	Path string                 // below the site folder, forward slashes, e.g. "rye/index.html"
	Make func() ([]byte, error) // pure: same bytes whenever it is called; may run on any goroutine
}
