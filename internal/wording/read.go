package wording

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
	"sync"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"

	"sidebatch.example/sidebatch/themes"
)

// original is the language that every other is measured by, and that stands in for
// one that the theme has no words for.
const original = "en"

// Book is the words of a theme in all its languages.
type Book struct {
	languages map[string]*Language
	needed    map[string]phrase // the built-in English, by which the others are measured
}

// Read reads every words file of a theme: a JSON object of sections, each an object
// of phrases, each a text or an object of texts by plural form ("one", "other"). A
// theme's file adds to the built-in one of the same language or changes single
// phrases of it, and a phrase that it adds in English alone serves every language;
// nil is the built-in theme. An error names the file, and the line
// where the file is not JSON.
func Read(theme fs.FS) (*Book, error) {
	read := builtIn
	if theme != nil {
		read = func() (*Book, error) { return readAll(theme) }
	}
	book, err := read()
	if err != nil {
		return nil, err
	}
	return book, book.check()
}

// builtIn is the words of the built-in theme, read once: nothing changes a book.
var builtIn = sync.OnceValues(func() (*Book, error) { return readAll(nil) })

func readAll(theme fs.FS) (*Book, error) {
	layers := []fs.FS{themes.Bench()}
	if theme != nil {
		layers = append(layers, theme)
	}
	book := &Book{languages: map[string]*Language{}}
	for _, layer := range layers {
		names, err := fs.Glob(layer, "words/*.json")
		if err != nil {
			return nil, err
		}
		for _, name := range names {
			if err := book.add(layer, name); err != nil {
				return nil, fmt.Errorf("%s: %w", name, err)
			}
		}
		if book.needed == nil && book.languages[original] != nil {
			book.needed = maps.Clone(book.languages[original].phrases)
		}
	}
	for _, l := range book.languages {
		l.original = book.languages[original]
	}
	return book, nil
}

// English is the built-in theme's English.
func English() *Language {
	book, err := builtIn()
	if err != nil {
		return &Language{name: original, tag: language.English} // says its keys; a test reads the built-in files
	}
	return book.In(original)
}

// Names lists the languages, sorted.
func (b *Book) Names() []string { return slices.Sorted(maps.Keys(b.languages)) }

// In returns the words of a language; of "pt-BR" those of "pt" do where there are
// none nearer, and English where there are none at all. Has tells.
func (b *Book) In(name string) *Language {
	base, _, _ := strings.Cut(name, "-")
	return cmp.Or(b.languages[name], b.languages[base], b.languages[original])
}

// Has reports whether the theme has words for a language, or for the one that it is
// a variety of.
func (b *Book) Has(name string) bool {
	base, _, _ := strings.Cut(name, "-")
	return b.languages[name] != nil || b.languages[base] != nil
}

// forms are the names of the plural forms in a words file, as CLDR has them.
func forms() map[string]plural.Form {
	return map[string]plural.Form{"zero": plural.Zero, "one": plural.One, "two": plural.Two,
		"few": plural.Few, "many": plural.Many, "other": plural.Other}
}

// add reads one file over what the book has of its language.
func (b *Book) add(layer fs.FS, file string) error {
	name := strings.TrimSuffix(path.Base(file), ".json")
	tag, err := language.Parse(name)
	if err != nil {
		return fmt.Errorf("%q is no language of BCP 47", name)
	}
	text, err := fs.ReadFile(layer, file)
	if err != nil {
		return err
	}
	var sections map[string]map[string]json.RawMessage
	if err := json.Unmarshal(text, &sections); err != nil {
		return placed(text, err)
	}
	l := b.languages[name]
	if l == nil {
		l = &Language{name: name, tag: tag, phrases: map[string]phrase{}}
		b.languages[name] = l
	}
	for _, section := range slices.Sorted(maps.Keys(sections)) {
		for _, key := range slices.Sorted(maps.Keys(sections[section])) {
			read, err := readPhrase(sections[section][key])
			if err != nil {
				return fmt.Errorf("%s, %q: %w", section, key, err)
			}
			l.phrases[section+"/"+key] = read
		}
	}
	return nil
}

func readPhrase(raw json.RawMessage) (phrase, error) {
	var text string
	if json.Unmarshal(raw, &text) == nil {
		return phrase{plural.Other: text}, nil
	}
	var byForm map[string]string
	if err := json.Unmarshal(raw, &byForm); err != nil {
		return nil, errors.New("a phrase is a text, or texts by plural form")
	}
	read := phrase{}
	for name, text := range byForm {
		form, known := forms()[name]
		if !known {
			return nil, fmt.Errorf("no plural form is called %q (they are zero, one, two, few, many and other)", name)
		}
		read[form] = text
	}
	return read, nil
}

// placed adds the line to an error of the JSON reader.
func placed(text []byte, err error) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	offset := int64(0)
	switch {
	case errors.As(err, &syntax):
		offset = syntax.Offset
	case errors.As(err, &kind):
		offset = kind.Offset
	}
	line := 1 + bytes.Count(text[:min(int(offset), len(text))], []byte("\n"))
	return fmt.Errorf("line %d: %w", line, err)
}
