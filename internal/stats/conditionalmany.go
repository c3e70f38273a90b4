package stats

import (
	"errors"
	"math"
	"math/big"
)

// countedPieces is up to how many pieces ConditionalP counts in whole numbers; more take
// long that way, for the numbers have about as many bits as there are pieces.
const countedPieces = 500

// ConditionalP is the two-sided p of [ConditionalTest] alone, for many blocks; ok is false
// where no block says anything. Up to 500 pieces it is the same number. Beyond, ways are
// counted with 53 bits and an exponent of their own: only positive numbers are multiplied
// and added, so each step adds at most a rounding of 1.1e-16, and the p is right to a
// relative 1e-10. Ten thousand pieces of six to a sample take some hundredths of a second;
// more are an error.
func ConditionalP(blocks []Block) (p float64, ok bool, err error) {
	if err := checkBlocks(blocks); err != nil {
		return 0, false, err
	}
	pieces, observed := 0, 0
	for _, b := range blocks {
		pieces += b.N1 + b.N2
	}
	if pieces > mostPieces {
		return 0, false, errors.New("too many pieces for an exact test over blocks (at most 10000)")
	}
	counted, ways := []*big.Int{big.NewInt(1)}, scaledWays{mantissas: []float64{0.5}, exponents: []int{1}}
	for _, b := range blocks {
		low, block := hypergeometric(b.N1, b.N2, b.X1+b.X2)
		observed += b.X1 - low
		if pieces <= countedPieces {
			counted = product(counted, block)
		} else {
			ways.multiply(scaleWays(block))
		}
	}
	if pieces <= countedPieces {
		return conditional(counted, observed).P, len(counted) > 1, nil
	}
	return ways.twoSided(observed), len(ways.mantissas) > 1, nil
}

// scaledWays are positive numbers of any size: mantissas from 0.5 to 1, times two to the
// exponents.
type scaledWays struct {
	mantissas []float64
	exponents []int
}

func scaleWays(ways []*big.Int) scaledWays {
	s := scaledWays{mantissas: make([]float64, len(ways)), exponents: make([]int, len(ways))}
	for i, way := range ways {
		mantissa := new(big.Float)
		s.exponents[i] = new(big.Float).SetInt(way).MantExp(mantissa)
		s.mantissas[i], _ = mantissa.Float64()
	}
	return s
}

// multiply multiplies a polynomial by another one, the shorter of the two, in its place:
// from the highest number down, for each needs those below it and itself.
func (a *scaledWays) multiply(b scaledWays) {
	before := len(a.mantissas)
	a.mantissas = append(a.mantissas, make([]float64, len(b.mantissas)-1)...)
	a.exponents = append(a.exponents, make([]int, len(b.mantissas)-1)...)
	for k := len(a.mantissas) - 1; k >= 0; k-- {
		first, last := max(0, k-before+1), min(k, len(b.mantissas)-1)
		top := math.MinInt
		for j := first; j <= last; j++ {
			top = max(top, a.exponents[k-j]+b.exponents[j])
		}
		sum := 0.0
		for j := first; j <= last; j++ {
			sum += a.mantissas[k-j] * b.mantissas[j] * twoTo(a.exponents[k-j]+b.exponents[j]-top)
		}
		mantissa, exponent := math.Frexp(sum)
		a.mantissas[k], a.exponents[k] = mantissa, exponent+top
	}
}

// twoTo is two to the power of a number of at most 0; below what a number can hold it is 0.
func twoTo(n int) float64 {
	if n < -1022 {
		return 0
	}
	return math.Float64frombits(uint64(1023+n) << 52)
}

// twoSided is the share of those no more likely than the observed one, as in [asLikely].
func (a scaledWays) twoSided(observed int) float64 {
	top := math.MinInt
	for _, e := range a.exponents {
		top = max(top, e)
	}
	limit, at := a.mantissas[observed]*(1+1e-7), a.exponents[observed]
	two, total := 0.0, 0.0
	for i, m := range a.mantissas {
		way := m * twoTo(a.exponents[i]-top)
		total += way
		if d := a.exponents[i] - at; d <= 0 && m*twoTo(d) <= limit || d == 1 && 2*m <= limit {
			two += way
		}
	}
	return two / total
}
