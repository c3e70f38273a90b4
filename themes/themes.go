// Package themes holds the built-in theme: templates, styles, words and icon.
//
// It only carries the files; how they are read, checked and filled is the
// business of package page. A theme of one's own is a folder with the same
// layout that holds as few of these files as it changes.
package themes

import (
	"embed"
	"io/fs"
)

//go:embed bench/*.html bench/styles/*.css bench/prints/*.css bench/*.svg bench/*.js bench/words/*.json bench/methods/*/*.md
var files embed.FS

// Bench returns the built-in theme. Its root holds the templates (NAME.html),
// icon.svg and archive.js, the one script; words/ holds the fixed words, a file for each language; styles/ the
// parts of the one style sheet, put together in the order of their names; prints/
// what files that are printed and stand alone have besides;
// methods/LANGUAGE/ the sections of the methods page.
func Bench() fs.FS {
	bench, err := fs.Sub(files, "bench")
	if err != nil {
		// fs.Sub fails only for an invalid path, and this one is a constant.
		return files
	}
	return bench
}
