package food

import (
	"cmp"
	"math/bits"
	"slices"
	"strings"
	"sync"
)

// Nearest returns up to n foods that words may mean, the likeliest first: for
// a person to choose from, never to compute with. Every food comes once, under
// the name of it that is nearest. The order depends on words alone.
//
// A name is near when it has the same words, longer or shorter forms of them, or
// words that are a slip or two away; the last word of an everyday name and the
// first of a description count most, for they say what the thing is. Everyday
// names come before descriptions, and ready meals, snacks, industrial fats and
// foods that few kitchens know come last unless all the words are theirs.
func Nearest(words string, n int) []Match {
	t, err := openTable()
	if err != nil || n <= 0 || len(words) > longestName {
		return nil
	}
	index := openIndex()
	if index == nil {
		return nil
	}
	scored := index.rank(stems(words))
	var near []Match
	seen := make(map[int]bool)
	for _, s := range scored {
		if len(near) == n {
			break
		}
		c := index.candidates[s.candidate]
		if seen[c.food] {
			continue
		}
		seen[c.food] = true
		if m, ok := t.match(c.entry); ok {
			near = append(near, m)
		}
	}
	return near
}

// candidate is a name that Nearest can propose.
type candidate struct {
	entry
	words int // how many
	head  int // the word that says what it is, in the index's vocabulary
	back  int // points taken off because few kitchens mean it
}

// index finds names by their words.
type index struct {
	candidates []candidate
	vocabulary []string
	letters    []uint32 // by word: which letters it has
	byWord     map[string]int
	found      [][]int32 // by word: the candidates with it
}

var openIndex = sync.OnceValue(func() *index {
	t, err := openTable()
	if err != nil {
		return nil
	}
	names, err := openNames()
	if err != nil {
		return nil
	}
	x := &index{byWord: make(map[string]int)}
	for _, key := range sortedKeys(names) {
		// A name stands once, under its own spelling: the other number is not listed.
		if e := names[key]; folded(e.name) == key {
			w := stems(e.name)
			x.add(candidate{entry: e, back: setBack(t.rows[e.food])}, w, len(w)-1)
		}
	}
	for i, r := range t.rows {
		e := entry{food: i, name: r.description, via: ExactDescription}
		x.add(candidate{entry: e, back: setBack(r)}, stems(r.description), 0)
	}
	return x
})

