package design

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func allTests() []Test {
	return []Test{Triangle, DuoTrioConstant, DuoTrioBalanced, TwoAFC, ThreeAFC, Tetrad, Paired}
}

// TestArrangements holds the number of arrangements and the chance to be right by
// guessing, which is one in the places that can be picked: 1/3 for triangle, 3-AFC
// and tetrad, 1/2 for duo-trio and 2-AFC (ISO 4120, ISO 10399, ISO 5495).
func TestArrangements(t *testing.T) {
	tests := []struct {
		test         Test
		want, places int
	}{
		{Triangle, 6, 3}, {DuoTrioConstant, 2, 2}, {DuoTrioBalanced, 4, 2}, {TwoAFC, 2, 2}, {ThreeAFC, 3, 3}, {Tetrad, 6, 3}, {Paired, 2, 1},
	}
	for _, tt := range tests {
		all := tt.test.Arrangements()
		places := map[int]int{}
		for _, a := range all {
			places[a.Answer]++
			if !rightAnswer(tt.test, a) {
				t.Errorf("test %d: %+v does not hold its own answer", tt.test, a)
			}
		}
		if len(all) != tt.want || len(places) != tt.places {
			t.Errorf("test %d: %d arrangements with answers in %d places, want %d and %d", tt.test, len(all), len(places), tt.want, tt.places)
		}
		for place, n := range places {
			if n*len(places) != len(all) {
				t.Errorf("test %d: the answer stands in place %d %d times", tt.test, place, n)
			}
		}
	}
	if Test(99).Arrangements() != nil || Test(99).Sets(3, Seed{}) != nil {
		t.Error("arrangements of no test")
	}
}

// rightAnswer works the answer out from the cups.
func rightAnswer(test Test, a Arrangement) bool {
	switch test {
	case Triangle:
		return strings.Count(a.Cups, a.Cups[a.Answer:a.Answer+1]) == 1
	case TwoAFC, ThreeAFC:
		return a.Cups[a.Answer] == 'B' && strings.Count(a.Cups, "B") == 1
	case DuoTrioConstant, DuoTrioBalanced, Tetrad:
		return a.Answer > 0 && a.Cups[a.Answer] == a.Cups[0] && strings.Count(a.Cups, a.Cups[:1]) == 2
	case Paired:
		return a.Answer == -1 && a.Cups[0] != a.Cups[1]
	}
	return false
}

// Arrangements occur as often as one another, or once more; so do the places of the
// right answer and, in whole rounds, the samples that come first.
func TestSetLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		test := rapid.SampledFrom(allTests()).Draw(t, "test")
		n := rapid.IntRange(0, 50).Draw(t, "sets")
		seed := SeedOf(rapid.String().Draw(t, "seed"))
		sets := test.Sets(n, seed)
		e := test.EvennessOf(sets)
		if len(sets) != n || e.ArrangementMax-e.ArrangementMin > 1 || e.AnswerMax-e.AnswerMin > 1 {
			t.Fatalf("%d sets for %d: %+v", len(sets), n, e)
		}
		if whole := n%len(test.Arrangements()) == 0; whole != e.Even() {
			t.Fatalf("%d sets: %+v", n, e)
		}
		if test == Triangle && n%2 == 0 && e.FirstMax != e.FirstMin {
			t.Fatalf("%d sets begin with one sample more often: %+v", n, e)
		}
		if fmt.Sprint(test.Sets(n, seed)) != fmt.Sprint(sets) {
			t.Fatal("the same seed gives other sets")
		}
	})
}
