package page

import (
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/wording"
	"sidebatch.example/sidebatch/themes"
)

// layers is a theme over the built-in one: each file is looked for in turn.
type layers []fs.FS

func over(theme fs.FS) layers {
	if theme == nil {
		return layers{themes.Bench()}
	}
	return layers{theme, themes.Bench()}
}

// read returns the first file of that name.
func (l layers) read(name string) ([]byte, error) {
	for _, layer := range l {
		text, err := fs.ReadFile(layer, name)
		if err == nil || !errors.Is(err, fs.ErrNotExist) {
			return text, err
		}
	}
	return nil, fmt.Errorf("theme: no %s", name)
}

// names returns the names of all files that match the pattern, sorted, each once.
func (l layers) names(pattern string) ([]string, error) {
	var all []string
	for _, layer := range l {
		found, err := fs.Glob(layer, pattern)
		if err != nil {
			return nil, err
		}
		all = append(all, found...)
	}
	slices.Sort(all)
	return slices.Compact(all), nil
}

// styles puts the parts of a style sheet together in the order of their names.
func (l layers) styles(folder string) ([]byte, error) {
	names, err := l.names(folder + "/*.css")
	if err != nil {
		return nil, err
	}
	var sheet []byte
	for _, name := range names {
		part, err := l.read(name)
		if err != nil {
			return nil, err
		}
		sheet = append(sheet, part...)
	}
	return sheet, nil
}

// parse reads every template of the theme into one set, with the words of one
// language bound to it.
func (l layers) parse(w wording.Phrases) (*template.Template, error) {
	names, err := l.names("*.html")
	if err != nil {
		return nil, err
	}
	set := template.New("theme").Option("missingkey=error").Funcs(functions(w))
	for _, name := range names {
		text, err := l.read(name)
		if err != nil {
			return nil, err
		}
		if _, err := set.New(name).Parse(string(text)); err != nil {
			return nil, themeError(err)
		}
	}
	return set, nil
}

// themeError says that a template is broken; the template package gives file,
// line and column.
func themeError(err error) error {
	text := strings.TrimPrefix(err.Error(), "html/template:")
	return errors.New("theme: " + strings.TrimPrefix(text, "template: "))
}
