package quantity

import "slices"

// LooksLikeUnit returns the unit word of which word is probably a slip: "grm" is
// near "gram", "tbps" near "tbsp". It returns false for a word that is a unit and for a word
// that is near none, so that "2 mint leaves" earns no question.
//
// Near means that the words begin with the same letter, or with the same two
// swapped, and are one slip apart (two from eight letters on). A slip is a letter
// added, dropped or swapped with its neighbour; a changed letter counts as one slip
// only from six letters on, as short foods and short units differ in one letter too
// often (mint, mins). Letter case costs nothing; of equally near words the one
// nearest in length, then the alphabetically first, wins.
func LooksLikeUnit(word string) (nearest string, ok bool) {
	folded := []rune(fold(word))
	if _, unit := words().means[string(folded)]; unit || len(folded) < 2 || isFood(string(folded)) {
		return "", false
	}
	least, gap := 0, 0
	for _, candidate := range words().usual {
		c := []rune(fold(candidate))
		swapped := len(c) > 1 && c[0] == folded[1] && c[1] == folded[0]
		if len(c) < 2 || c[0] != folded[0] && !swapped {
			continue
		}
		apart, most := max(len(c), len(folded))-min(len(c), len(folded)), allowance(len(c), len(folded))
		if apart > most {
			continue // a slip makes a word longer or shorter by one letter
		}
		slips := slipsBetween(folded, c)
		if slips > most {
			continue
		}
		if !ok || slips < least || slips == least && apart < gap {
			nearest, least, gap, ok = candidate, slips, apart, true
		}
	}
	return nearest, ok
}

// allowance is how many slips are forgiven between words of those lengths. A unit of
// two letters is near only to its own letters swapped or with one doubled.
func allowance(unit, word int) int {
	switch {
	case unit == 2 && word != 2:
		return 0
	case max(unit, word) >= 8:
		return 2
	default:
		return 1
	}
}

// isFood lists the foods, and words about them, that are one slip from a unit.
func isFood(folded string) bool {
	return slices.Contains([]string{"mint", "pinto", "cusp", "main", "grains", "mince", "hog", "our", "cupped", "cop"}, folded)
}

// slipsBetween is the restricted Damerau-Levenshtein distance (Damerau 1964, CACM
// 7:171) with a changed letter dearer in short words.
func slipsBetween(a, b []rune) int {
	change := 2
	if min(len(a), len(b)) >= 6 {
		change = 1
	}
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			d := min(rows[i-1][j]+1, rows[i][j-1]+1)
			if a[i-1] == b[j-1] {
				d = min(d, rows[i-1][j-1])
			} else {
				d = min(d, rows[i-1][j-1]+change)
			}
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d = min(d, rows[i-2][j-2]+1)
			}
			rows[i][j] = d
		}
	}
	return rows[len(a)][len(b)]
}
