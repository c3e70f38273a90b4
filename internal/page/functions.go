package page

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/wording"
)

// inks is how many colours and patterns the theme has for samples.
const inks = 12

// functions are what a template may call. There are few, for a template decides
// how things look and nothing else.
func functions(w wording.Phrases) template.FuncMap {
	return template.FuncMap{
		"word":   w.Fill,
		"count":  w.Count,
		"ink":    ink,
		"bind":   bind,
		"json":   embedJSON,
		"groups": groups,
		"at":     at,
	}
}

// ink returns the class of a sample's colour and pattern: "ink-a" for A. From M
// on they begin again; a letter that is none counts as A.
func ink(letter string) string {
	n := 0
	if letter != "" && letter[0] >= 'A' && letter[0] <= 'Z' {
		n = int(letter[0]-'A') % inks
	}
	return "ink-" + string(rune('a'+n))
}

// bind gives several values to one template: name, value, name, value.
func bind(pairs ...any) (map[string]any, error) {
	if len(pairs)%2 != 0 {
		return nil, errors.New("bind: a name without a value")
	}
	bound := make(map[string]any)
	for pair := range slices.Chunk(pairs, 2) {
		name, is := pair[0].(string)
		if !is {
			return nil, fmt.Errorf("bind: %v is no name", pair[0])
		}
		bound[name] = pair[1]
	}
	return bound, nil
}

// embedJSON returns JSON that can stand in a script element: <, > and & are
// written as escapes, so that nothing in it ends the element.
func embedJSON(value []byte) (template.JS, error) {
	if !json.Valid(value) {
		return "", errors.New("not JSON")
	}
	var b bytes.Buffer
	json.HTMLEscape(&b, value)
	return template.JS(b.String()), nil
}

// at returns the element of a list, or false where the list is shorter.
func at(list []bool, i int) bool { return i < len(list) && list[i] }

// firstInOrder returns the first error by its text, so that one run is like
// the next.
func firstInOrder(errs []error) error {
	if len(errs) == 0 {
		return nil
	}
	return slices.MinFunc(errs, func(a, b error) int { return cmp.Compare(a.Error(), b.Error()) })
}

// grouped is a run of lines with one heading.
type grouped[T any] struct {
	Group string
	Lines []T
}

// groups cuts the lines of a recipe where their group changes.
func groups(lines any) (any, error) {
	switch lines := lines.(type) {
	case []RecipeLine:
		return runs(lines, func(l RecipeLine) string { return l.Group }), nil
	case []SizeLine:
		return runs(lines, func(l SizeLine) string { return l.Group }), nil
	}
	return nil, fmt.Errorf("groups: %s has no groups", strings.TrimPrefix(fmt.Sprintf("%T", lines), "page."))
}

func runs[T any](lines []T, group func(T) string) []grouped[T] {
	var all []grouped[T]
	for _, line := range lines {
		if n := len(all); n == 0 || all[n-1].Group != group(line) {
			all = append(all, grouped[T]{Group: group(line)})
		}
		last := &all[len(all)-1]
		last.Lines = append(last.Lines, line)
	}
	return all
}
