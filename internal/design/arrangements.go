package design

import (
	"cmp"
	"slices"
)

// Test is a discrimination or preference test, as far as its arrangements go.
type Test int

const (
	Triangle        Test = iota // three cups, two alike: which is the odd one?
	DuoTrioConstant             // a reference, always of A, and two cups: which is like it?
	DuoTrioBalanced             // the same with references of A and of B
	TwoAFC                      // two cups: which has more? B, by design
	ThreeAFC                    // three cups, two of A: which has more? B, by design
	Tetrad                      // four cups, two of each: which belongs with the first?
	Paired                      // two cups: which do you like better? There is no right answer
)

// Arrangement is the order in which one set of cups stands before an assessor.
type Arrangement struct {
	Cups   string // of the samples A and B: "AAB"; of a duo-trio the first is the reference
	Answer int    // which cup is right, from 0; −1 where none is
}

// Arrangements returns all arrangements of a test: each of them equally often makes
// the test fair to every place and to both samples.
//
// A triangle has six (ISO 4120), a tetrad six, a duo-trio with a constant reference
// two and with a balanced one four (ISO 10399), a paired test two (ISO 5495), a
// 3-AFC three. Of a tetrad the answer is the cup that is of the first one's kind;
// picking it is the same as sorting the four into two pairs.
func (t Test) Arrangements() []Arrangement {
	switch t {
	case Triangle:
		return []Arrangement{{"AAB", 2}, {"ABA", 1}, {"BAA", 0}, {"ABB", 0}, {"BAB", 1}, {"BBA", 2}}
	case DuoTrioConstant:
		return []Arrangement{{"AAB", 1}, {"ABA", 2}}
	case DuoTrioBalanced:
		return []Arrangement{{"AAB", 1}, {"ABA", 2}, {"BBA", 1}, {"BAB", 2}}
	case TwoAFC:
		return []Arrangement{{"AB", 1}, {"BA", 0}}
	case ThreeAFC:
		return []Arrangement{{"AAB", 2}, {"ABA", 1}, {"BAA", 0}}
	case Tetrad:
		return []Arrangement{{"AABB", 1}, {"ABAB", 2}, {"ABBA", 3}, {"BBAA", 1}, {"BABA", 2}, {"BAAB", 3}}
	case Paired:
		return []Arrangement{{"AB", -1}, {"BA", -1}}
	}
	return nil
}

// Evenness says how even a test's sets are. Each pair is the rarest and the most
// frequent.
type Evenness struct {
	ArrangementMin, ArrangementMax int // sets of an arrangement
	AnswerMin, AnswerMax           int // right answers in a place where they can be
	FirstMin, FirstMax             int // sets that begin with a sample that can be first
}

// Even reports whether every arrangement occurs equally often.
func (e Evenness) Even() bool { return e.ArrangementMin == e.ArrangementMax }

// EvennessOf counts the sets of a test.
func (t Test) EvennessOf(sets []Arrangement) Evenness {
	kinds, answers, firsts := map[string]int{}, map[int]int{}, map[byte]int{}
	for _, a := range t.Arrangements() {
		kinds[a.Cups], answers[a.Answer], firsts[a.Cups[0]] = 0, 0, 0
	}
	for _, a := range sets {
		kinds[a.Cups]++
		answers[a.Answer]++
		firsts[a.Cups[0]]++
	}
	var e Evenness
	e.ArrangementMin, e.ArrangementMax = ends(kinds)
	e.AnswerMin, e.AnswerMax = ends(answers)
	e.FirstMin, e.FirstMax = ends(firsts)
	return e
}

func ends[K comparable](counts map[K]int) (least, most int) {
	first := true
	for _, n := range counts {
		if first {
			least, most, first = n, n, false
		}
		least, most = min(least, n), max(most, n)
	}
	return least, most
}

// Sets returns an arrangement for each of n sets: all arrangements in turn, each
// round in an order that is drawn. The last round, where it is not whole, takes
// those that leave the places of the right answer as even as can be, and then the
// sample that comes first.
func (t Test) Sets(n int, seed Seed) []Arrangement {
	all := t.Arrangements()
	if len(all) == 0 {
		return nil
	}
	draw := seed.For("arrangements").rand()
	var sets []Arrangement
	for len(sets) < n {
		round := slices.Clone(all)
		draw.Shuffle(len(round), func(i, j int) { round[i], round[j] = round[j], round[i] })
		sets = append(sets, t.evenest(round, min(n-len(sets), len(round)))...)
	}
	return sets
}

// evenest returns the n of a round that are most even; of equally even ones, the
// first in its order.
func (t Test) evenest(round []Arrangement, n int) []Arrangement {
	if n >= len(round) {
		return round
	}
	var best []Arrangement
	var least Evenness
	subsets(len(round), n, func(chosen []int) {
		some := make([]Arrangement, 0, n)
		for _, i := range chosen {
			some = append(some, round[i])
		}
		if e := t.EvennessOf(some); best == nil || e.compare(least) < 0 {
			best, least = some, e
		}
	})
	return best
}

func (e Evenness) compare(o Evenness) int {
	return cmp.Or(
		cmp.Compare(e.AnswerMax-e.AnswerMin, o.AnswerMax-o.AnswerMin),
		cmp.Compare(e.FirstMax-e.FirstMin, o.FirstMax-o.FirstMin),
	)
}
