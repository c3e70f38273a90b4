package prose

import (
	"strconv"
	"strings"
	"unicode"
)

// ids gives every heading an id of its own.
type ids struct {
	taken map[string]bool
	last  map[string]int // the last number given to an id
}

func newIDs(taken []string) ids {
	s := ids{taken: map[string]bool{}, last: map[string]int{}}
	for _, id := range taken {
		s.taken[id] = true
	}
	return s
}

// of returns an id for a heading's text: its letters and digits of any script
// in lower case, words joined by hyphens. A text without any is a "section".
// The second of the same id ends in -2, and so on.
func (s ids) of(heading string) string {
	words := strings.FieldsFunc(strings.ToLower(heading), func(r rune) bool {
		return unicode.IsSpace(r) || unicode.Is(unicode.Pd, r) || r == '_' || r == '/'
	})
	var kept []string
	for _, word := range words {
		word = strings.Map(func(r rune) rune {
			if unicode.IsLetter(r) || unicode.IsNumber(r) || unicode.IsMark(r) {
				return r
			}
			return -1
		}, word)
		if word != "" {
			kept = append(kept, word)
		}
	}
	base := strings.Join(kept, "-")
	if base == "" {
		base = "section"
	}
	id := base
	for n := max(2, s.last[base]+1); s.taken[id]; n++ {
		id = base + "-" + strconv.Itoa(n)
		s.last[base] = n
	}
	s.taken[id] = true
	return id
}
