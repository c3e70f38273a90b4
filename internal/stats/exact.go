package stats

import (
	"math"
	"math/big"
)

// Exact is the outcome of an exact test: how many of all equally likely
// arrangements are at least as extreme as the one observed.
type Exact struct {
	P       float64 // two-sided; each test says what "as extreme" means
	Less    float64 // one-sided, for the first sample below the second
	Greater float64 // one-sided, for the first sample above the second

	// The counts behind the probabilities, whole however large, for reading only.
	Count, CountLess, CountGreater, Total *big.Int

	// Sampled is true where arrangements were drawn, not all counted: Total is
	// then the number of draws, the observed arrangement among them, and
	// MonteCarloError the standard error of P that the drawing adds.
	Sampled         bool
	MonteCarloError float64
}

// Doubled is the other two-sided convention: twice the smaller one-sided p, at
// most 1.
func (e Exact) Doubled() float64 { return min(1, 2*min(e.Less, e.Greater)) }

// exactOf fills an Exact from its counts.
func exactOf(two, less, greater, total *big.Int) Exact {
	return Exact{
		P: ratio(two, total), Less: ratio(less, total), Greater: ratio(greater, total),
		Count: two, CountLess: less, CountGreater: greater, Total: total,
	}
}

// ratio is a/b, correctly rounded; b is positive.
func ratio(a, b *big.Int) float64 {
	f, _ := new(big.Rat).SetFrac(a, b).Float64()
	return f
}

// logBig is the natural logarithm of a positive whole number of any length.
func logBig(a *big.Int) float64 {
	mantissa := new(big.Float)
	exponent := new(big.Float).SetInt(a).MantExp(mantissa)
	m, _ := mantissa.Float64()
	return math.Log(m) + float64(exponent)*math.Ln2
}

// asLikely says whether weight a counts as no more likely than the observed one:
// a ≤ observed (1 + 1e-7). The allowance makes tables of equal probability ties,
// as the reference implementations of Fisher's test do it.
func asLikely(a, observed *big.Int) bool {
	left := new(big.Int).Mul(a, big.NewInt(10_000_000))
	right := new(big.Int).Mul(observed, big.NewInt(10_000_001))
	return left.Cmp(right) <= 0
}
