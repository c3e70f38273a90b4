package food

import (
	"slices"
	"strings"
)

// Beginning lists, in their order, the everyday names that begin with words, for
// somebody who is writing one. Letter case and accents count nothing; a name stands as
// [Find] folds it.
func Beginning(words string) []string {
	names, err := openNames()
	if err != nil || len(words) > longestName {
		return nil
	}
	begun := folded(words)
	if strings.HasSuffix(words, " ") && begun != "" {
		begun += " "
	}
	var fitting []string
	for name := range names {
		if strings.HasPrefix(name, begun) {
			fitting = append(fitting, name)
		}
	}
	slices.Sort(fitting)
	return fitting
}
