package stats

import (
	"errors"
	"math"
	"math/big"
)

// Conditional is the exact comparison of two samples over blocks, given how many
// pieces passed in each block.
type Conditional struct {
	// Exact counts the ways to place every block's passes among its pieces, by how
	// many fall to the first sample altogether; two-sided, those no more likely than
	// the observed number (a relative 1e-7 is a tie).
	Exact Exact

	// OddsRatio is the common odds ratio of greatest conditional likelihood. It is 0
	// or +Inf, as is the limit on that side, where the first sample has the fewest or
	// most passes it can have. Defined is false where no block says anything.
	OddsRatio float64
	Interval  Interval
	Defined   bool
}

// ConditionalTest is the exact test of no difference in any block, with the odds
// ratio common to all. For one block it is Fisher's test. More than a thousand
// pieces a sample altogether take long, more than ten thousand are an error.
// Source: Mehta, Patel & Gray 1985, J. Am. Stat. Assoc. 80:969; Agresti 1990,
// Categorical Data Analysis, s. 3.2.
func ConditionalTest(blocks []Block, level float64) (Conditional, error) {
	if err := errors.Join(checkBlocks(blocks), checkLevel(level)); err != nil {
		return Conditional{}, err
	}
	pieces := 0
	for _, b := range blocks {
		pieces += b.N1 + b.N2
	}
	if pieces > mostPieces {
		return Conditional{}, errors.New("too many pieces for an exact test over blocks (at most 10000)")
	}
	ways, observed := []*big.Int{big.NewInt(1)}, 0
	for _, b := range blocks {
		low, block := hypergeometric(b.N1, b.N2, b.X1+b.X2)
		ways = product(ways, block)
		observed += b.X1 - low
	}
	c := Conditional{Exact: conditional(ways, observed)}
	if len(ways) > 1 {
		c.estimate(ways, observed, level)
	}
	return c, nil
}

// product multiplies a polynomial by another one, the shorter of the two, and uses up the
// first: the ways for the sum of two parts. It goes from the highest number down, for each
// needs those below it and itself, and so makes next to nothing new.
func product(a, b []*big.Int) []*big.Int {
	before := len(a)
	for range len(b) - 1 {
		a = append(a, new(big.Int))
	}
	var sum, term big.Int
	for k := len(a) - 1; k >= 0; k-- {
		sum.SetUint64(0)
		for j := max(0, k-before+1); j <= min(k, len(b)-1); j++ {
			sum.Add(&sum, term.Mul(a[k-j], b[j]))
		}
		a[k].Set(&sum)
	}
	return a
}

// farthest bounds the logarithm of an odds ratio that is searched for.
const farthest = 60

// estimate finds the odds ratio ψ under which the observed number is expected, and
// the limits under which either tail has half of 1 − level. The probability of s
// is proportional to ways(s) ψ^s.
func (c *Conditional) estimate(ways []*big.Int, observed int, level float64) {
	logs := make([]float64, len(ways))
	for s, way := range ways {
		logs[s] = logBig(way)
	}
	tail := (1 - level) / 2
	last := len(ways) - 1
	c.Defined = true
	c.OddsRatio, c.Interval = math.Inf(1), Interval{Low: 0, High: math.Inf(1)}
	if observed == 0 {
		c.OddsRatio = 0
	} else {
		c.Interval.Low = math.Exp(solve(func(psi float64) float64 {
			return share(logs, psi, observed, last) - tail
		}, -farthest, farthest))
	}
	if observed < last {
		c.Interval.High = math.Exp(solve(func(psi float64) float64 {
			return tail - share(logs, psi, 0, observed)
		}, -farthest, farthest))
	}
	if observed > 0 && observed < last {
		c.OddsRatio = math.Exp(solve(func(psi float64) float64 {
			return expected(logs, psi) - float64(observed)
		}, -farthest, farthest))
	}
}

// tilted are the probabilities at the logarithm of an odds ratio.
func tilted(logs []float64, psi float64) []float64 {
	top := math.Inf(-1)
	for s, l := range logs {
		top = max(top, l+float64(s)*psi)
	}
	ps := make([]float64, len(logs))
	sum := 0.0
	for s, l := range logs {
		ps[s] = math.Exp(l + float64(s)*psi - top)
		sum += ps[s]
	}
	for s := range ps {
		ps[s] /= sum
	}
	return ps
}

// share is the probability of the numbers from first to last.
func share(logs []float64, psi float64, first, last int) float64 {
	sum := 0.0
	for _, p := range tilted(logs, psi)[first : last+1] {
		sum += p
	}
	return sum
}

// expected is the mean number.
func expected(logs []float64, psi float64) float64 {
	sum := 0.0
	for s, p := range tilted(logs, psi) {
		sum += float64(s) * p
	}
	return sum
}
