package stats

import (
	"math"
	"math/big"
	"math/rand/v2"
)

// Sampling says what a test may spend. The zero value serves: it counts all
// arrangements while that takes up to about twenty million steps (a fraction of a
// second), and otherwise draws a hundred thousand with seed 0. The same seed gives
// the same draws.
type Sampling struct {
	Seed  uint64
	Draws int // 0 means 100,000
	Work  int // most steps of an exact count; 0 means 20,000,000, below 0 always draws
}

func (s Sampling) draws() int {
	if s.Draws <= 0 {
		return 100_000
	}
	return s.Draws
}

func (s Sampling) work() int {
	if s.Work == 0 {
		return 20_000_000
	}
	return max(0, s.Work)
}

// mapStep is what a step in a map of states costs, in steps of a plain loop.
const mapStep = 40

// drawn runs the draws. arrange makes one random arrangement and says on which
// sides it is as extreme as the observed one. The observed arrangement counts as
// a draw of its own, so that no p is 0.
// Source: Phipson & Smyth 2010, Stat. Appl. Genet. Mol. Biol. 9:39.
func (s Sampling) drawn(arrange func(r *rand.Rand) (two, less, greater bool)) Exact {
	r := rand.New(rand.NewPCG(s.Seed, 0x5eed))
	counts := [3]int64{1, 1, 1}
	for range s.draws() {
		two, less, greater := arrange(r)
		for i, hit := range [3]bool{two, less, greater} {
			if hit {
				counts[i]++
			}
		}
	}
	total := int64(s.draws()) + 1
	e := exactOf(big.NewInt(counts[0]), big.NewInt(counts[1]), big.NewInt(counts[2]), big.NewInt(total))
	e.Sampled = true
	e.MonteCarloError = math.Sqrt(e.P * (1 - e.P) / float64(total))
	return e
}
