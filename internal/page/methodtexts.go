package page

import (
	"bytes"
	"fmt"
	"io/fs"
	"path"
	"strings"
)

// MethodText is one section of the methods page as the theme has it.
type MethodText struct {
	ID        string // the section's anchor
	Title     string
	Markdown  []byte // without the title
	File      string // in the theme
	FirstLine int    // of Markdown in the file
}

// MethodTexts reads the sections of the methods page from a theme, or from the
// built-in one where the theme has none: the files methods/LANGUAGE/NN-ID.md in
// the order of their names, each beginning with its title as a heading.
func MethodTexts(theme fs.FS, language string) ([]MethodText, error) {
	l := over(theme)
	base, _, _ := strings.Cut(language, "-")
	for _, tongue := range []string{language, base, defaultLanguage} {
		names, err := l.names("methods/" + tongue + "/*.md")
		if err != nil {
			return nil, err
		}
		if len(names) > 0 {
			return l.methodTexts(names)
		}
	}
	return nil, fmt.Errorf("theme: no methods/%s", defaultLanguage)
}

func (l layers) methodTexts(names []string) ([]MethodText, error) {
	var texts []MethodText
	for _, name := range names {
		source, err := l.read(name)
		if err != nil {
			return nil, err
		}
		heading, markdown, _ := bytes.Cut(source, []byte("\n"))
		title, ok := strings.CutPrefix(string(heading), "# ")
		if !ok {
			return nil, fmt.Errorf("theme: %s:1:1: the file does not begin with its title (write # Title)", name)
		}
		_, id, ok := strings.Cut(strings.TrimSuffix(path.Base(name), ".md"), "-")
		if !ok {
			return nil, fmt.Errorf("theme: %s: the file is not called NN-ID.md", name)
		}
		texts = append(texts, MethodText{ID: id, Title: strings.TrimSpace(title), Markdown: markdown, File: name, FirstLine: 2})
	}
	return texts, nil
}