func sortedKeys(names map[string]entry) []string {
	keys := make([]string, 0, len(names))
	for key := range names {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	return keys
}

func (x *index) add(c candidate, words []string, head int) {
	if len(words) == 0 {
		return
	}
	at := int32(len(x.candidates))
	c.words = len(words)
	for i, w := range words {
		id, known := x.byWord[w]
		if !known {
			id = len(x.vocabulary)
			x.byWord[w] = id
			x.vocabulary = append(x.vocabulary, w)
			x.letters = append(x.letters, lettersOf(w))
			x.found = append(x.found, nil)
		}
		if i == head {
			c.head = id
		}
		if list := x.found[id]; len(list) == 0 || list[len(list)-1] != at {
			x.found[id] = append(list, at)
		}
	}
	x.candidates = append(x.candidates, c)
}

// setBack is how many points a row loses because few kitchens mean it.
func setBack(r row) int {
	switch {
	case r.group == "American Indian/Alaska Native Foods":
		return 35
	case r.group == "Meals, Entrees, and Side Dishes", r.group == "Snacks":
		return 30
	case strings.Contains(r.description, "industrial"):
		return 30
	case r.group == "Baked Products", r.group == "Sausages and Luncheon Meats", r.group == "Soups, Sauces, and Gravies":
		return 5
	}
	return 0
}

// score is how near a candidate is; the counts decide among equals.
type score struct {
	candidate int
	points    int
}

// The points of one word that is like a word said, out of 100.
const (
	sameWord   = 100
	longerWord = 70 // the name goes on: "choc", chocolate
	oneSlip    = 75
	shorter    = 55 // the name stops before: "buttery", butter
	twoSlips   = 55
	nearEnough = 40 // a name below that is not near
)

// rank scores every candidate that shares a word with what was said.
func (x *index) rank(said []string) []score {
	if len(said) == 0 {
		return nil
	}
	if len(said) > 12 {
		said = said[:12]
	}
	points := make([]int, len(x.candidates)) // sums over the words said
	met := make([]int, len(x.candidates))    // how many words of the name were met
	heads := make([]bool, len(x.candidates)) // the word that says what it is was met by the last or only one said
	best := make([]int, len(x.candidates))   // of the word at hand
	weights := 0
	for i, word := range said {
		weight := 2
		if i == len(said)-1 {
			weight = 3
		}
		weights += weight
		clear(best)
		for id, alike := range x.alike(word) {
			if alike == 0 {
				continue
			}
			for _, c := range x.found[id] {
				if alike > best[c] {
					best[c] = alike
				}
				if i == len(said)-1 && x.candidates[c].head == id {
					heads[c] = true
				}
			}
		}
		for c, alike := range best {
			if alike > 0 {
				points[c] += weight * alike
				met[c]++
			}
		}
	}
	return x.sorted(points, met, heads, weights)
}

// sorted turns the sums into points and puts the nearest first.
func (x *index) sorted(points, met []int, heads []bool, weights int) []score {
	var scored []score
	for i, sum := range points {
		if sum == 0 {
			continue
		}
		c := x.candidates[i]
		p := sum / weights
		full := p == sameWord && (met[i] > 1 || c.words == 1) // all that was said is in it
		p -= min(3*(c.words-min(met[i], c.words)), 20)
		if heads[i] {
			p += 10
		}
		if c.via != ExactDescription {
			p += 8
		}
		if !full {
			p -= c.back
		}
		if p >= nearEnough {
			scored = append(scored, score{i, p})
		}
	}
	slices.SortFunc(scored, func(a, b score) int {
		p, q := x.candidates[a.candidate], x.candidates[b.candidate]
		return cmp.Or(cmp.Compare(b.points, a.points), cmp.Compare(p.via, q.via),
			cmp.Compare(p.words, q.words), cmp.Compare(len(p.name), len(q.name)), cmp.Compare(a.candidate, b.candidate))
	})
	return scored
}

// alike gives every word of the vocabulary its points against a word said. A
// word that is in the vocabulary is no slip for another.
func (x *index) alike(word string) []int {
	_, known := x.byWord[word]
	letters, allowed := lettersOf(word), allowedSlips(word)
	points := make([]int, len(x.vocabulary))
	for id, w := range x.vocabulary {
		points[id] = sameStart(word, w)
		// A slip adds and takes one letter at most.
		if points[id] == 0 && !known && bits.OnesCount32(letters^x.letters[id]) <= 2*allowed {
			points[id] = slipped(word, w, allowed)
		}
	}
	return points
}

// lettersOf is the set of the letters of a word; all other signs are one.
func lettersOf(word string) uint32 {
	var set uint32
	for i := 0; i < len(word); i++ {
		if c := word[i]; c >= 'a' && c <= 'z' {
			set |= 1 << (c - 'a')
		} else {
			set |= 1 << 26
		}
	}
	return set
}

func sameStart(said, w string) int {
	switch {
	case said == w:
		return sameWord
	case len(said) >= 3 && strings.HasPrefix(w, said):
		return longerWord
	case len(w) >= 4 && strings.HasPrefix(said, w):
		return shorter
	}
	return 0
}

// allowedSlips is how many slips a word may have in it.
func allowedSlips(word string) int {
	switch n := len(word); {
	case n < 4:
		return 0
	case n < 7:
		return 1
	}
	return 2
}

func slipped(said, w string, allowed int) int {
	if allowed == 0 || len(w) < 4 {
		return 0
	}
	switch d := slips(said, w, allowed); {
	case d > allowed:
		return 0
	case d == 1:
		return oneSlip
	}
	return twoSlips
}

// slips counts how many letters must be added, dropped, changed or swapped with
// the next to make one word the other (restricted Damerau-Levenshtein distance;
// Damerau 1964, Communications of the ACM 7:171); more than allowed is reported
// as allowed + 1. Longer words than 32 bytes are not compared.
func slips(a, b string, allowed int) int {
	const longest = 32
	if d := len(a) - len(b); d > allowed || -d > allowed || len(a) > longest || len(b) > longest {
		return allowed + 1
	}
	var rows [3][longest + 1]int
	older, old, now := &rows[0], &rows[1], &rows[2]
	for j := 0; j <= len(b); j++ {
		old[j] = j
	}
	for i := 1; i <= len(a); i++ {
		now[0] = i
		least := i
		for j := 1; j <= len(b); j++ {
			change := old[j-1]
			if a[i-1] != b[j-1] {
				change++
			}
			now[j] = min(change, old[j]+1, now[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				now[j] = min(now[j], older[j-2]+1)
			}
			least = min(least, now[j])
		}
		if least > allowed+1 {
			return allowed + 1
		}
		older, old, now = old, now, older
	}
	return min(old[len(b)], allowed+1)
}
