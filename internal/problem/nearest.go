package problem

import "unicode"

// longestWord is the longest word that is compared, in bytes. Nobody mistypes a longer one.
const longestWord = 400

// Nearest returns the word among the given ones that was probably meant by
// word, or "" when none is near.
//
// Near means: at most one slip for every three runes of the longer word, a slip
// being one rune added, dropped, changed, or swapped with its neighbour
// (the restricted Damerau-Levenshtein distance; Damerau 1964, CACM 7:171).
// Letter case, and a hyphen or underscore for a space, cost nothing. Of equally near words
// the first one wins.
func Nearest(word string, among []string) string {
	best, least := "", -1
	if len(word) > longestWord {
		return "" // the work grows with the square
	}
	for _, candidate := range among {
		if len(candidate) > longestWord {
			continue
		}
		a, b := fold(word), fold(candidate)
		slips := distance(a, b)
		if slips > max(len(a), len(b))/3 {
			continue
		}
		if least < 0 || slips < least {
			best, least = candidate, slips
		}
	}
	return best
}

// DidYouMean returns the hint for an unknown word: the nearest known one, or,
// where none is near, nothing.
func DidYouMean(word string, among []string) string {
	if near := Nearest(word, among); near != "" {
		return "did you mean " + near + "?"
	}
	return ""
}

func fold(s string) []rune {
	var folded []rune
	for _, r := range s {
		if r == '-' || r == '_' {
			r = ' '
		}
		folded = append(folded, unicode.ToLower(r))
	}
	return folded
}

// distance counts slips row by row; only the last three rows are kept.
func distance(a, b []rune) int {
	older := make([]int, len(b)+1)
	old := make([]int, len(b)+1)
	row := make([]int, len(b)+1)
	for j := range old {
		old[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := old[j-1]
			if a[i-1] != b[j-1] {
				change++
			}
			row[j] = min(change, old[j]+1, row[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], older[j-2]+1)
			}
		}
		older, old, row = old, row, older
	}
	return old[len(b)]
}
