package draft

import (
	"fmt"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/yamldoc"
)

// Named adds a line to a file of names, such as household-3: Ada Fenn, and leaves the rest
// as it stands. A file to which no line can be added that way is refused.
func Named(standing []byte, key, name string) ([]byte, error) {
	text := string(standing)
	if text != "" && !strings.HasSuffix(text, "\n") {
		text += "\n"
	}
	text += key + ": " + block(name) + "\n"
	want := append(namesIn(standing, nil), [2]string{key, name})
	var problems problem.List
	if got := namesIn([]byte(text), &problems); problems.Len() > 0 || !slices.Equal(got, want) {
		return nil, fmt.Errorf("no line can be added to it (add %s: %s by hand)", key, block(name))
	}
	return []byte(text), nil
}

func namesIn(file []byte, problems *problem.List) [][2]string {
	doc := yamldoc.Parse("", 1, file, problems)
	if doc.Kind() == yamldoc.Empty {
		return nil
	}
	var names [][2]string
	for _, e := range doc.Entries(problems) {
		name, _ := e.Value.Text(problems)
		names = append(names, [2]string{e.Key, name})
	}
	return names
}
