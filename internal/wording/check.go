package wording

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"golang.org/x/text/feature/plural"
)

// listed is how many slips of a language are named, so that a file that has just
// been begun does not fill a screen.
const listed = 12

// check holds every language against the original: it must have every phrase, with
// the same names in braces, and of a phrase with forms every form that the language
// has.
func (b *Book) check() error {
	if b.needed == nil {
		return fmt.Errorf("words: no %s.json", original)
	}
	var found []error
	for _, name := range b.Names() {
		found = append(found, shortened(name, b.languages[name].slips(b.needed)))
	}
	return errors.Join(found...)
}

func shortened(name string, slips []string) error {
	if len(slips) == 0 {
		return nil
	}
	shown := slips[:min(len(slips), listed)]
	if more := len(slips) - len(shown); more > 0 {
		shown = append(slices.Clone(shown), fmt.Sprintf("and %d more", more))
	}
	return fmt.Errorf("words/%s.json: %s", name, strings.Join(shown, "; "))
}

// slips lists what a language lacks or has otherwise than the original.
func (l *Language) slips(needed map[string]phrase) []string {
	var found []string
	forms := l.forms()
	for _, key := range slices.Sorted(maps.Keys(needed)) {
		want := needed[key]
		got, has := l.phrases[key]
		switch {
		case !has && optional(key):
			continue
		case !has:
			found = append(found, fmt.Sprintf("no words for %q", key))
			continue
		}
		if len(want) > 1 {
			for _, form := range forms {
				if _, has := got[form]; !has {
					found = append(found, fmt.Sprintf("%q lacks the form %q", key, nameOf(form)))
				}
			}
		}
		for _, form := range slices.Sorted(maps.Keys(got)) {
			// A form for one may leave the number out: "one trial".
			if extra := missing(names(got[form]), names(want[plural.Other])); extra != "" {
				found = append(found, fmt.Sprintf("%q has {%s}, which nothing fills in", key, extra))
			}
		}
		if lost := missing(names(want[plural.Other]), names(got[plural.Other])); lost != "" {
			found = append(found, fmt.Sprintf("%q has no {%s}", key, lost))
		}
	}
	return found
}

// optional reports whether a language may do without a phrase.
func optional(key string) bool {
	section, _, _ := strings.Cut(key, "/")
	return section == "units" // a unit that is absent keeps its symbol
}

// forms lists the plural forms of whole numbers that the language tells apart up to
// a number that nobody counts pieces to.
func (l *Language) forms() []plural.Form {
	seen := map[plural.Form]bool{}
	for n := range 1000 {
		seen[l.form(n)] = true
	}
	return slices.Sorted(maps.Keys(seen))
}

func nameOf(form plural.Form) string {
	for name, f := range forms() {
		if f == form {
			return name
		}
	}
	return "other"
}

// names lists what stands in braces, each once; plain braces count up.
func names(text string) []string {
	var all []string
	plain := 0
	for {
		_, rest, open := strings.Cut(text, "{")
		if !open {
			return all
		}
		name, after, closed := strings.Cut(rest, "}")
		if !closed {
			return all
		}
		if name == "" {
			plain++
			name = fmt.Sprint(plain)
		}
		if !slices.Contains(all, name) {
			all = append(all, name)
		}
		text = after
	}
}

// missing returns the first of some names that others lack, or "".
func missing(some, others []string) string {
	for _, name := range some {
		if !slices.Contains(others, name) {
			return name
		}
	}
	return ""
}
