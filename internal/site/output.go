package site

// Output is one file of the site.
type Output struct {
	Path string                 // below the site folder, forward slashes, e.g. "rye/index.html"
	Make func() ([]byte, error) // pure: same bytes whenever it is called; may run on any goroutine

	// From is a digest of all that the bytes are made from, the program and the theme too:
	// with the same From under the same path, Make returns the same bytes in any run. The
	// zero digest says that it is not known; such an output is made in every run.
	From Digest
}

// Digest stands for what something is made from. Two that are equal by chance do not
// happen: it is cut from a cryptographic hash.
type Digest [16]byte
