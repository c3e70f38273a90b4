package site

import (
	"fmt"
	"strings"
	"unicode"
)

// longestFolder bounds, in letters, the folder that a name becomes.
const longestFolder = 60

// shelf gives names folders of their own, in the order in which they come: what came
// first keeps its address when a later name would become the same folder.
type shelf struct {
	at    map[string]string // folder by key
	taken map[string]bool
}

func newShelf() shelf { return shelf{at: map[string]string{}, taken: map[string]bool{}} }

// put finds a folder for a name; otherwise is the folder of a name without a letter
// or digit.
func (s shelf) put(key, name, otherwise string) string {
	base := folder(name)
	if base == "" {
		base = otherwise
	}
	free := base
	for n := 2; s.taken[free]; n++ {
		free = fmt.Sprintf("%s-%d", base, n)
	}
	s.taken[free] = true
	s.at[key] = free
	return free
}

// folder keeps letters and digits of any script, in small letters, with one hyphen
// for whatever stands between them.
func folder(name string) string {
	var kept []rune
	gap := false
	for _, r := range strings.ToLower(name) {
		switch {
		case !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.IsMark(r):
			gap = true
			continue
		case gap && len(kept) > 0:
			kept = append(kept, '-')
		}
		gap = false
		kept = append(kept, r)
		if len(kept) >= longestFolder {
			break
		}
	}
	return strings.Trim(string(kept[:min(len(kept), longestFolder)]), "-")
}
